using System.Globalization;

namespace KitOrders.Rules.Procedures;

/// <summary>The limits of a reading in its own unit; null is no limit on that side. The limits count as inside.</summary>
public sealed record ReadingLimits(decimal? Low, decimal? High, string? Unit)
{
    public bool Holds(decimal value) => !(value < Low) && !(value > High);

    /// <summary>
    /// Does the outcome agree with the value? A reading as specified has a value inside the limits. Null when so.
    /// Refused: <c>value-missing</c>, <c>value-outside-limits</c>.
    /// </summary>
    public Refusal? Agrees(StepOutcome outcome, decimal? value) => (outcome, value) switch
    {
        (StepOutcome.NotApplicable, _) => null,
        (_, null) => Refusal.Field("value", "value-missing", $"Give the value read{(Unit is null ? "" : $" in {Unit}")}."),
        (StepOutcome.AsSpecified, { } read) when !Holds(read) =>
            Refusal.Field("value", "value-outside-limits", $"{InUnit(read)} is outside the limits, {Span()}. Record it as not as specified."),
        _ => null,
    };

    string Span() => (Low, High) switch
    {
        ({ } low, { } high) => $"{InUnit(low)} to {InUnit(high)}",
        ({ } low, null) => $"at least {InUnit(low)}",
        (_, { } high) => $"at most {InUnit(high)}",
        _ => "none",
    };

    string InUnit(decimal value) => string.Create(CultureInfo.InvariantCulture, $"{value:0.######} {Unit}").TrimEnd();
}
