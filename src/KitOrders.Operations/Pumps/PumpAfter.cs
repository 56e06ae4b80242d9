using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>Writes back what a pump has become by an order: model and with it control, fitted kits and lots, meter, history.</summary>
internal static class PumpAfter
{
    public static async Task Closed(Work work, WorkOrder order, IReadOnlyCollection<(PartId Part, Rules.Stock.LotId Lot, decimal Quantity)> fitted)
    {
        var pump = await Lock(work, order);
        var before = pump.ModelId;
        await Convert(work, order, pump);
        foreach (var lot in fitted.Where(f => f.Quantity > 0).GroupBy(f => (f.Part, f.Lot)))
            work.Db.FittedLots.Add(new FittedLot
            {
                PumpId = pump.Id, OrderId = order.Id, PartId = lot.Key.Part, LotId = lot.Key.Lot,
                Quantity = lot.Sum(f => f.Quantity), FittedOn = work.Today,
            });
        if (order.StrokeCount is { } strokes)
        {
            pump.StrokeCount = strokes;
            work.Db.StrokeReadings.Add(new StrokeReading { PumpId = pump.Id, ReadOn = work.Today, Strokes = strokes });
        }
        pump.OutOfService = null;
        await Remember(work, order, pump, before);
    }

    public static async Task Cancelled(Work work, WorkOrder order, PumpAfterCancel pumpIs)
    {
        var pump = await Lock(work, order);
        var before = pump.ModelId;
        switch (pumpIs)
        {
            case PumpAfterCancel.Unchanged:
                return;
            case PumpAfterCancel.PartlyConverted:
                pump.OutOfService = $"Order {order.Number} was broken off: {order.CancelReason}";
                break;
            default:
                await Convert(work, order, pump);
                break;
        }
        await Remember(work, order, pump, before);
    }

    /// <summary>Two orders of one pump that end at the same moment write down what it has become one after the other.</summary>
    static Task<Pump> Lock(Work work, WorkOrder order) =>
        work.Db.Pumps.FromSql($"select * from pump where id = {order.PumpId.Value} for no key update").SingleAsync(work.Ct);

    static async Task Convert(Work work, WorkOrder order, Pump pump)
    {
        var revisions = order.Kits.Where(k => k.KitRevisionId is not null).Select(k => k.KitRevisionId!.Value).ToList();
        var fits = await work.Db.KitFits.AsNoTracking().Where(f => revisions.Contains(f.KitRevisionId) && f.ModelId == pump.ModelId).ToListAsync(work.Ct);
        if (fits.Find(f => f.ConvertsToId is not null) is { ConvertsToId: { } model })
            pump.ModelId = model;
        var fitted = await work.Db.FittedKits.Where(f => f.PumpId == pump.Id).ToListAsync(work.Ct);
        foreach (var kit in order.Kits.Where(k => k.KitRevisionId is not null))
        {
            if (fitted.Find(f => f.KitPartId == kit.KitPartId) is { } there)
                (there.KitRevisionId, there.FittedOn) = (kit.KitRevisionId!.Value, work.Today);
            else
                work.Db.FittedKits.Add(new FittedKit
                {
                    PumpId = pump.Id, KitPartId = kit.KitPartId, KitRevisionId = kit.KitRevisionId!.Value, FittedOn = work.Today, OrderId = order.Id,
                });
        }
        pump.Touch();
    }

    static async Task Remember(Work work, WorkOrder order, Pump pump, PumpModelId before)
    {
        var models = await work.Db.PumpModels.AsNoTracking().Where(m => m.Id == before || m.Id == pump.ModelId).ToDictionaryAsync(m => m.Id, work.Ct);
        var job = await work.Db.Jobs.AsNoTracking().SingleAsync(j => j.Id == order.JobId, work.Ct);
        var became = pump.OutOfService is not null ? "broken off, out of service"
            : before == pump.ModelId ? $"{models[before].Code} as before" : $"{models[before].Code} became {models[pump.ModelId].Code}";
        work.Db.PumpChanges.Add(new PumpChange
        {
            PumpId = pump.Id, OrderId = order.Id, On = work.Today, What = $"{job.Description}: {became}.",
            ModelBefore = before, ModelAfter = pump.ModelId, StrokeCount = pump.StrokeCount,
        });
    }
}
