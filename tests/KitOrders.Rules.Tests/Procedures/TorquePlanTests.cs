using KitOrders.Rules.Procedures;
using Xunit;

namespace KitOrders.Rules.Tests.Procedures;

public class TorquePlanTests
{
    static readonly TorqueJoint Manifold = new(8, BoltSequence.Star, 20m, 10m, null, null, 3);

    [Theory]
    [InlineData(BoltSequence.Star)]
    [InlineData(BoltSequence.Alternate)]
    [InlineData(BoltSequence.Round)]
    public void Every_position_is_tightened_once(BoltSequence sequence)
    {
        foreach (var n in Enumerable.Range(1, 40))
        {
            Assert.Equal(Enumerable.Range(0, n), BoltPattern.Positions(n, sequence).Order());
        }
    }

    [Theory]
    [InlineData(BoltSequence.Star)]
    [InlineData(BoltSequence.Alternate)]
    public void Each_odd_bolt_and_the_next_lie_opposite(BoltSequence sequence)
    {
        foreach (var n in Enumerable.Range(1, 20).Select(k => 2 * k))
        {
            var positions = BoltPattern.Positions(n, sequence);
            Assert.All(Enumerable.Range(0, n / 2), k => Assert.Equal(n / 2, Math.Abs(positions[2 * k + 1] - positions[2 * k])));
        }
    }

    [Fact]
    public void A_star_of_a_count_divisible_by_four_begins_with_the_quarter_points()
    {
        foreach (var n in Enumerable.Range(1, 10).Select(k => 4 * k))
        {
            Assert.Equal([0, n / 4, n / 2, 3 * n / 4], BoltPattern.Positions(n, BoltSequence.Star).Take(4).Order());
        }
    }

    [Theory]
    [InlineData(4, "0 2 1 3")]
    [InlineData(5, "0 2 4 1 3")]
    [InlineData(6, "0 3 1 4 2 5")]
    [InlineData(8, "0 4 2 6 1 5 3 7")]
    [InlineData(16, "0 8 4 12 2 10 6 14 1 9 5 13 3 11 7 15")]
    public void A_star_jumps_across_and_spreads(int bolts, string positions) =>
        Assert.Equal(positions, string.Join(' ', BoltPattern.Positions(bolts, BoltSequence.Star)));

    [Fact]
    public void Odd_star_and_alternate_joints_never_go_from_a_bolt_to_its_neighbour_within_a_pair()
    {
        foreach (var n in new[] { 5, 7, 9, 11 })
        {
            foreach (var sequence in new[] { BoltSequence.Star, BoltSequence.Alternate })
            {
                var positions = BoltPattern.Positions(n, sequence);
                Assert.All(Enumerable.Range(0, n / 2), k => Assert.InRange(Math.Abs(positions[2 * k + 1] - positions[2 * k]), n / 2, n / 2 + 1));
            }
        }
    }

    [Fact]
    public void A_bolt_is_drawn_clockwise_from_the_top()
    {
        Assert.Equal(0m, BoltPattern.Angle(1, 8, BoltSequence.Star));
        Assert.Equal(180m, BoltPattern.Angle(2, 8, BoltSequence.Star));
        Assert.Equal(90m, BoltPattern.Angle(3, 8, BoltSequence.Star));
    }

    // Up to 30 %, up to 60 %, 100 %, then repeat the 100 % pass (hswhite.com, flange bolt torque sequence).
    [Fact]
    public void Three_passes_rise_as_flange_makers_print_it_and_further_ones_repeat_the_last()
    {
        Assert.Equal([30m, 60m, 100m], TorquePlan.Percents(3));
        Assert.Equal([30m, 60m, 100m, 100m], TorquePlan.Percents(4));
    }

    // Common practice, no source.
    [Fact]
    public void Two_passes_are_half_and_full() => Assert.Equal([50m, 100m], TorquePlan.Percents(2));

    [Fact]
    public void A_plan_names_the_target_of_each_pass_and_binds_the_limits_on_the_last()
    {
        var plan = TorquePlan.For(Manifold).Value;

        Assert.Equal([6m, 12m, 20m], plan.Passes.Select(p => p.TargetNm));
        Assert.Equal([null, null, 18m], plan.Passes.Select(p => p.LowNm));
        Assert.Equal([22m, 22m, 22m], plan.Passes.Select(p => p.HighNm));
        Assert.Equal([1, 2, 3, 4, 5, 6, 7, 8], plan.Bolts.Select(b => b.Bolt));
        Assert.Equal(180m, plan.Bolts[1].AngleDegrees);
    }

    [Fact]
    public void Stated_limits_go_before_the_tolerance() =>
        Assert.Equal((19m, 22m), TorquePlan.Limits(Manifold with { LowNm = 19m }));

    [Fact]
    public void Two_or_more_bolts_get_two_passes_where_none_are_stated() =>
        Assert.Equal(2, TorquePlan.For(Manifold with { Passes = null }).Value.Passes.Count);

    [Fact]
    public void A_sensor_has_one_pass_with_an_upper_limit()
    {
        var sensor = new TorqueJoint(1, null, 4m, null, null, 5m, null, Sensor: true);

        var pass = Assert.Single(TorquePlan.For(sensor).Value.Passes);
        Assert.Equal((4m, 5m), (pass.TargetNm, pass.HighNm));
        Assert.Equal("sensor-high-limit", TorquePlan.For(sensor with { HighNm = null }).Refusal?.Code);
        Assert.Equal("sensor-one-pass", TorquePlan.For(sensor with { Passes = 2 }).Refusal?.Code);
    }

    public static TheoryData<TorqueJoint, string> Faulty => new()
    {
        { Manifold with { Passes = 1 }, "joint-passes" },
        { Manifold with { Passes = 0 }, "joint-passes" },
        { Manifold with { Sequence = BoltSequence.Round }, "joint-sequence" },
        { Manifold with { Sequence = null }, "joint-sequence" },
        { Manifold with { Bolts = 0 }, "joint-bolts" },
        { Manifold with { TargetNm = 0 }, "joint-target" },
        { Manifold with { LowNm = 21 }, "joint-limits" },
        { Manifold with { HighNm = 19 }, "joint-limits" },
        { Manifold with { TolerancePercent = -1 }, "joint-limits" },
    };

    [Theory]
    [MemberData(nameof(Faulty))]
    public void A_joint_that_is_not_fully_or_rightly_described_is_refused(TorqueJoint joint, string code) =>
        Assert.Equal(code, TorquePlan.For(joint).Refusal?.Code);
}
