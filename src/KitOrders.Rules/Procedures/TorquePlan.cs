namespace KitOrders.Rules.Procedures;

/// <summary>A joint to be tightened, in N·m. Null is not stated.</summary>
/// <param name="TolerancePercent">Sets the limits around the target where low and high are not stated themselves.</param>
/// <param name="Sensor">A sensor screwed into the pump: one pass, with an upper limit that must not be passed.</param>
public sealed record TorqueJoint(
    int Bolts,
    BoltSequence? Sequence,
    decimal TargetNm,
    decimal? TolerancePercent,
    decimal? LowNm,
    decimal? HighNm,
    int? Passes,
    bool Sensor = false);

/// <summary>What one pass aims at. Limits bind on the last pass; on earlier passes only the high limit of the joint does.</summary>
public sealed record TorquePass(int Pass, decimal Percent, decimal TargetNm, decimal? LowNm, decimal? HighNm);

public sealed record PlacedBolt(int Bolt, int Position, decimal AngleDegrees);

/// <summary>Passes and bolts of a joint, bolts in tightening order.</summary>
public sealed record TorquePlan(IReadOnlyList<TorquePass> Passes, IReadOnlyList<PlacedBolt> Bolts)
{
    /// <summary>
    /// Plans the joint. Two or more bolts get at least two passes (two where none are stated), alternate or star.
    /// Refused: <c>joint-bolts</c>, <c>joint-target</c>, <c>joint-limits</c>, <c>joint-passes</c>, <c>joint-sequence</c>,
    /// <c>sensor-one-pass</c>, <c>sensor-high-limit</c>.
    /// </summary>
    public static Outcome<TorquePlan> For(TorqueJoint joint)
    {
        var (low, high) = Limits(joint);
        if (Fault(joint, low, high) is { } fault)
        {
            return fault;
        }

        var passes = joint.Passes ?? (joint.Bolts >= 2 ? 2 : 1);
        var percents = Percents(passes);
        var sequence = joint.Sequence ?? BoltSequence.Round;
        return new TorquePlan(
            [.. percents.Select((percent, i) => new TorquePass(i + 1, percent, joint.TargetNm * percent / 100m, percent == 100m ? low : null, high))],
            [.. BoltPattern.Positions(joint.Bolts, sequence).Select((position, i) => new PlacedBolt(i + 1, position, 360m * position / joint.Bolts))]);
    }

    /// <summary>Low and high limit, N·m: as stated, else target ± tolerance; null where neither is given.</summary>
    public static (decimal? Low, decimal? High) Limits(TorqueJoint joint) =>
        (joint.LowNm ?? joint.TargetNm * (1m - joint.TolerancePercent / 100m), joint.HighNm ?? joint.TargetNm * (1m + joint.TolerancePercent / 100m));

    /// <summary>
    /// Percent of the target by pass, the last always 100. Three passes are 30, 60, 100 and every further pass repeats 100, as
    /// flange makers print it (hswhite.com, flange bolt torque sequence: up to 30 %, up to 60 %, 100 %, then repeat). Two
    /// passes are 50, 100: common practice, no source.
    /// </summary>
    public static IReadOnlyList<decimal> Percents(int passes) => passes switch
    {
        1 => [100m],
        2 => [50m, 100m],
        _ => [30m, 60m, .. Enumerable.Repeat(100m, passes - 2)],
    };

    static Refusal? Fault(TorqueJoint joint, decimal? low, decimal? high) => joint switch
    {
        { Bolts: < 1 } => Refusal.Field("bolts", "joint-bolts", "A joint has at least one bolt. Give the number of bolts."),
        { TargetNm: <= 0 } => Refusal.Field("target", "joint-target", "The target torque must be above zero."),
        { TolerancePercent: < 0 or >= 100 } => Refusal.Field("tolerancePct", "joint-limits", "The tolerance must be from 0 to below 100 percent."),
        { Passes: < 1 } => Refusal.Field("passes", "joint-passes", "A joint has at least one pass."),
        _ when low > joint.TargetNm || high < joint.TargetNm => Refusal.Field("target", "joint-limits", "The target must lie between the low and the high limit."),
        { Sensor: true, Passes: > 1 } or { Sensor: true, Bolts: > 1 } => Refusal.Field("passes", "sensor-one-pass", "A sensor is tightened alone and in one pass. Give one bolt and one pass."),
        { Sensor: true } when high is null => Refusal.Field("high", "sensor-high-limit", "A sensor needs an upper limit. Give high, or a tolerance."),
        { Sensor: true } => null,
        { Bolts: >= 2, Passes: 1 } => Refusal.Field("passes", "joint-passes", "A joint of two or more bolts is tightened in at least two passes."),
        { Bolts: >= 2, Sequence: null or BoltSequence.Round } => Refusal.Field("sequence", "joint-sequence", "A joint of two or more bolts is tightened alternately or in a star. Give sequence alternate or star."),
        _ => null,
    };
}
