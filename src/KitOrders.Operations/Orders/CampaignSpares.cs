using KitOrders.Operations.Stock;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Stock;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>Parts that an order has rejected, by decisions that stand.</summary>
internal sealed record Rejection(OrderId Order, PartId Part, int Rejected, Priority Rank);

/// <summary>Which order uses which of a campaign's spares that are in hand.</summary>
internal static class CampaignSpares
{
    public static async Task<List<Rejection>> Rejections(KitOrdersDb db, CampaignId campaign, OrderState[] states, CancellationToken ct)
    {
        var rows = await (from result in db.StepResults.AsNoTracking()
                          join step in db.OrderSteps on result.OrderStepId equals step.Id
                          join order in db.WorkOrders on step.OrderId equals order.Id
                          join position in db.Positions on order.PositionId equals position.Id
                          where order.CampaignId == campaign && states.Contains(order.State) && step.PartId != null
                              && result.Decision == CarryOverDecision.Replace && result.Outcome != StepOutcome.NotApplicable
                              && !db.StepResults.Any(later => later.CorrectsId == result.Id)
                          select new { order.Id, order.Number, position.Criticality, order.WorkClass, order.NeededBy, order.OpenedAt, step.PartId }).ToListAsync(ct);
        return [.. rows.GroupBy(r => (r.Id, Part: r.PartId!.Value)).Select(g => new Rejection(g.Key.Id, g.Key.Part, g.Count(),
            new Priority(g.First().Number, g.First().Criticality, g.First().WorkClass, g.First().NeededBy, g.First().OpenedAt)))];
    }

    /// <summary>
    /// A part was judged at an order's bench. A rejected one takes a spare of the campaign; where none is in hand, work is marked
    /// paused until one is.
    /// </summary>
    public static async Task Judged(Work work, WorkOrder order, PartId part, int step)
    {
        var campaign = await CampaignPool.Lock(work, order.CampaignId!.Value);
        await CoverShortages.Run(work, await CampaignPool.Resize(work, campaign, [part]), $"free stock, for step {step} of order {order.Number}");
        await work.Send();
        if (await HandOut(work, campaign, [part]) is { } waiting && waiting.Contains(order.Id))
        {
            var number = await work.Db.Parts.Where(p => p.Id == part).Select(p => p.Number).SingleAsync(work.Ct);
            order.Pause($"Step {step}: a spare of {number} is needed and not in hand. Campaign {campaign.Number} holds the spares.");
        }
    }

    /// <summary>
    /// Gives the spares in hand to the orders underway that have rejected parts, the most pressing first; takes back what an
    /// order does not need any more. Answers the orders that still lack one.
    /// </summary>
    public static async Task<IReadOnlyList<OrderId>> HandOut(Work work, Campaign campaign, IReadOnlyCollection<PartId> parts)
    {
        var wanted = (await Rejections(work.Db, campaign.Id, [OrderState.Underway, OrderState.Finished], work.Ct)).Where(r => parts.Contains(r.Part)).OrderBy(r => r.Rank).ToList();
        var found = await (from pooled in work.Db.PooledReservations.AsNoTracking()
                           join lot in work.Db.Lots on pooled.LotId equals lot.Id
                           where pooled.CampaignId == campaign.Id && parts.Contains(pooled.PartId) && pooled.Picked > 0
                           orderby lot.ExpiresOn, pooled.Id
                           select new { pooled, lot }).ToListAsync(work.Ct);
        var reservations = found.ConvertAll(f => f.pooled);
        var usable = found.Where(f => f.lot.IsUsableOn(work.Today)).Select(f => f.pooled.Id).ToHashSet();
        var ids = reservations.ConvertAll(r => r.Id);
        var uses = await (from use in work.Db.SpareUses
                          join order in work.Db.WorkOrders on use.OrderId equals order.Id
                          where ids.Contains(use.ReservationId) && (order.State == OrderState.Underway || order.State == OrderState.Finished)
                          select use).ToListAsync(work.Ct);
        var inHand = reservations.ToDictionary(r => r.Id, r => r.Unaccounted);
        var partOf = reservations.ToDictionary(r => r.Id, r => r.PartId);
        var missing = new List<OrderId>();

        foreach (var use in uses)
            Change(use, Math.Min(0, Wanted(use.OrderId, partOf[use.ReservationId]) - Used(use.OrderId, partOf[use.ReservationId])), inHand);
        foreach (var want in wanted)
        {
            foreach (var spare in reservations.Where(r => r.PartId == want.Part && usable.Contains(r.Id)))
            {
                var quantity = Math.Min(want.Rejected - Used(want.Order, want.Part), inHand[spare.Id]);
                if (quantity <= 0)
                    continue;
                var use = uses.Find(u => u.OrderId == want.Order && u.ReservationId == spare.Id);
                if (use is null)
                {
                    use = await Begin(work, want.Order, spare.Id);
                    uses.Add(use);
                }
                Change(use, quantity, inHand);
            }
            if (Used(want.Order, want.Part) < want.Rejected)
                missing.Add(want.Order);
        }
        await Write(work, reservations, inHand);
        return missing;

        decimal Wanted(OrderId order, PartId part) => wanted.Where(w => w.Order == order && w.Part == part).Sum(w => w.Rejected);
        decimal Used(OrderId order, PartId part) => uses.Where(u => u.OrderId == order && partOf[u.ReservationId] == part).Sum(u => u.Quantity);
    }

    /// <summary>An order that leaves its pump as it was has used nothing.</summary>
    public static async Task TakeBack(Work work, OrderId order)
    {
        var uses = await work.Db.SpareUses.Where(u => u.OrderId == order && u.Quantity > 0).ToListAsync(work.Ct);
        var ids = uses.ConvertAll(u => u.ReservationId);
        var reservations = await work.Db.PooledReservations.AsNoTracking().Where(r => ids.Contains(r.Id)).ToListAsync(work.Ct);
        var inHand = reservations.ToDictionary(r => r.Id, r => r.Unaccounted);
        foreach (var use in uses)
            Change(use, -use.Quantity, inHand);
        await Write(work, reservations, inHand);
    }

    /// <summary>What an order has used of its campaign's spares.</summary>
    public static async Task<IReadOnlyList<(PartId Part, LotId Lot, decimal Quantity)>> UsedBy(KitOrdersDb db, OrderId order, CancellationToken ct) =>
        [.. (await (from use in db.SpareUses.AsNoTracking()
                    join pooled in db.PooledReservations on use.ReservationId equals pooled.Id
                    where use.OrderId == order && use.Quantity > 0
                    select new { pooled.PartId, pooled.LotId, use.Quantity }).ToListAsync(ct)).Select(u => (u.PartId, u.LotId, u.Quantity))];

    static void Change(SpareUse use, decimal by, Dictionary<ReservationId, decimal> inHand)
    {
        var change = Math.Max(by, -use.Quantity);
        use.Quantity += change;
        inHand[use.ReservationId] -= change;
    }

    /// <summary>The row may stand already, with nothing used.</summary>
    static async Task<SpareUse> Begin(Work work, OrderId order, ReservationId spare)
    {
        var use = await work.Db.SpareUses.SingleOrDefaultAsync(u => u.OrderId == order && u.ReservationId == spare, work.Ct);
        if (use is null)
            work.Db.SpareUses.Add(use = new SpareUse { OrderId = order, ReservationId = spare, Quantity = 0 });
        return use;
    }

    static async Task Write(Work work, IEnumerable<PooledReservation> reservations, Dictionary<ReservationId, decimal> inHand)
    {
        await work.Db.SaveChangesAsync(work.Ct);
        foreach (var pooled in reservations.Where(r => inHand[r.Id] != r.Unaccounted))
        {
            var used = pooled.Unaccounted - inHand[pooled.Id];
            await work.Db.PooledReservations.Where(r => r.Id == pooled.Id).ExecuteUpdateAsync(set => set.SetProperty(r => r.Fitted, r => r.Fitted + used), work.Ct);
        }
    }
}
