using KitOrders.Operations.Kits;
using KitOrders.Operations.Parts;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>Demand lines with their lots, as kept with an opened order or as planned for a draft.</summary>
internal static class DemandReading
{
    sealed record Promise(decimal Outstanding, DateOnly? On, string? Reference);

    public static async Task<ILookup<OrderId, DemandView>> Kept(Reading reading, IReadOnlyList<OrderId> orders, IReadOnlyDictionary<PersonId, string> names)
    {
        var db = reading.Db;
        var lines = await db.DemandLines.AsNoTracking().Where(l => orders.Contains(l.OrderId)).OrderBy(l => l.Id).ToListAsync(reading.Ct);
        var reservations = (await (from r in db.Reservations
                                   join lot in db.Lots on r.LotId equals lot.Id
                                   join bin in db.Bins on r.BinId equals bin.Id
                                   where orders.Contains(r.OrderId) && (r.Held > 0 || r.Picked > 0)
                                   orderby bin.WalkOrder, r.Id
                                   select new { r.DemandLineId, Row = r, Lot = lot, Bin = bin }).AsNoTracking().ToListAsync(reading.Ct))
            .ToLookup(r => r.DemandLineId, r => new ReservationView(r.Row.Id.Value, r.Lot.Number, r.Bin.Code, r.Bin.WalkOrder,
                r.Lot.GoodUntil, r.Row.Held, r.Row.Picked, r.Row.Fitted, r.Row.Returned, r.Row.Scrapped));
        var ids = lines.Select(l => l.PartId).Distinct().ToList();
        var parts = await db.Parts.AsNoTracking().Where(p => ids.Contains(p.Id)).ToDictionaryAsync(p => p.Id, reading.Ct);
        var promises = await Promises(reading, ids);
        var successors = await PartStandIns.SupersededAmong(db, ids, reading.Ct);
        var replaced = await Replacements.Of(db, orders, reading.Ct);
        var (inPlaceOf, replacedBy) = (replaced.ToLookup(r => r.Kept.ByLineId), replaced.ToLookup(r => r.Kept.LineId));
        StandsInView StandsIn(Replacements.Row row, PartId other) =>
            new(parts[other].Number, parts[other].Description, row.Kept.Quantity, row.Kept.Reason, names[row.Kept.MadeById], row.Kept.MadeAt);
        return lines.ToLookup(l => l.OrderId, l => With(promises.GetValueOrDefault(l.PartId), new DemandView
        {
            Part = parts[l.PartId].Number, Description = parts[l.PartId].Description, Unit = parts[l.PartId].Unit,
            LeadTimeDays = parts[l.PartId].LeadTimeDays,
            Source = l.Source, Gross = l.Gross, Built = l.Built, Required = l.Required, Picked = l.Picked, Reserved = l.Reserved, Short = l.Short,
            Spare = l.Spare, UnitCost = l.UnitCost,
            ReleasedBy = l.ReleasedById is { } by ? names[by] : null, ReleaseReason = l.ReleaseReason,
            Origins = [.. l.Origins.Select(o => new OriginView(o.Kit, o.Line, o.Quantity)),
                .. inPlaceOf[l.Id].SelectMany(r => r.Kept.Origins.Select(o => new OriginView(o.Kit, o.Line, o.Quantity, parts[r.Part].Number)))],
            Reservations = [.. reservations[l.Id]],
            InPlaceOf = [.. inPlaceOf[l.Id].Select(r => StandsIn(r, r.Part))],
            ReplacedBy = [.. replacedBy[l.Id].Select(r => StandsIn(r, r.By))],
            SupersededBy = successors.GetValueOrDefault(l.PartId),
        }));
    }

    /// <summary>The plans of several drafts, each as it is asked for.</summary>
    public static async Task<Func<IReadOnlyList<PlannedDemand>, IReadOnlyList<DemandView>>> Planned(Reading reading, KitCatalogue catalogue, IReadOnlyList<PlannedDemand> planned)
    {
        var db = reading.Db;
        var lotIds = planned.SelectMany(p => p.Takes).Select(t => t.Lot).Distinct().ToList();
        var lots = await db.Lots.AsNoTracking().Where(l => lotIds.Contains(l.Id)).ToDictionaryAsync(l => l.Id, reading.Ct);
        var binIds = planned.SelectMany(p => p.Takes).Select(t => t.Bin).Distinct().ToList();
        var bins = await db.Bins.AsNoTracking().Where(b => binIds.Contains(b.Id)).ToDictionaryAsync(b => b.Id, reading.Ct);
        var costs = await UnitCosts.Of(db, planned.Select(p => p.Plan.Part), reading.Ct);
        var successors = await PartStandIns.SupersededAmong(db, [.. planned.Select(p => p.Plan.Part).Distinct()], reading.Ct);
        var promises = await Promises(reading, [.. planned.Select(p => p.Plan.Part).Distinct()]);
        return plan => [.. plan.Select(p => With(promises.GetValueOrDefault(p.Plan.Part), new DemandView
        {
            Part = catalogue.Parts[p.Plan.Part].Number, Description = catalogue.Parts[p.Plan.Part].Description, Unit = catalogue.Parts[p.Plan.Part].Unit,
            LeadTimeDays = catalogue.Parts[p.Plan.Part].LeadTimeDays,
            Source = p.Plan.Source, Gross = p.Plan.Gross, Built = p.Plan.Built, Required = p.Plan.Required,
            Picked = 0, Reserved = p.Plan.Covered, Short = p.Plan.Short, Spare = p.Plan.Spare,
            UnitCost = costs.GetValueOrDefault(p.Plan.Part), ReleasedBy = null, ReleaseReason = null,
            Origins = [.. p.Plan.Origins.Select(o => new OriginView(catalogue.Parts[o.Kit].Number, o.Line, o.Quantity))],
            Reservations = [.. p.Takes.Select(t => new ReservationView(0, lots[t.Lot].Number, bins[t.Bin].Code, bins[t.Bin].WalkOrder,
                lots[t.Lot].GoodUntil, t.Quantity, 0, 0, 0, 0))],
            SupersededBy = successors.GetValueOrDefault(p.Plan.Part),
        }))];
    }

    static DemandView With(Promise? promise, DemandView line) => promise is null ? line : line with
    {
        Incoming = Math.Min(line.Short, promise.Outstanding), PromisedOn = promise.On, PromiseReference = promise.Reference,
    };

    /// <summary>What is outstanding of each part, with its earliest promise.</summary>
    static async Task<Dictionary<PartId, Promise>> Promises(Reading reading, List<PartId> parts) =>
        (await reading.Db.Incomings.AsNoTracking().Where(i => parts.Contains(i.PartId) && i.Received < i.Quantity).ToListAsync(reading.Ct))
        .GroupBy(i => i.PartId).ToDictionary(p => p.Key, p =>
        {
            var first = p.OrderBy(i => i.PromisedOn ?? DateOnly.MaxValue).ThenBy(i => i.Reference, StringComparer.Ordinal).First();
            return new Promise(p.Sum(i => i.Outstanding), first.PromisedOn, first.Reference);
        });
}
