using System.Numerics;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;

namespace KitOrders.Operations.Kits;

/// <summary>A kit that pumps are held against: its current revision.</summary>
public sealed record MatrixKit(string Kit, int Revision, string Description)
{
    public required KitFacts Facts { get; init; }

    /// <summary>What it calls for, by pump model.</summary>
    public required IReadOnlyDictionary<string, FitFacts> Fits { get; init; }

    internal KitFacts On(string model) => Facts with { Fit = Fits.GetValueOrDefault(model) };
}

/// <summary>A pump that kits are held against, where it stands now.</summary>
public sealed record MatrixPump(string Tag, string Serial, string? Area, int Criticality)
{
    public string Model => Facts.Model;
    public Control? Control => Facts.Control;
    public Zone? Zone => Position.Zone;
    public string? Fluid => Position.Fluid?.Fluid;

    public required PumpFacts Facts { get; init; }
    public required PositionFacts Position { get; init; }
    public IReadOnlyList<OtherOrderFacts> OtherOrders { get; init; } = [];

    internal SuitabilityFacts Against(IReadOnlyList<KitFacts> kits, DateOnly on) =>
        new() { Pump = Facts, Position = Position, Kits = kits, OtherOrders = OtherOrders, FitOn = on };
}

/// <summary>How the eleven checks of one kit on one pump came out.</summary>
public readonly record struct MatrixCell
{
    readonly ushort failed, unknown;

    internal MatrixCell(int failed, int unknown) => (this.failed, this.unknown) = ((ushort)failed, (ushort)unknown);

    internal MatrixCell With(MatrixCell other) => new(failed | other.failed, unknown | other.unknown);

    public int Failed => BitOperations.PopCount(failed);

    public int Unknown => BitOperations.PopCount(unknown);

    public int Passed => MatrixView.Checks - Failed - Unknown;

    /// <summary>Failed where one check failed, else unknown where one is unknown.</summary>
    public CheckResult Result => failed != 0 ? CheckResult.Failed : unknown != 0 ? CheckResult.Unknown : CheckResult.Passed;

    /// <summary>The first check that stands in the way; null where none does.</summary>
    public Check? First => Result == CheckResult.Passed ? null : (Check)BitOperations.TrailingZeroCount((uint)(failed != 0 ? failed : unknown));

    /// <summary>The kit is made for other models: it is not about this pump at all.</summary>
    public bool ForOtherModels => Of(Check.Model) == CheckResult.Failed;

    public CheckResult Of(Check check) => (failed & (1 << (int)check)) != 0 ? CheckResult.Failed
        : (unknown & (1 << (int)check)) != 0 ? CheckResult.Unknown : CheckResult.Passed;
}

/// <summary>
/// The judged pairs. A pair keeps only its results; its words and numbers are found again, by the same rule from the same
/// facts, for the one that somebody looks at.
/// </summary>
public sealed class MatrixView
{
    internal static readonly int Checks = Enum.GetValues<Check>().Length;

    readonly MatrixCell[] cells;
    readonly bool together;

    public MatrixView(DateOnly on, IReadOnlyList<MatrixKit> kits, IReadOnlyList<MatrixPump> pumps, bool together, int kitsLeftOut)
    {
        (On, Kits, Pumps, KitsLeftOut, this.together) = (on, kits, pumps, kitsLeftOut, together);
        cells = new MatrixCell[pumps.Count * kits.Count];
        var judging = new MatrixJudging(kits, on, together);
        for (var pump = 0; pump < pumps.Count; pump++)
            judging.Judge(pumps[pump], cells.AsSpan(pump * kits.Count, kits.Count));
    }

    /// <summary>The day the kits would be fitted.</summary>
    public DateOnly On { get; }

    public IReadOnlyList<MatrixKit> Kits { get; }

    public IReadOnlyList<MatrixPump> Pumps { get; }

    /// <summary>How many kits more there are than can be shown beside each other.</summary>
    public int KitsLeftOut { get; }

    public MatrixCell Cell(int pump, int kit) => cells[(pump * Kits.Count) + kit];

    /// <summary>The worst of a pump's kits: whether a job that brings them all may be done on it.</summary>
    public CheckResult Worst(int pump)
    {
        var row = cells.AsSpan(pump * Kits.Count, Kits.Count);
        var worst = CheckResult.Passed;
        foreach (var cell in row)
        {
            if (cell.Result == CheckResult.Failed)
                return CheckResult.Failed;
            if (cell.Result == CheckResult.Unknown)
                worst = CheckResult.Unknown;
        }
        return worst;
    }

    /// <summary>
    /// The pumps of which some kit came out so: as a whole, or in one check. A kit that is made for other models counts only
    /// where the check asked for is that of the model. Kits judged together count as one.
    /// </summary>
    public IReadOnlyList<int> Rows(CheckResult? result, Check? check)
    {
        bool Answers(MatrixCell cell) => check is { } one
            ? cell.Of(one) == (result ?? CheckResult.Failed) && (one == Check.Model || !cell.ForOtherModels)
            : cell.Result == result && !cell.ForOtherModels;
        bool Wanted(int pump)
        {
            if (result is null && check is null)
                return true;
            if (together && check is null && result is not CheckResult.Failed)
                return Worst(pump) == result;
            for (var kit = 0; kit < Kits.Count; kit++)
                if (Answers(Cell(pump, kit)))
                    return true;
            return false;
        }
        var rows = new List<int>(Pumps.Count);
        for (var pump = 0; pump < Pumps.Count; pump++)
            if (Wanted(pump))
                rows.Add(pump);
        return rows;
    }

    /// <summary>The eleven checks of one pair with their reasons and numbers.</summary>
    public IReadOnlyList<SuitabilityView> Look(int pump, int kit) =>
        [.. Suitability.Judge(FactsOf(pump, kit)).Where(j => j.Kit == Kits[kit].Kit).Select(j => new SuitabilityView(j.Check, j.Kit, j.Result, j.Reason, j.Finding.Numbers))];

    /// <summary>Why the first check stands in the way; null where none does.</summary>
    public string? Reason(int pump, int kit) => Cell(pump, kit).First is { } check && FactsOf(pump, kit) is var facts
        ? Suitability.JudgeOne(check, facts.Kits.First(k => k.Kit == Kits[kit].Kit), facts).Reason : null;

    SuitabilityFacts FactsOf(int pump, int kit)
    {
        var kits = KitsOn(Pumps[pump].Model);
        return Pumps[pump].Against(together ? kits : [kits[kit]], On);
    }

    KitFacts[] KitsOn(string model) => [.. Kits.Select(k => k.On(model))];
}
