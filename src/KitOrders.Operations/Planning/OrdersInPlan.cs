using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Planning;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Planning;

/// <summary>An order with its rank and the lines that no planner let go, as planning looks at it.</summary>
internal sealed record OrderInPlan(WorkOrder Order, Priority Priority, string Pump, string Job, IReadOnlyList<LineInPlan> Lines);

/// <summary>A demand line without what planning does not ask for: there are many of them.</summary>
internal sealed record LineInPlan(DemandLineId Id, OrderId OrderId, PartId PartId, LineSource Source, decimal Required, decimal Picked, decimal Reserved, decimal Short);

/// <summary>Reads orders in the order of rule 5 for readiness and backlog.</summary>
internal static class OrdersInPlan
{
    public static async Task<List<OrderInPlan>> Of(KitOrdersDb db, OrderState[] states, CancellationToken ct)
    {
        var orders = await (from order in db.WorkOrders.AsNoTracking()
                            join position in db.Positions on order.PositionId equals position.Id
                            join job in db.Jobs on order.JobId equals job.Id
                            where states.Contains(order.State)
                            select new { order, position.Tag, position.Criticality, job.Code }).ToListAsync(ct);
        var lines = (await (from line in db.DemandLines
                            join order in db.WorkOrders on line.OrderId equals order.Id
                            where states.Contains(order.State) && line.ReleasedById == null
                            select new LineInPlan(line.Id, line.OrderId, line.PartId, line.Source, line.Required, line.Picked, line.Reserved, line.Short))
            .ToListAsync(ct)).Concat(await Pooled(db, states, ct)).ToLookup(l => l.OrderId);
        return [.. orders.Select(o => new OrderInPlan(o.order,
                new Priority(o.order.Number, o.Criticality, o.order.WorkClass, o.order.NeededBy, o.order.OpenedAt), o.Tag, o.Code,
                [.. lines[o.order.Id].OrderBy(l => l.Source).ThenBy(l => l.Id.Value)]))
            .OrderBy(o => o.Priority)];
    }

    /// <summary>What a campaign holds for all its orders stands with the most pressing of them.</summary>
    static async Task<IEnumerable<LineInPlan>> Pooled(KitOrdersDb db, OrderState[] states, CancellationToken ct)
    {
        var lines = await db.PooledLines.AsNoTracking().Where(l => l.ReleasedById == null && l.Required > 0).ToListAsync(ct);
        var places = await CampaignPlaces.Of(db, lines.Select(l => l.CampaignId), [.. states.Where(s => s != OrderState.Draft)], ct);
        return lines.Where(l => places[l.CampaignId].First is not null)
            .Select(l => new LineInPlan(l.Id, places[l.CampaignId].First!.Value, l.PartId, l.Source, l.Required, l.Picked, l.Reserved, l.Short));
    }

    public static async Task<List<IncomingFact>> Incoming(KitOrdersDb db, IEnumerable<PartId> parts, CancellationToken ct)
    {
        var ids = parts.Distinct().ToList();
        return await db.Incomings.AsNoTracking().Where(i => ids.Contains(i.PartId) && i.Received < i.Quantity)
            .Select(i => new IncomingFact(i.PartId, i.Reference, i.PromisedOn, i.Quantity - i.Received)).ToListAsync(ct);
    }
}
