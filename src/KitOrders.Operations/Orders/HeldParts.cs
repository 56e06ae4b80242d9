using KitOrders.Operations.Stock;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>What an order holds on the shelves and has in hand, with the locks that let it be given up.</summary>
internal static class HeldParts
{
    /// <summary>Locks every part the order demands, in part order, before the order's own row.</summary>
    public static async Task<StockLedger> Lock(Work work, string number)
    {
        var parts = await (from o in work.Db.WorkOrders
                           join l in work.Db.DemandLines on o.Id equals l.OrderId
                           where o.Number == number
                           select l.PartId).Distinct().ToListAsync(work.Ct);
        var ledger = new StockLedger(work);
        await ledger.Lock(parts);
        return ledger;
    }

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
