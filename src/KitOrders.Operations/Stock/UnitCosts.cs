using KitOrders.Rules.Parts;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>What a unit of each part costs now: the moving average of its receipts, else the catalogue price.</summary>
internal static class UnitCosts
{
    public static async Task<Dictionary<PartId, decimal?>> Of(KitOrdersDb db, IEnumerable<PartId> parts, CancellationToken ct)
    {
        var ids = parts.Distinct().ToList();
        return await (from part in db.Parts
                      join stock in db.PartStocks on part.Id equals stock.PartId
                      where ids.Contains(part.Id)
                      select new { part.Id, Cost = stock.AverageCost ?? part.UnitCost }).ToDictionaryAsync(p => p.Id, p => p.Cost, ct);
    }
}
