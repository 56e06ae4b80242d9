using System.Globalization;

namespace KitOrders.Rules.Kits;

/// <summary>
/// The kits that a kit needs beside it or cannot stand. Both look at the same three places: fitted on the pump, brought by
/// the same order, brought by an open order of the same pump with an earlier fit date.
/// </summary>
static class Companions
{
    public static Finding Prerequisites(KitFacts kit, FitFacts fit, SuitabilityFacts facts)
    {
        if (fit.Requires.Count == 0)
        {
            return Finding.DoesNotApply("the kit requires no other kit.");
        }

        var found = fit.Requires.Select(r => (Kit: r, Where: Find(r, kit, facts))).ToList();
        var missing = found.Where(f => f.Where is null).ToList();
        return missing.Count > 0
            ? Finding.Failed(() => string.Join(" ", missing.Select(m => $"Requires {m.Kit}, which is neither fitted nor brought by this order{OrBefore(m.Kit, facts)}.")))
            : Finding.Passed(() => string.Join(" ", found.Select(f => $"{f.Kit} is {f.Where!.Value.Words}."))) with { OnCondition = found.Any(f => f.Where!.Value.OnCondition) };
    }

    public static Finding Exclusions(KitFacts kit, FitFacts fit, SuitabilityFacts facts)
    {
        if (fit.Excludes.Count == 0)
        {
            return Finding.DoesNotApply("the kit excludes no other kit.");
        }

        var found = fit.Excludes.Select(e => (Kit: e, Where: Find(e, kit, facts))).Where(f => f.Where is not null).ToList();
        return found.Count > 0
            ? Finding.Failed(() => string.Join(" ", found.Select(f => $"Cannot be beside {f.Kit}, which is {f.Where!.Value.Words}.")))
            : Finding.Passed(() => $"None of {string.Join(", ", fit.Excludes)} is fitted or brought before.");
    }

    static (string Words, bool OnCondition)? Find(string wanted, KitFacts judged, SuitabilityFacts facts)
    {
        bool Same(string kit) => string.Equals(kit, wanted, StringComparison.OrdinalIgnoreCase);
        if (facts.Pump.Fitted.Any(Same))
        {
            return ("fitted", false);
        }

        if (facts.Kits.Any(k => Same(k.Kit) && !ReferenceEquals(k, judged)))
        {
            return ("brought by the same order", false);
        }

        return facts.OtherOrders.Where(o => o.FitOn < facts.FitOn && o.Kits.Any(Same)).OrderBy(o => o.FitOn).FirstOrDefault() is { } earlier
            ? ($"brought by order {earlier.Order} on {earlier.FitOn.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}", true)
            : null;
    }

    static string OrBefore(string kit, SuitabilityFacts facts) =>
        facts.OtherOrders.FirstOrDefault(o => o.Kits.Contains(kit, StringComparer.OrdinalIgnoreCase)) is { } late
            ? $", and order {late.Order} brings it only on {late.FitOn.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}, not before this one"
            : " or an earlier one";
}
