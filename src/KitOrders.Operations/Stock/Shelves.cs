using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>What lies on the shelves of some parts, lot by lot and bin by bin.</summary>
internal static class Shelves
{
    /// <summary>
    /// Asks for what is free of the locked parts; see <see cref="StockLedger.AskLock"/>. Each bin is looked up by itself: joined,
    /// all bins of the plant would be read for the few that matter.
    /// </summary>
    public static Trip.Answer<LotBalance> AskFree(Trip trip) => trip.Ask("""
        select s.part_id, s.lot_id, l.number, s.bin_id, (select walk_order from bin where id = s.bin_id), l.received_on, l.expires_on, l.quarantine is not null, s.on_hand, s.reserved
        from bin_stock s join lot l on l.id = s.lot_id
        where s.part_id = any(@lockedParts) and s.on_hand > s.reserved
        """, row => new LotBalance(new PartId(row.GetInt32(0)), new LotId(row.GetInt32(1)), row.GetString(2), new BinId(row.GetInt32(3)), row.GetInt32(4),
            row.GetFieldValue<DateOnly>(5), Kits.SuitabilityReading.LastGoodDay(row, 6), row.GetBoolean(7), row.GetDecimal(8), row.GetDecimal(9)));

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
