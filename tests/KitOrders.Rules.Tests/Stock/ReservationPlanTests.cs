using System.Globalization;
using CsCheck;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Rules.Tests.Stock;

public class ReservationPlanTests
{
    static readonly PartId Seal = new(1);
    static readonly DateOnly Today = new(2025, 7, 1);

    static DateOnly Day(string text) => DateOnly.Parse(text, CultureInfo.InvariantCulture);

    static LotBalance Lot(
        int lot, decimal onHand, string? expires = null, string received = "2024-01-01", string? number = null,
        int bin = 1, int walk = 1, decimal reserved = 0, bool quarantined = false) => new(
            Seal, new LotId(lot), number ?? $"L{lot}", new BinId(bin), walk, Day(received), expires is null ? null : Day(expires), quarantined, onHand, reserved);

    static string[] Allocate(decimal needed, params LotBalance[] balances) =>
        [.. ReservationPlan.Allocate(needed, Today, balances).Select(t => string.Create(CultureInfo.InvariantCulture, $"L{t.Lot.Value} bin {t.Bin.Value} x{t.Quantity}"))];

    [Fact]
    public void The_first_to_expire_goes_out_first_and_what_is_past_is_never_offered() => Assert.Equal(
        ["L2 bin 1 x2", "L1 bin 1 x3", "L3 bin 1 x1"],
        Allocate(6, Lot(1, 3, "2026-03-31"), Lot(2, 2, "2025-12-31"), Lot(3, 10), Lot(4, 4, "2025-06-30")));

    [Fact]
    public void The_last_good_day_still_counts_and_quarantine_does_not() => Assert.Equal(
        ["L1 bin 1 x1"], Allocate(5, Lot(1, 1, "2025-07-01"), Lot(2, 1, "2025-06-30"), Lot(3, 4, quarantined: true)));

    [Fact]
    public void Of_equal_expiry_the_older_receipt_goes_first() => Assert.Equal(
        ["L2 bin 1 x1"], Allocate(1, Lot(1, 1, "2026-01-01", "2024-05-02"), Lot(2, 9, "2026-01-01", "2024-05-01")));

    [Fact]
    public void Of_equal_receipt_the_smallest_free_quantity_goes_first_not_the_smallest_on_hand() => Assert.Equal(
        ["L2 bin 1 x2", "L1 bin 1 x1"], Allocate(3, Lot(1, 3), Lot(2, 9, reserved: 7)));

    [Fact]
    public void Of_equal_quantity_the_lot_number_decides_ordinally() => Assert.Equal(
        ["L1 bin 1 x1", "L3 bin 1 x1", "L2 bin 1 x1"], Allocate(3, Lot(1, 1, number: "10"), Lot(2, 1, number: "a9"), Lot(3, 1, number: "Z9")));

    [Fact]
    public void Of_one_lot_the_bins_are_emptied_in_walking_order() => Assert.Equal(
        ["L1 bin 7 x1", "L1 bin 3 x1"], Allocate(2, Lot(1, 1, bin: 3, walk: 20), Lot(1, 1, bin: 7, walk: 10)));

    [Fact]
    public void A_line_takes_what_is_free_even_if_it_needs_more() => Assert.Equal(["L1 bin 1 x1.5"], Allocate(4, Lot(1, 2, reserved: 0.5m)));

    [Fact]
    public void Waiting_lines_are_served_in_order_each_with_lots_usable_on_its_own_fit_date()
    {
        var holds = ReservationPlan.CoverShortages(
            [
                new Wanting(new DemandLineId(1), Seal, 2, Day("2026-06-01")),
                new Wanting(new DemandLineId(2), Seal, 4, Day("2025-08-01")),
                new Wanting(new DemandLineId(3), new PartId(2), 1, Day("2025-08-01")),
                new Wanting(new DemandLineId(4), Seal, 1, Day("2025-08-01")),
            ],
            [Lot(1, 3, "2025-12-31"), Lot(2, 3, "2026-12-31")]);

        Assert.Equal(
            [(1, 2, 2m), (2, 1, 3m), (2, 2, 1m)],
            holds.Select(h => (h.Line.Value, h.Take.Lot.Value, h.Take.Quantity)));
    }

    static readonly Gen<LotBalance> AnyLot =
        from part in Gen.Int[1, 2]
        from lot in Gen.Int[1, 6]
        from expires in Gen.Int[0, 4]
        from received in Gen.Int[0, 2]
        from onHand in Gen.Int[0, 6]
        from reserved in Gen.Int[0, onHand]
        from quarantined in Gen.Int[0, 5]
        select new LotBalance(
            new PartId(part), new LotId(lot), $"L{lot}", new BinId(lot), lot, Today.AddDays(-received),
            expires == 4 ? null : Today.AddDays(expires * 10), quarantined == 0, onHand, reserved);

    static readonly Gen<(int Part, int Quantity, int Fit)> AnyLine = Gen.Select(Gen.Int[1, 3], Gen.Int[1, 8], Gen.Int[0, 30]);

    [Fact]
    public void Covering_many_lines_at_once_equals_covering_them_one_after_the_other() => Gen.Select(AnyLot.List[0, 12], AnyLine.List[0, 8]).Sample((drawn, wanted) =>
    {
        var now = drawn.DistinctBy(l => (l.Part, l.Lot)).ToList();
        var lines = wanted.Select((w, i) => new Wanting(new DemandLineId(i), new PartId(w.Part), w.Quantity, Today.AddDays(w.Fit))).ToList();
        var together = ReservationPlan.CoverShortages(lines, now);

        var oneByOne = new List<Hold>();
        foreach (var line in lines)
        {
            var takes = ReservationPlan.Allocate(line.Quantity, line.FitOn, now.Where(l => l.Part == line.Part));
            oneByOne.AddRange(takes.Select(t => new Hold(line.Line, t)));
            now = [.. now.Select(l => l with { Reserved = l.Reserved + takes.Where(t => l.Part == line.Part && t.Lot == l.Lot).Sum(t => t.Quantity) })];
        }

        Assert.Equal(oneByOne, together);
        Assert.All(now, l => Assert.True(l.Reserved <= l.OnHand));
        Assert.All(together, h => Assert.True(h.Take.Quantity > 0));
    });
}
