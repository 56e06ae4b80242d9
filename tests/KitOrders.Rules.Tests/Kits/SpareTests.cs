using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using MathNet.Numerics.Distributions;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class SpareTests
{
    [Theory]
    [InlineData(0, 0.10, 0)]
    [InlineData(1, 0.05, 0)] // exactly the risk is accepted
    [InlineData(1, 0.06, 1)]
    [InlineData(2, 0.10, 1)]
    [InlineData(40, 0.10, 7)]
    [InlineData(40, 0, 0)]
    [InlineData(40, 1, 40)]
    public void Spares_by_rate_are_the_fewest_that_keep_the_risk(int n, double rate, int spares) =>
        Assert.Equal(spares, SpareCount.Hold(n, (decimal)rate, 0.05m));

    [Theory]
    [InlineData(0, 2)]
    [InlineData(1, 0)]
    public void Without_any_risk_all_are_held_and_with_every_risk_none(int risk, int spares) =>
        Assert.Equal(spares, SpareCount.Hold(2, 0.1m, risk));

    [Fact]
    public void The_count_agrees_with_a_library_binomial_for_many_rates_and_risks()
    {
        var compared = 0;
        foreach (var n in new[] { 1, 2, 3, 7, 20, 40, 160, 1_000, 20_000 })
        {
            foreach (var rate in new[] { 0.001, 0.02, 0.0999, 0.1003, 0.31, 0.501, 0.97 })
            {
                foreach (var risk in new[] { 0.2003, 0.0501, 0.01003, 0.000107 })
                {
                    var k = (int)SpareCount.Hold(n, (decimal)rate, (decimal)risk);
                    // At k = n nothing is left above; the library has no value there.
                    Assert.True(k == n || 1 - Binomial.CDF(rate, n, k) <= risk, $"n {n}, rate {rate}, risk {risk}: {k} are too few");
                    Assert.True(k == 0 || 1 - Binomial.CDF(rate, n, k - 1) > risk, $"n {n}, rate {rate}, risk {risk}: {k} are too many");
                    compared++;
                }
            }
        }

        Assert.Equal(9 * 7 * 4, compared);
    }

    [Theory]
    [InlineData(0, 0, 0.10, 0.10)]
    [InlineData(5, 20, 0.10, 0.175)]
    [InlineData(0, 20, 0.10, 0.05)]
    [InlineData(80, 80, 0, 0.8)]
    public void The_set_rate_weighs_as_much_as_twenty_decisions(int rejected, int decisions, double set, double rate) =>
        Assert.Equal((decimal)rate, SpareCount.Rate(rejected, decisions, (decimal)set));

    [Theory]
    [InlineData(SparePolicy.None, 0)]
    [InlineData(SparePolicy.All, 2)]
    [InlineData(SparePolicy.ByRate, 1)]
    public void A_kept_part_demands_nothing_but_its_spares(SparePolicy policy, int spares)
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Kept("Q", 2, policy, 0.10m));

        var plan = bench.Explode(("K", 1));

        Assert.Equal(spares, plan.Lines.Where(l => l.Part == bench["Q"]).Sum(l => l.Required));
        Assert.Equal([new Origin(bench["K"], 1, 2)], Assert.Single(plan.Spares).Origins);
    }

    [Fact]
    public void Spares_are_counted_over_all_kits_of_the_order_and_with_what_the_floor_has_decided()
    {
        var bench = new KitBench();
        bench.Kit("K1", true, bench.Kept("Q", 2, SparePolicy.ByRate, 0.10m)).Kit("K2", true, bench.Kept("Q", 1, SparePolicy.ByRate, 0.10m));

        Assert.Equal(7, bench.Explode(("K1", 15), ("K2", 10)).Lines.Single(l => l.Spare).Gross);

        bench.Part("Q", p => p with { Rejected = 0, Decisions = 180 });
        Assert.Equal((int)SpareCount.Hold(40, 0.01m, 0.05m), bench.Explode(("K1", 15), ("K2", 10)).Lines.Single(l => l.Spare).Gross);
        Assert.Equal(2, SpareCount.Hold(40, 0.01m, 0.05m));
    }

    [Fact]
    public void A_campaign_of_twenty_orders_holds_seven_where_the_orders_alone_hold_twenty()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Kept("Q", 2, SparePolicy.ByRate, 0.10m));
        Assert.Equal(20, Enumerable.Range(0, 20).Sum(_ => bench.Explode(("K", 1)).Lines.Single(l => l.Spare).Required));

        var facts = bench.Facts(("K", 1)) with { SparesHeldByCampaign = true };
        var plans = Enumerable.Range(0, 20).Select(_ => Explosion.Explode(facts).Value).ToList();

        Assert.All(plans, p => Assert.DoesNotContain(p.Lines, l => l.Spare));
        var pooled = Assert.Single(SpareNeed.Pool(plans.SelectMany(p => p.Spares)));
        Assert.Equal((7m, 0.10m), pooled.Hold(facts.Parts[bench["Q"]], facts.SpareRisk));
        Assert.Equal([new Origin(bench["K"], 1, 40)], pooled.Origins);
    }

    [Fact]
    public void Spares_by_rate_without_a_rate_are_refused()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Kept("Q", 2, SparePolicy.ByRate));

        Assert.Equal("reject-rate-missing", Explosion.Explode(bench.Facts(("K", 1))).Refusal?.Code);
    }

    [Fact]
    public void A_spare_that_is_an_assembly_is_netted_like_any_item()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Kept("V", 2, SparePolicy.All)).Kit("V", true, bench.Box("B", 1)).Free("V", 1).Free("B", 9);

        Assert.Equal(
            ["K inTheBox 1=0+1 short 0", "V carriedOver 2=1+1 short 0", "B inTheBox 1=1+0 short 0"],
            bench.Read(bench.Explode(("K", 1))));
    }
}
