using KitOrders.Operations.Pumps;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;

namespace KitOrders.Operations.Orders;

/// <summary>
/// Ends an order that will not be done. What is held is free at once and serves others; what was picked waits to be given
/// back by hand. After start it must be said what the pump is now.
/// </summary>
public sealed class CancelOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, string reason, PumpAfterCancel? pumpIs, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "cancel-order", async work =>
        {
            if (string.IsNullOrWhiteSpace(reason))
                return Refusal.Field("reason", "reason-missing", "Say why the order is cancelled.");
            var found = await HeldParts.Lock(work, number);
            if (found.Refusal is { } refused)
                return refused;
            var (ledger, order) = found.Value;
            var begun = order.State == OrderState.Underway;
            if (order.Cancel(work.Now, reason.Trim(), begun ? pumpIs : null) is { } refusal)
                return refusal;
            await work.Db.SaveChangesAsync(ct);
            var held = await HeldParts.Of(work, order.Id);
            var freed = await HeldParts.Free(ledger, held);
            if (order.CampaignId is not null)
                freed = [.. freed, .. await CampaignEnding.Of(work, order)];
            await CoverShortages.Run(work, freed.Distinct(), $"the cancelling of order {number}");
            if (begun)
                await PumpAfter.Cancelled(work, order, pumpIs!.Value);
            var toReturn = held.Count(r => r.Unaccounted > 0);
            work.Audit($"order {number}", $"Cancelled: {reason.Trim()}{(begun ? $" The pump is {Word.Of(pumpIs!.Value)}." : "")}{(toReturn > 0 ? $" {toReturn} picked parts wait to be given back." : "")}", order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}
