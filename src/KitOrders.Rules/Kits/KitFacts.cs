using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Kits;

/// <summary>A kit that an order asks for.</summary>
public readonly record struct KitAsked(PartId Kit, decimal Quantity);

/// <summary>One line of a kit revision, as far as demand depends on it.</summary>
public sealed record KitLineFact(int Line, PartId Part, decimal Quantity, LineSource Source)
{
    /// <summary>Read on carried-over lines only.</summary>
    public SparePolicy SparePolicy { get; init; }

    /// <summary>The set reject rate, 0 to 1; needed when spares are held by rate.</summary>
    public decimal? RejectRate { get; init; }

    /// <summary>Wraps of tape around each taper thread served; then the line's own quantity is not used.</summary>
    public decimal? Wraps { get; init; }

    /// <summary>The lines of the same kit whose threads are wrapped.</summary>
    public IReadOnlyList<int> WrapsFor { get; init; } = [];
}

/// <summary>The current revision of a kit or assembly.</summary>
public sealed record KitStructure(PartId Kit, bool Buildable, IReadOnlyList<KitLineFact> Lines);

/// <summary>The thread of a fitting: outside diameter in millimetres; taper threads (NPT, BSPT) are taped, parallel ones are not.</summary>
public readonly record struct FittingThread(decimal OutsideMm, bool Taper);

/// <summary>What demand needs to know about a part.</summary>
public sealed record PartFact(PartId Part, string Number, Unit Unit)
{
    /// <summary>Null: not recorded.</summary>
    public FittingThread? Thread { get; init; }

    /// <summary>The multiple in which shop supply is handed out, in the part's unit. Null: not recorded.</summary>
    public decimal? HandedOutIn { get; init; }

    /// <summary>How often the part, carried over, was judged "replace", and how often it was judged at all.</summary>
    public int Rejected { get; init; }

    public int Decisions { get; init; }
}
