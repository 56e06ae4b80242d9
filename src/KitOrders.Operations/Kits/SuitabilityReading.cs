using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.Stock;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>A lot that is or would be held for a kit's tree.</summary>
internal readonly record struct HeldLot(PartId Part, LotId Lot);

/// <summary>Gathers what is on record about a pump and some kits, for the rule to judge.</summary>
internal static class SuitabilityReading
{
    static readonly OrderState[] Living = [OrderState.Open, OrderState.Staged, OrderState.Underway, OrderState.Finished];

    public static async Task<IReadOnlyList<Judgement>> Judge(
        KitOrdersDb db, Pump pump, Position position, IReadOnlyList<PartId> kits, KitCatalogue catalogue,
        IReadOnlyCollection<HeldLot> lots, DateOnly fitOn, OrderId? order, CancellationToken ct,
        IReadOnlyDictionary<PartId, KitRevisionId>? openedWith = null, bool atStart = false)
    {
        var model = await db.PumpModels.AsNoTracking().SingleAsync(m => m.Id == pump.ModelId, ct);
        var fluid = position.FluidId is { } id ? await db.Fluids.AsNoTracking().SingleAsync(f => f.Id == id, ct) : null;
        var fitted = await (from f in db.FittedKits
                            join p in db.Parts on f.KitPartId equals p.Id
                            where f.PumpId == pump.Id
                            select p.Number).ToListAsync(ct);
        var revisionIds = kits.ToDictionary(k => k, k => openedWith?.TryGetValue(k, out var opened) == true
            ? opened : catalogue.Revisions.GetValueOrDefault(k)?.Id);
        var wanted = revisionIds.Values.Where(r => r is not null).Select(r => r!.Value).ToList();
        var revisions = await db.KitRevisions.AsNoTracking().Include(r => r.Fits)
            .Where(r => wanted.Contains(r.Id)).ToDictionaryAsync(r => r.Id, ct);
        var targets = revisions.Values.SelectMany(r => r.Fits).Where(f => f.ConvertsToId is not null).Select(f => f.ConvertsToId!.Value).ToList();
        var targetModels = await db.PumpModels.AsNoTracking().Where(m => targets.Contains(m.Id)).ToDictionaryAsync(m => m.Id, ct);

        var facts = new SuitabilityFacts
        {
            Pump = new PumpFacts(model.Code, model.Control, pump.SensingRod, model.SensingRodAvailable, Ports(model.Ports), fitted),
            Position = new PositionFacts(position.Zone, position.ExGroup, position.TemperatureClass,
                new SupplyFacts(position.SupplyKind, position.SupplyVolts, position.CableM, position.CableMm2),
                fluid is null ? null : new FluidFacts(fluid.Name, fluid.Approved, fluid.Refused, fluid.IgnitionC, fluid.Bonding)),
            Kits = await KitsOf(db, kits, catalogue, revisionIds, revisions, model, targetModels, lots, ct),
            OtherOrders = await Others(db, pump.Id, order, ct),
            FitOn = fitOn,
        };
        var judgements = Suitability.Judge(facts);
        if (!atStart)
            return judgements;
        // What an earlier order was to bring must be on the pump, or in this order, by the time work starts.
        var fittedOnly = Suitability.Judge(facts with { OtherOrders = [] });
        return [.. judgements.Select((judged, n) => judged.Check == Check.Prerequisites ? fittedOnly[n] : judged)];
    }

    static async Task<IReadOnlyList<KitFacts>> KitsOf(
        KitOrdersDb db, IReadOnlyList<PartId> kits, KitCatalogue catalogue, Dictionary<PartId, KitRevisionId?> revisionIds,
        Dictionary<KitRevisionId, KitRevision> revisions, PumpModel model, Dictionary<PumpModelId, PumpModel> targets,
        IReadOnlyCollection<HeldLot> held, CancellationToken ct)
    {
        var lotIds = held.Select(h => h.Lot).Distinct().ToList();
        var lots = await db.Lots.AsNoTracking().Where(l => lotIds.Contains(l.Id)).ToDictionaryAsync(l => l.Id, ct);
        var facts = new List<KitFacts>();
        foreach (var kit in kits)
        {
            var tree = TreeOf(kit, catalogue);
            var ofKit = held.Where(h => tree.Contains(h.Part)).Distinct().ToList();
            var revision = revisionIds[kit] is { } id ? revisions.GetValueOrDefault(id) : null;
            facts.Add(new KitFacts(
                catalogue.Parts[kit].Number,
                revision?.Number ?? 0,
                revision?.Fits.SingleOrDefault(f => f.ModelId == model.Id) is { } fit ? FitOf(fit, model, targets) : null,
                [.. ofKit.Select(h => new LotFacts(catalogue.Parts[h.Part].Number, lots[h.Lot].Number, lots[h.Lot].GoodUntil,
                    catalogue.ElastomersOf(h.Part).Any(e => e.Ages)))],
                tree.Count(p => held.All(h => h.Part != p) && !catalogue.Structures.ContainsKey(p))));
        }
        return facts;
    }

    static HashSet<PartId> TreeOf(PartId kit, KitCatalogue catalogue)
    {
        var tree = new HashSet<PartId> { kit };
        var waiting = new Queue<PartId>(tree);
        while (waiting.TryDequeue(out var next))
            if (catalogue.Structures.TryGetValue(next, out var structure))
                foreach (var line in structure.Lines.Where(l => tree.Add(l.Part)))
                    waiting.Enqueue(line.Part);
        return tree;
    }

    static FitFacts FitOf(KitFit fit, PumpModel model, Dictionary<PumpModelId, PumpModel> targets)
    {
        var target = fit.ConvertsToId is { } id ? targets[id] : null;
        return new FitFacts
        {
            FromControl = model.Control,
            ConvertsTo = target?.Code,
            ToControl = target?.Control,
            NeedsSensingRod = fit.NeedsSensingRod,
            Ports = Ports(fit.Ports),
            Coil = new CoilFacts(fit.SupplyKind, fit.Volts, fit.VoltsTolerancePct, fit.Amps),
            ExMarking = fit.ExMarking,
            Materials = fit.Materials,
            Once = fit.Once,
            Requires = fit.RequiresKits,
            Excludes = fit.ExcludesKits,
        };
    }

    /// <summary>Ports were read before they were kept.</summary>
    static IReadOnlyList<Port> Ports(string? text) => PortList.Parse(text) is { IsDone: true, Value: var ports } ? ports : [];

    static async Task<IReadOnlyList<OtherOrderFacts>> Others(KitOrdersDb db, PumpId pump, OrderId? order, CancellationToken ct)
    {
        var rows = await (from o in db.WorkOrders.AsNoTracking()
                          where o.PumpId == pump && Living.Contains(o.State) && (order == null || o.Id != order)
                          join k in db.OrderKits on o.Id equals k.OrderId
                          join p in db.Parts on k.KitPartId equals p.Id
                          select new { o.Number, o.NeededBy, o.PlannedFitOn, Kit = p.Number }).ToListAsync(ct);
        return [.. rows.GroupBy(r => (r.Number, FitOn: r.PlannedFitOn ?? r.NeededBy))
            .Select(o => new OtherOrderFacts(o.Key.Number, o.Key.FitOn, [.. o.Select(r => r.Kit)]))];
    }
}
