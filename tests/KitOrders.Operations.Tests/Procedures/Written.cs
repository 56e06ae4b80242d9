using KitOrders.Rules.Procedures;

namespace KitOrders.Operations.Tests.Procedures;

/// <summary>Steps that may be released.</summary>
static class Written
{
    public static readonly StepDraft Torque = new()
    {
        PartOf = PartOf.Main, Kind = StepKind.Torque, Text = "Tighten the cover", Joint = "cover", Bolts = 4, Sequence = BoltSequence.Star, Target = 9.4m, Unit = "Nm", TolerancePct = 5, Passes = 2,
    };

    public static IReadOnlyList<StepDraft> Out { get; } =
        [.. StepDraft.Begun.Select(s => s.PartOf == PartOf.Main ? Torque : s with { Text = $"{s.Text}done at this pump" })];

    /// <summary>With a caution that says all of it before the cover is tightened.</summary>
    public static IReadOnlyList<StepDraft> WithWarning { get; } =
        [.. Out.Select(s => s == Torque ? s with { SignalWord = SignalWord.Warning, Hazard = "Stored air.", Consequence = "It can break a hand.", Avoid = "Keep it locked." } : s)];
}
