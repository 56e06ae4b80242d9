using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>What lies on the shelves of some parts, lot by lot and bin by bin.</summary>
internal static class Shelves
{
    public static async Task<IReadOnlyList<LotBalance>> Of(KitOrdersDb db, IEnumerable<PartId> parts, CancellationToken ct)
    {
        var ids = parts.Distinct().ToList();
        return await (from stock in db.BinStocks.AsNoTracking()
                      join lot in db.Lots on stock.LotId equals lot.Id
                      join bin in db.Bins on stock.BinId equals bin.Id
                      where ids.Contains(stock.PartId) && stock.OnHand > 0
                      select new LotBalance(stock.PartId, lot.Id, lot.Number, bin.Id, bin.WalkOrder, lot.ReceivedOn,
                          lot.ExpiresOn == Lot.NoExpiry ? null : lot.ExpiresOn, lot.Quarantine != null, stock.OnHand, stock.Reserved))
            .ToListAsync(ct);
    }
}
