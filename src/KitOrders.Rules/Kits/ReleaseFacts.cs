using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.Stock;

namespace KitOrders.Rules.Kits;

/// <summary>What the release of a kit revision needs to know about a part.</summary>
public sealed record PartAtRelease(PartFact Fact, string Description)
{
    /// <summary>Null: not recorded, or not a thread that can be read.</summary>
    public PipeThread? Thread { get; init; }

    public IReadOnlyList<Elastomer> Elastomers { get; init; } = [];

    /// <summary>A lot of it was received with a cure date, as only rubber has one.</summary>
    public bool HasCureDates { get; init; }

    /// <summary>It was received before, is incoming, has a supplier, a lead time or a recorded alternate that has.</summary>
    public bool CanBeHad { get; init; }

    /// <summary>It has revisions of its own, whether or not one is released.</summary>
    public bool HasRevisions { get; init; }

    public int? LeadTimeDays { get; init; }

    /// <summary>The number of the part that has taken its place; null when none has.</summary>
    public string? SupersededBy { get; init; }
}

/// <param name="Ports">Null: not recorded, or not a list that can be read.</param>
public sealed record ModelAtRelease(PumpModelId Id, string Code, Control Control, IReadOnlyList<Port>? Ports);

/// <summary>Everything that the release of a kit revision is judged by.</summary>
/// <param name="Kit">The kit's own number.</param>
/// <param name="Parts">The kit and every part in its tree.</param>
/// <param name="Structures">The released revisions of every assembly in the tree; the kit's own is that of the revision.</param>
/// <param name="Models">The models that its fits name.</param>
/// <param name="KnownKits">Which of the kits that its fits require or exclude are in the catalogue.</param>
public sealed record ReleaseFacts(
    string Kit,
    KitRevision Revision,
    IReadOnlyDictionary<PartId, PartAtRelease> Parts,
    IReadOnlyDictionary<PartId, KitStructure> Structures,
    IReadOnlyDictionary<PumpModelId, ModelAtRelease> Models,
    IReadOnlySet<string> KnownKits);

public enum ReleaseTopic
{
    /// <summary>Quantities, units, numbering, wraps.</summary>
    Lines,
    Circle,
    Parts,
    Materials,
    Spares,
    Threads,
    Fits,
}

/// <param name="Against">What stands against the release. Passed when empty.</param>
/// <param name="Advice">What a planner should look at and may leave.</param>
/// <param name="Looked">What was looked at, in words.</param>
public sealed record ReleaseCheck(ReleaseTopic Topic, IReadOnlyList<ReleaseFinding> Against, IReadOnlyList<ReleaseFinding> Advice, string Looked)
{
    public bool Passed => Against.Count == 0;
}
