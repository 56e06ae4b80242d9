namespace KitOrders.Rules.Procedures;

/// <summary>
/// What a step does about hazardous energy, in the order in which it must be done: before work by 29 CFR 1910.147(d),
/// before the pump is given back by 1910.147(e).
/// </summary>
public enum EnergyPoint
{
    /// <summary>Fluid hazard and protective equipment known.</summary>
    [WrittenAs("Hazards")] HazardsKnown,
    [WrittenAs("Stop")] Stopped,

    /// <summary>Air, electricity and both fluid sides isolated, locked and tagged.</summary>
    [WrittenAs("Isolate")] Isolated,

    /// <summary>Stored air and fluid pressure relieved and drained.</summary>
    [WrittenAs("Relieve")] Relieved,

    /// <summary>Zero energy verified, and again where it can build up.</summary>
    [WrittenAs("Verify")] Verified,

    /// <summary>Area clear, guards and parts complete.</summary>
    [WrittenAs("Clear")] AreaClear,

    /// <summary>Each lock removed by the person who set it.</summary>
    [WrittenAs("Unlock")] LocksRemoved,

    /// <summary>People told before start.</summary>
    [WrittenAs("Tell")] PeopleTold,
}

/// <summary>
/// How a step says which energy point it is: its text begins with the point's lead word and a colon, in a preliminary step
/// <c>Hazards:</c>, <c>Stop:</c>, <c>Isolate:</c>, <c>Relieve:</c>, <c>Verify:</c>, in a close-up step <c>Clear:</c>, <c>Unlock:</c>,
/// <c>Tell:</c>. The word is what the technician reads, and nothing is guessed from the rest of the text: a sentence that
/// merely mentions isolation proves nothing, so a missed step can only ever be a warning too many.
/// </summary>
public static class EnergyPoints
{
    public static readonly IReadOnlyList<EnergyPoint> BeforeWork =
        [EnergyPoint.HazardsKnown, EnergyPoint.Stopped, EnergyPoint.Isolated, EnergyPoint.Relieved, EnergyPoint.Verified];

    public static readonly IReadOnlyList<EnergyPoint> BeforeStart = [EnergyPoint.AreaClear, EnergyPoint.LocksRemoved, EnergyPoint.PeopleTold];

    public static IReadOnlyList<EnergyPoint> Of(PartOf part) => part switch
    {
        PartOf.Preliminary => BeforeWork,
        PartOf.CloseUp => BeforeStart,
        _ => [],
    };

    /// <summary>The point a step is, or null.</summary>
    public static EnergyPoint? Read(PartOf part, string text)
    {
        var colon = text.IndexOf(':', StringComparison.Ordinal);
        return colon > 0 && Word.TryRead<EnergyPoint>(text[..colon], out var point) && Of(part).Contains(point) ? point : null;
    }

    /// <summary>What the point asks for, for a sentence.</summary>
    public static string Meaning(EnergyPoint point) => point switch
    {
        EnergyPoint.HazardsKnown => "fluid hazard and protective equipment known",
        EnergyPoint.Stopped => "pump stopped",
        EnergyPoint.Isolated => "air, electricity and both fluid sides isolated, locked and tagged",
        EnergyPoint.Relieved => "stored air and fluid pressure relieved and drained",
        EnergyPoint.Verified => "zero energy verified",
        EnergyPoint.AreaClear => "area clear, guards and parts complete",
        EnergyPoint.LocksRemoved => "each lock removed by the person who set it",
        _ => "people told before start",
    };
}
