using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Orders;

/// <summary>The demand of an order as it would be, or is, when it opens: every line with the lots that serve it.</summary>
internal sealed record PlannedDemand(DemandPlan Plan, IReadOnlyList<Take> Takes);

/// <summary>One way from kits and shelves to demand lines, for the preview of a draft and for the opening itself.</summary>
internal static class DemandPlanning
{
    /// <param name="carried">What became of parts kept from pumps before; see <see cref="CarryOverRecord"/>.</param>
    /// <param name="ofCampaign">A campaign holds the spares.</param>
    public static Outcome<IReadOnlyList<PlannedDemand>> Plan(
        IReadOnlyList<KitAsked> kits, KitCatalogue catalogue, IReadOnlyDictionary<PartId, (int Decisions, int Rejected)> carried,
        IReadOnlyList<LotBalance> shelves, DateOnly fitOn, decimal spareRisk, bool ofCampaign = false) =>
        Plan(kits, catalogue, carried, shelves, fitOn, spareRisk, ofCampaign, out _);

    /// <param name="spares">What is kept from the pump.</param>
    public static Outcome<IReadOnlyList<PlannedDemand>> Plan(
        IReadOnlyList<KitAsked> kits, KitCatalogue catalogue, IReadOnlyDictionary<PartId, (int Decisions, int Rejected)> carried,
        IReadOnlyList<LotBalance> shelves, DateOnly fitOn, decimal spareRisk, bool ofCampaign, out IReadOnlyList<SpareNeed> spares)
    {
        spares = [];
        var parts = Facts(catalogue, carried);
        var usable = shelves.Where(b => b.Free > 0 && b.UsableOn(fitOn)).ToList();
        var free = usable.GroupBy(b => b.Part).ToDictionary(p => p.Key, p => p.Sum(b => b.Free));
        var exploded = Explosion.Explode(new ExplosionFacts(kits, catalogue.Structures, parts, free, spareRisk) { SparesHeldByCampaign = ofCampaign });
        if (exploded.Refusal is { } refusal)
            return refusal;
        spares = exploded.Value.Spares;
        var lines = exploded.Value.Lines;
        // The lines stand in the order in which stock goes to the sources; the index stands for the id they do not have yet.
        var holds = ReservationPlan.CoverShortages(
            lines.Select((line, n) => new Wanting(new DemandLineId(n), line.Part, line.Required, fitOn)), usable)
            .ToLookup(h => h.Line.Value, h => h.Take);
        return lines.Select((line, n) => new PlannedDemand(line, [.. holds[n]])).ToList();
    }

    public static Dictionary<PartId, PartFact> Facts(KitCatalogue catalogue, IReadOnlyDictionary<PartId, (int Decisions, int Rejected)> carried) =>
        catalogue.Parts.ToDictionary(p => p.Key, p => FactOf(p.Value, carried.GetValueOrDefault(p.Key)));

    static PartFact FactOf(CatalogueItem item, (int Decisions, int Rejected) judged) => new(item.Id, item.Number, item.Unit)
    {
        HandedOutIn = item.HandedOutIn, Thread = item.Thread, Decisions = judged.Decisions, Rejected = judged.Rejected,
    };
}
