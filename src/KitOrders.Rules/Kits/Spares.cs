using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Kits;

/// <summary>What an order keeps from the pump of one part, and so may have to replace.</summary>
/// <param name="ForAll">Parts for which every one has its spare.</param>
/// <param name="ByRate">Parts for which spares are held by rate.</param>
/// <param name="SetRate">The set reject rate of the latter; where lines differ, weighted by their quantities.</param>
public sealed record SpareNeed(PartId Part, decimal ForAll, decimal ByRate, decimal SetRate, IReadOnlyList<Origin> Origins)
{
    /// <summary>The need of several orders as one, for a campaign that owns the spares of all its orders.</summary>
    public static IReadOnlyList<SpareNeed> Pool(IEnumerable<SpareNeed> needs) =>
        [.. needs.GroupBy(n => n.Part).OrderBy(g => g.Key.Value).Select(Pooled)];

    /// <summary>Spares to hold, with the reject rate that they were counted with; whole parts.</summary>
    /// <param name="risk">Accepted risk of too few, 0 to 1; a plant setting.</param>
    public (decimal Quantity, decimal Rate) Hold(PartFact part, decimal risk)
    {
        ArgumentNullException.ThrowIfNull(part);
        var rate = SpareCount.Rate(part.Rejected, part.Decisions, SetRate);
        return (Math.Ceiling(ForAll) + SpareCount.Hold((long)Math.Ceiling(ByRate), rate, risk), rate);
    }

    static SpareNeed Pooled(IGrouping<PartId, SpareNeed> needs)
    {
        var byRate = needs.Sum(n => n.ByRate);
        var origins = needs.SelectMany(n => n.Origins)
            .GroupBy(o => (o.Kit, o.Line))
            .Select(g => new Origin(g.Key.Kit, g.Key.Line, g.Sum(o => o.Quantity)));
        return new SpareNeed(
            needs.Key,
            needs.Sum(n => n.ForAll),
            byRate,
            byRate == 0 ? 0 : needs.Sum(n => n.ByRate * n.SetRate) / byRate,
            [.. origins]);
    }
}
