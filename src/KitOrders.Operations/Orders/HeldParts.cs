using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>What an order holds on the shelves and has in hand, with the locks that let it be given up.</summary>
internal static class HeldParts
{
    /// <summary>
    /// Locks every part the order demands and its campaign holds spares of, in part order, then the order's own row, then the
    /// campaign's. Where it asks for further parts by the time
    /// its row is had (a draft opened meanwhile, a spare needed at the bench), it is refused: they are not locked, and locking
    /// them now would be out of order.
    /// </summary>
    public static async Task<Outcome<(StockLedger Ledger, WorkOrder Order)>> Lock(Work work, string number)
    {
        var parts = await PartsOf(work, number);
        var ledger = new StockLedger(work);
        await ledger.Lock(parts);
        var found = await OrderLookup.FindLocked(work, number);
        if (found.Refusal is { } unknown)
            return unknown;
        if ((await PartsOf(work, number)).Except(parts).Any())
            return Desk.ChangedMeanwhile;
        if (found.Value.CampaignId is { } campaign)
            await CampaignPool.Lock(work, campaign);
        return (ledger, found.Value);
    }

    static Task<List<PartId>> PartsOf(Work work, string number) =>
        (from o in work.Db.WorkOrders
         join l in work.Db.DemandLines on o.Id equals l.OrderId
         where o.Number == number
         select l.PartId).Union(CampaignPool.PartsOf(work, number)).ToListAsync(work.Ct);

    public static Task<List<Reservation>> Of(Work work, OrderId order) =>
        work.Db.Reservations.AsNoTracking().Where(r => r.OrderId == order && (r.Held > 0 || r.Picked > 0)).OrderBy(r => r.Id).ToListAsync(work.Ct);

    /// <summary>Gives back what is still held on the shelves; the lines are short again. Answers the parts that became free.</summary>
    public static async Task<IReadOnlyList<PartId>> Free(StockLedger ledger, IEnumerable<Reservation> reservations)
    {
        var held = reservations.Where(r => r.Held > 0).ToList();
        await ledger.Post([.. held.Select(r => new StockEntry(r.PartId, r.LotId, r.BinId)
        {
            Reserved = -r.Held, Short = r.Held, Reservation = r.Id, Line = r.DemandLineId, Order = r.OrderId,
        })]);
        return [.. held.Select(r => r.PartId).Distinct()];
    }
}
