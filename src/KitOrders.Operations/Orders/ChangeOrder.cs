using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <param name="ClearPlannedFit">The planned fit date is taken away, so that the needed-by date counts.</param>
public sealed record OrderChange(DateOnly? NeededBy = null, DateOnly? PlannedFitOn = null, bool ClearPlannedFit = false, int? WorkClass = null);

/// <summary>
/// Changes the dates or the work class. A new fit date judges every lot held for the order again in the same transaction:
/// those past their last good day by then are given up and others taken.
/// </summary>
public sealed class ChangeOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, OrderChange change, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "change-order", async work =>
        {
            if (change.WorkClass is < Priority.Lowest or > Priority.Highest)
                return Refusal.Field("workClass", "order-values", "The work class is a whole number from 1 to 10, 10 the most pressing.");
            if (change.NeededBy is { Year: < 2000 or > 2199 } || change.PlannedFitOn is { Year: < 2000 or > 2199 })
                return Refusal.Field("neededBy", "order-values", "The date lies outside 2000 to 2199.");
            var found = await HeldParts.Lock(work, number);
            if (found.Refusal is { } refused)
                return refused;
            var (ledger, order) = found.Value;
            if (order.State is not (OrderState.Draft or OrderState.Open or OrderState.Staged))
                return Refusal.Conflict("order-state", $"Order {number} is {Word.Of(order.State)}. Dates and work class change before work starts.");
            order.NeededBy = change.NeededBy ?? order.NeededBy;
            order.PlannedFitOn = change.ClearPlannedFit ? null : change.PlannedFitOn ?? order.PlannedFitOn;
            order.WorkClass = change.WorkClass ?? order.WorkClass;
            order.Touch();
            await work.Db.SaveChangesAsync(ct);
            var given = order.State == OrderState.Draft ? 0 : await JudgeLots(work, ledger, order);
            work.Audit($"order {number}", $"Needed by {order.NeededBy:yyyy-MM-dd}, fitted on {order.FitOn:yyyy-MM-dd}, work class {order.WorkClass}.{(given > 0 ? $" {given} lots would be past their last good day and were given up." : "")}", order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);

    static async Task<int> JudgeLots(Work work, StockLedger ledger, WorkOrder order)
    {
        var held = await HeldParts.Of(work, order.Id);
        var ids = held.Select(r => r.LotId).ToList();
        var lots = await work.Db.Lots.AsNoTracking().Where(l => ids.Contains(l.Id)).ToDictionaryAsync(l => l.Id, work.Ct);
        var past = held.Where(r => r.Held > 0 && !lots[r.LotId].IsUsableOn(order.FitOn)).ToList();
        await HeldParts.Free(ledger, past);
        var parts = await work.Db.DemandLines.Where(l => l.OrderId == order.Id).Select(l => l.PartId).Distinct().ToListAsync(work.Ct);
        var spares = order.CampaignId is { } campaign ? await CampaignPool.GiveUpPast(work, ledger, campaign) : [];
        await CoverShortages.Run(work, parts.Concat(spares).Distinct(), $"the new fit date of order {order.Number}");
        return past.Count + spares.Count;
    }
}
