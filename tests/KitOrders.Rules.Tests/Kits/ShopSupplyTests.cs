using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class ShopSupplyTests
{
    // NPT 1/4: outside diameter 0.540 in = 13.716 mm (ASME B1.20.1 basic values, as printed at nusil.avantorsciences.com).
    static KitBench Bench(Unit unit, decimal? handedOutIn = null)
    {
        var bench = new KitBench();
        return bench
            .Part("npt", p => p with { Thread = new FittingThread(0.540m * 25.4m, Taper: true) })
            .Part("bspp", p => p with { Thread = new FittingThread(13.157m, Taper: false) })
            .Part("tape", p => p with { Unit = unit, HandedOutIn = handedOutIn })
            .Kit("K", true, bench.Box("npt", 2), bench.Box("bspp", 1), bench.Tape("tape", 3, 1, 2));
    }

    [Theory]
    [InlineData(Unit.Mm, 1, 258.5406)] // 2 fittings × 3 wraps × π × 13.716 mm, rounded up at the fourth place; the parallel thread takes none
    [InlineData(Unit.M, 1, 0.2586)]
    [InlineData(Unit.M, 10, 2.5855)]
    public void Tape_is_wraps_times_circumference_for_each_taper_thread(Unit unit, int kits, decimal tape) =>
        Assert.Equal(tape, Bench(unit).Explode(("K", kits)).Lines.Single(l => l.Source == LineSource.ShopSupply).Required);

    [Fact]
    public void A_fitting_with_a_parallel_thread_alone_takes_no_tape()
    {
        var bench = Bench(Unit.M);
        bench.Kit("K", true, bench.Box("bspp", 4), bench.Tape("tape", 3, 1));

        Assert.DoesNotContain(bench.Explode(("K", 1)).Lines, l => l.Source == LineSource.ShopSupply);
    }

    [Theory]
    [InlineData(Unit.M, 0.5, 2, 1.0)] // 0.517 m, not 2 × 0.5 m rounded line by line
    [InlineData(Unit.M, 0.25, 2, 0.75)]
    [InlineData(Unit.M, 12, 100, 36)]
    public void The_sum_is_rounded_up_once_per_order_to_what_is_handed_out(Unit unit, double multiple, int kits, double handedOut) =>
        Assert.Equal((decimal)handedOut, Bench(unit, (decimal)multiple).Explode(("K", kits)).Lines.Single(l => l.Source == LineSource.ShopSupply).Required);

    [Theory]
    [InlineData(Unit.Roll, 1)]
    [InlineData(Unit.G, 0.6)]
    public void Without_a_multiple_what_is_counted_goes_out_whole_and_what_is_measured_as_it_is(Unit unit, double required)
    {
        var bench = new KitBench();
        bench.Part("x", p => p with { Unit = unit }).Kit("K1", true, bench.Supply("x", 0.2m)).Kit("K2", true, bench.Supply("x", 0.4m));

        Assert.Equal((decimal)required, bench.Explode(("K1", 1), ("K2", 1)).Lines.Single(l => l.Source == LineSource.ShopSupply).Required);
    }

    [Fact]
    public void Tape_that_cannot_be_metered_is_refused_with_what_to_do()
    {
        var kept = Bench(Unit.Roll);
        Assert.Equal("wraps-need-length", Explosion.Explode(kept.Facts(("K", 1))).Refusal?.Code);

        var unknown = Bench(Unit.M).Part("npt", p => p with { Thread = null });
        var refusal = Explosion.Explode(unknown.Facts(("K", 1))).Refusal;
        Assert.Equal("thread-not-recorded", refusal?.Code);
        Assert.Contains("K line 3 wraps npt", refusal!.Sentence, StringComparison.Ordinal);

        var nothing = Bench(Unit.M);
        nothing.Kit("K", true, nothing.Box("npt", 2), nothing.Tape("tape", 3, 1, 7));
        Assert.Equal("wraps-serve-nothing", Explosion.Explode(nothing.Facts(("K", 1))).Refusal?.Code);
    }
}
