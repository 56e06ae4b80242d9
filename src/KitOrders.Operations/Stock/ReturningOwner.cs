using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>Who gives picked parts back: an order, or a campaign its spares.</summary>
/// <param name="Undone">The pick is undone, so that the part is asked for again; otherwise it is accounted for as returned.</param>
/// <param name="Owns">What comes back was picked for it.</param>
internal sealed record ReturningOwner(WorkOrder? Order, Campaign? Campaign, bool Undone, bool Owns)
{
    public string Subject => Campaign is { } campaign ? $"campaign {campaign.Number}" : $"order {Order!.Number}";

    public string Called => Campaign is { } campaign ? $"Campaign {campaign.Number}" : $"Order {Order!.Number}";

    public string Changed => Campaign is { } campaign ? $"campaign:{campaign.Number}" : $"order:{Order!.Number}";

    /// <summary>Locks its row; the parts are locked already.</summary>
    public static async Task<Outcome<ReturningOwner>> Lock(Work work, string number, HeldStock seen)
    {
        if (seen is PooledReservation pooled)
            return await OfCampaign(work, number, pooled);
        var found = await OrderLookup.FindLocked(work, number);
        if (found.Refusal is { } unknown)
            return unknown;
        var order = found.Value;
        var owns = (seen as Reservation)?.OrderId == order.Id;
        return owns && order.State == OrderState.Staged
            ? Refusal.Conflict("order-state", $"Order {order.Number} is staged with its kit complete. Unstage it first, then return the part.")
            // Before work has begun the order asks for the part again.
            : new ReturningOwner(order, null, order.State is OrderState.Open or OrderState.Draft, owns);
    }

    /// <summary>While orders of the campaign go on they may need the spare again.</summary>
    static async Task<Outcome<ReturningOwner>> OfCampaign(Work work, string number, PooledReservation pooled)
    {
        var campaign = await CampaignPool.Lock(work, pooled.CampaignId);
        var goesOn = await work.Db.WorkOrders.AnyAsync(o => o.CampaignId == campaign.Id
            && (o.State == OrderState.Open || o.State == OrderState.Staged || o.State == OrderState.Underway || o.State == OrderState.Finished), work.Ct);
        return new ReturningOwner(null, campaign, goesOn, campaign.Number == number);
    }
}
