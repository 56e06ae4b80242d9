using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>What stands in for what on some orders.</summary>
internal static class Replacements
{
    /// <summary>A replacement with the parts of its two lines.</summary>
    public sealed record Row(PartId Part, PartId By, Replacement Kept);

    public static Task<List<Row>> Of(KitOrdersDb db, OrderId order, CancellationToken ct) => Of(db, [order], ct);

    public static Task<List<Row>> Of(KitOrdersDb db, IReadOnlyList<OrderId> orders, CancellationToken ct) =>
        (from kept in db.Replacements.AsNoTracking()
         join line in db.DemandLines on kept.LineId equals line.Id
         join other in db.DemandLines on kept.ByLineId equals other.Id
         where orders.Contains(kept.OrderId)
         orderby kept.MadeAt, line.Id
         select new Row(line.PartId, other.PartId, kept)).ToListAsync(ct);
}
