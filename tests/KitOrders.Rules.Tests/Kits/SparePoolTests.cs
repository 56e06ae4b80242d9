using CsCheck;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using MathNet.Numerics.Distributions;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class SparePoolTests
{
    const decimal Risk = 0.05m;

    static readonly PartFact part = new(new PartId(1), "Q", Unit.Each);

    static readonly Gen<SpareNeed> Need =
        from forAll in Gen.Int[0, 3]
        from byRate in Gen.Int[0, 8]
        from rate in Gen.Int[0, 100]
        select new SpareNeed(part.Part, forAll, byRate, rate / 100m, []);

    static SpareShare Share(SpareNeed need, decimal risk = Risk) =>
        need.Hold(part, risk) is var (alone, rate) ? new SpareShare(need.ForAll, need.ByRate, rate, alone) : throw new InvalidOperationException();

    static SpareShare ByRate(decimal n, decimal rate) => Share(new SpareNeed(part.Part, 0, n, rate, []));

    [Fact]
    public void Twenty_orders_of_two_kept_parts_hold_seven_together_and_twenty_one_by_one() =>
        Assert.Equal(new PoolSize(7, 40, 0.10m, 20), SparePool.Size([.. Enumerable.Repeat(ByRate(2, 0.10m), 20)], Risk));

    [Fact]
    public void Pooling_never_holds_more_spares_than_the_orders_alone() =>
        Gen.Select(Need.List[0, 30], Gen.Int[0, 100]).Sample((needs, percent) =>
        {
            var risk = percent / 100m;
            var shares = needs.ConvertAll(n => Share(n, risk));
            var pool = SparePool.Size(shares, risk);
            Assert.InRange(pool.Quantity, 0, shares.Sum(s => s.Alone));
            Assert.Equal(shares.Sum(s => s.Alone), pool.Alone);
        });

    [Fact]
    public void What_is_pooled_keeps_the_risk_or_is_all_that_the_orders_alone_would_hold()
    {
        var kept = 0;
        Gen.Select(Gen.Int[1, 30], Gen.Int[1, 6], Gen.Int[1, 60]).Sample((orders, each, percent) =>
        {
            var rate = percent / 100m;
            var pool = SparePool.Size([.. Enumerable.Repeat(ByRate(each, rate), orders)], Risk);
            var (n, k) = (orders * each, (int)pool.Quantity);
            // At k = n nothing is left above; the library has no value there.
            var keepsTheRisk = k == n || 1 - Binomial.CDF((double)rate, n, k) <= (double)Risk + 1e-9;
            Assert.True(keepsTheRisk || pool.Quantity == pool.Alone, $"{orders} orders of {each} at {rate}: {k} of {pool.Alone}");
            if (keepsTheRisk)
                Interlocked.Increment(ref kept);
        });
        Assert.True(kept > 0);
    }

    [Fact]
    public void Orders_that_hold_none_alone_hold_none_together() =>
        Assert.Equal(new PoolSize(0, 20, 0.04m, 0), SparePool.Size([.. Enumerable.Repeat(ByRate(1, 0.04m), 20)], Risk));

    [Fact]
    public void Orders_opened_at_different_rates_weigh_by_what_they_keep()
    {
        var pool = SparePool.Size([ByRate(30, 0.10m), ByRate(10, 0.30m)], Risk);
        Assert.Equal(0.15m, pool.Rate);
        Assert.Equal(SpareCount.Hold(40, 0.15m, Risk), pool.Quantity);
    }

    [Fact]
    public void A_part_with_a_spare_for_every_one_is_not_made_fewer_by_pooling() =>
        Assert.Equal(new PoolSize(6, 6, 0, 6), SparePool.Size([.. Enumerable.Repeat(Share(new SpareNeed(part.Part, 2, 0, 0, [])), 3)], Risk));

    [Theory]
    [InlineData(0, 0, 7, 0, 0, false, 7)] // the first orders open
    [InlineData(7, 0, 6, 0, 0, true, 6)] // one is cancelled
    [InlineData(7, 7, 6, 0, 0, true, 7)] // what is picked is never asked for less
    [InlineData(7, 1, 7, 0, 1, true, 7)] // an order that used one has ended: no more than was enough for all
    [InlineData(4, 1, 0, 0, 1, true, 1)] // after the last order only what was used is left
    [InlineData(2, 2, 2, 3, 0, false, 3)] // more is rejected than was counted on
    [InlineData(2, 1, 2, 2, 1, false, 3)] // and what ended orders used is gone
    public void The_line_follows_its_orders(decimal before, decimal picked, decimal size, decimal rejected, decimal used, bool ending, decimal required) =>
        Assert.Equal(required, SparePool.Required(before, picked, size, rejected, used, ending));
}
