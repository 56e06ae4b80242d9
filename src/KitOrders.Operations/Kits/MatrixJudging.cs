using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;

namespace KitOrders.Operations.Kits;

/// <summary>
/// Judges pump after pump against the same kits. What checks look at is often the same for many pumps, their model, an area, a
/// supply; such checks are judged for the first of them and hold for the others.
/// </summary>
sealed class MatrixJudging(IReadOnlyList<MatrixKit> kits, DateOnly on, bool together)
{
    static readonly ILookup<LooksAt, Check> checks = Enum.GetValues<Check>().ToLookup(Suitability.At);

    readonly Dictionary<string, KitFacts[]> onModel = [];
    readonly Dictionary<string, MatrixCell[]> byModel = [];
    readonly Dictionary<(string Model, Place Place), MatrixCell[]> byPlace = [];
    readonly Dictionary<(string Model, SupplyFacts Supply), MatrixCell[]> bySupply = [];

    /// <summary>The fluid stands for all that is recorded of it.</summary>
    readonly record struct Place(Zone? Zone, string? ExGroup, string? TemperatureClass, string? Fluid);

    public void Judge(MatrixPump pump, Span<MatrixCell> row)
    {
        if (!onModel.TryGetValue(pump.Model, out var facts))
            onModel.Add(pump.Model, facts = [.. kits.Select(k => k.On(pump.Model))]);
        var at = pump.Position;
        // Nothing else but the kit is looked at by shelf life, so it comes out once a model like the checks of the model itself.
        var ofModel = Known(byModel, pump.Model, pump, facts, LooksAt.Model, LooksAt.NothingElse);
        var ofPlace = Known(byPlace, (pump.Model, new Place(at.Zone, at.ExGroup, at.TemperatureClass, at.Fluid?.Fluid)), pump, facts, LooksAt.Place);
        var ofSupply = Known(bySupply, (pump.Model, at.Supply), pump, facts, LooksAt.Supply);
        var against = pump.Against(together ? facts : [], on);
        for (var kit = 0; kit < row.Length; kit++)
            row[kit] = ofModel[kit].With(ofPlace[kit]).With(ofSupply[kit]).With(Found(against, facts[kit], LooksAt.Pump));
    }

    MatrixCell[] Known<TKey>(Dictionary<TKey, MatrixCell[]> known, TKey key, MatrixPump pump, KitFacts[] facts, params ReadOnlySpan<LooksAt> looks) where TKey : notnull
    {
        if (known.TryGetValue(key, out var before))
            return before;
        var found = new MatrixCell[facts.Length];
        var against = pump.Against(facts, on);
        for (var kit = 0; kit < facts.Length; kit++)
            foreach (var look in looks)
                found[kit] = found[kit].With(Found(against, facts[kit], look));
        known.Add(key, found);
        return found;
    }

    static MatrixCell Found(SuitabilityFacts against, KitFacts kit, LooksAt look)
    {
        var (failed, unknown) = (0, 0);
        foreach (var check in checks[look])
        {
            var result = Suitability.JudgeOne(check, kit, against).Result;
            failed |= (result == CheckResult.Failed ? 1 : 0) << (int)check;
            unknown |= (result == CheckResult.Unknown ? 1 : 0) << (int)check;
        }
        return new MatrixCell(failed, unknown);
    }
}
