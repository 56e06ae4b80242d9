using KitOrders.Operations.Kits;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>Judges an order's kits as of now: a draft with the lots it would hold, an opened order with those it holds.</summary>
internal static class OrderJudging
{
    public static async Task<IReadOnlyList<Judgement>> Judge(Reading reading, WorkOrder order, DateOnly on, bool atStart = false)
    {
        var db = reading.Db;
        var kits = order.Kits.Select(k => new KitAsked(k.KitPartId, k.Quantity)).OrderBy(k => k.Kit.Value).ToList();
        var standIns = order.OpenedAt is null ? [] : await Replacements.Of(db, order.Id, reading.Ct);
        var catalogue = (await KitCatalogue.Load(db, kits.Select(k => k.Kit).Concat(standIns.Select(s => s.By)).Distinct(), reading.Ct)) with
        {
            StandIns = standIns.ToLookup(s => s.Part, s => s.By),
        };
        var lots = order.OpenedAt is null
            ? await Planned(reading, kits, catalogue, on, order.CampaignId is not null)
            : await db.Reservations.AsNoTracking().Where(r => r.OrderId == order.Id && (r.Held > 0 || r.Picked > r.Fitted + r.Returned + r.Scrapped))
                .Select(r => new HeldLot(r.PartId, r.LotId)).ToListAsync(reading.Ct);
        var openedWith = order.Kits.Where(k => k.KitRevisionId is not null).ToDictionary(k => k.KitPartId, k => k.KitRevisionId!.Value);
        var pump = await db.Pumps.AsNoTracking().SingleAsync(p => p.Id == order.PumpId, reading.Ct);
        var position = await db.Positions.AsNoTracking().SingleAsync(p => p.Id == order.PositionId, reading.Ct);
        return await SuitabilityReading.Judge(db, pump, position, [.. kits.Select(k => k.Kit)], catalogue, lots, on, order.Id, reading.Ct, openedWith, atStart);
    }

    static async Task<List<HeldLot>> Planned(Reading reading, List<KitAsked> kits, KitCatalogue catalogue, DateOnly on, bool ofCampaign)
    {
        var shelves = await Shelves.Of(reading.Db, catalogue.All, reading.Ct);
        var planned = DemandPlanning.Plan(kits, catalogue, await CarryOverRecord.Of(reading.Db, catalogue, reading.Ct), shelves, on, reading.Plant.SpareRisk, ofCampaign);
        return planned.IsDone ? [.. planned.Value.SelectMany(l => l.Takes.Select(t => new HeldLot(l.Plan.Part, t.Lot)))] : [];
    }
}
