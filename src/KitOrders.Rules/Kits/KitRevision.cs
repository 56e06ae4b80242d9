using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Kits;

/// <summary>A numbered version of a kit's bill of materials. Frozen once released.</summary>
public sealed class KitRevision
{
    public KitRevisionId Id { get; private set; }

    /// <summary>The kit or assembly as a catalogue item.</summary>
    public required PartId PartId { get; init; }

    public required int Number { get; init; }

    public RevisionState State { get; private set; } = RevisionState.Draft;

    public DateOnly? ReleasedOn { get; private set; }

    /// <summary>Who released it in the editor; null for a draft and for what was imported.</summary>
    public PersonId? ReleasedBy { get; private set; }

    /// <summary>Counts the savings of a draft, so that nobody writes over what they have not seen.</summary>
    public long Version { get; private set; } = 1;

    /// <summary>Whether it may be built from its in-the-box lines when no boxed stock is free.</summary>
    public bool Buildable { get; set; }

    public List<KitLine> Lines { get; } = [];

    public List<KitFit> Fits { get; } = [];

    public void Release(DateOnly on, PersonId? by = null)
    {
        State = RevisionState.Released;
        ReleasedOn = on;
        ReleasedBy = by;
        Touch();
    }

    public void Touch() => Version++;

    /// <summary>A newer revision has been released.</summary>
    public void Supersede() => State = RevisionState.Superseded;
}

/// <summary>One row of a kit revision.</summary>
public sealed class KitLine
{
    public int Id { get; private set; }

    public KitRevisionId KitRevisionId { get; init; }

    public required int Number { get; init; }

    public required PartId PartId { get; init; }

    /// <summary>Per kit, in the part's unit; above zero.</summary>
    public required decimal Quantity { get; init; }

    public required LineSource Source { get; init; }

    public SparePolicy SparePolicy { get; init; }

    /// <summary>Set reject rate, 0 to 1; needed by policy byRate.</summary>
    public decimal? RejectRate { get; init; }

    /// <summary>Wraps of tape for each taper-thread fitting it serves.</summary>
    public decimal? Wraps { get; init; }

    /// <summary>Numbers of the lines whose fittings the tape serves.</summary>
    public List<int> WrapsFor { get; init; } = [];
}

/// <summary>A pump model that a kit revision suits, and what it then calls for.</summary>
public sealed class KitFit
{
    public int Id { get; private set; }

    public KitRevisionId KitRevisionId { get; init; }

    public required PumpModelId ModelId { get; init; }

    /// <summary>The model that the pump becomes; null when it stays what it is.</summary>
    public PumpModelId? ConvertsToId { get; init; }

    public bool NeedsSensingRod { get; init; }

    /// <summary>Threads of the fittings that go in, by port: "exhaust=NPT 1/2 male".</summary>
    public string? Ports { get; init; }

    public SupplyKind? SupplyKind { get; init; }

    public decimal? Volts { get; init; }

    public decimal? VoltsTolerancePct { get; init; }

    public decimal? Amps { get; init; }

    /// <summary>As printed on the plate, such as "Gb IIC T4".</summary>
    public string? ExMarking { get; init; }

    public List<string> Materials { get; init; } = [];

    /// <summary>May be fitted to a pump once only.</summary>
    public bool Once { get; init; }

    /// <summary>Kits (by number) that must be on the pump before or come with it.</summary>
    public List<string> RequiresKits { get; init; } = [];

    /// <summary>Kits (by number) that must not be on the pump.</summary>
    public List<string> ExcludesKits { get; init; } = [];
}
