using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>Finds orders by the number that people know them by.</summary>
internal static class OrderLookup
{
    /// <summary>The order, followed by the context so that its methods' changes are written; its version is held against what the caller saw.</summary>
    public static Task<Outcome<WorkOrder>> Find(Work work, string number) =>
        Find(work, number, work.Db.WorkOrders.Where(o => o.Number == number));

    /// <summary>
    /// As <see cref="Find(Work, string)"/>, with the order's row locked, so that two people who change one order at a time wait
    /// for each other. Parts are locked before it wherever stock moves.
    /// </summary>
    public static Task<Outcome<WorkOrder>> FindLocked(Work work, string number) =>
        Find(work, number, work.Db.WorkOrders.FromSql($"select * from work_order where number = {number} for no key update"));

    static async Task<Outcome<WorkOrder>> Find(Work work, string number, IQueryable<WorkOrder> query)
    {
        var order = await query.Include(o => o.Kits).SingleOrDefaultAsync(work.Ct);
        if (order is null)
            return Unknown(number);
        return work.SeenIsStale(order.Version) is { } stale ? stale : order;
    }

    public static async Task<OrderId?> IdOf(KitOrdersDb db, string number, CancellationToken ct) =>
        await db.WorkOrders.Where(o => o.Number == number).Select(o => (OrderId?)o.Id).SingleOrDefaultAsync(ct);

    public static Refusal Unknown(string number) =>
        Refusal.NotFound("order-unknown", $"There is no order {number}. Look it up under Orders, or make it first.");
}
