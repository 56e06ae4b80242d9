using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;

namespace KitOrders.Operations.Kits;

/// <summary>What a draft of a kit revision says, whole: as it is read, typed over and kept again.</summary>
public sealed record DraftContent(bool Buildable, IReadOnlyList<DraftLine> Lines, IReadOnlyList<DraftFit> Fits)
{
    public const int MostLines = 1_000;
    public const int MostFits = 500;
    public const int LongestNumber = 99_999;
}

/// <param name="Part">The part's number.</param>
public sealed record DraftLine(int Number, string Part, decimal Quantity, LineSource Source)
{
    public SparePolicy SparePolicy { get; init; }
    public decimal? RejectRate { get; init; }
    public decimal? Wraps { get; init; }
    public IReadOnlyList<int> WrapsFor { get; init; } = [];
}

/// <param name="Model">The model's code.</param>
public sealed record DraftFit(string Model)
{
    public string? ConvertsTo { get; init; }
    public bool NeedsSensingRod { get; init; }
    public string? Ports { get; init; }
    public SupplyKind? SupplyKind { get; init; }
    public decimal? Volts { get; init; }
    public decimal? VoltsTolerancePct { get; init; }
    public decimal? Amps { get; init; }
    public string? ExMarking { get; init; }
    public IReadOnlyList<string> Materials { get; init; } = [];
    public bool Once { get; init; }
    public IReadOnlyList<string> RequiresKits { get; init; } = [];
    public IReadOnlyList<string> ExcludesKits { get; init; } = [];
}
