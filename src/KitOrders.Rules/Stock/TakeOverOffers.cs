using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Stock;

/// <summary>A living order as a receipt leaves it.</summary>
/// <param name="Short">What is still short and not let go, part by part.</param>
/// <param name="Gained">What it holds of the part that came, out of this receipt.</param>
public sealed record ReceiptOrder(OrderId Order, Priority Priority, DateOnly FitOn, IReadOnlyDictionary<PartId, decimal> Short, decimal Gained);

/// <summary>An order that the receipt would finish, had it not gone to higher ones that it does not finish.</summary>
/// <param name="Quantity">What it needs, and all it needs.</param>
/// <param name="From">The higher orders that got some of it and still wait for something else.</param>
public sealed record Offer(OrderId Order, decimal Quantity, IReadOnlyList<OfferSource> From);

/// <summary>A higher order with what of the receipt it holds.</summary>
public readonly record struct OfferSource(OrderId Order, decimal Quantity);

/// <summary>Rule 4: what a receipt could finish. Offered, never done unasked.</summary>
public static class TakeOverOffers
{
    /// <summary>
    /// Orders due within the window whose last shortage is the part that came, beside higher ones that hold enough of it and are
    /// not finished by it. Each is judged on its own.
    /// </summary>
    /// <param name="lastDue">The last needed-by date that lies in the window.</param>
    /// <param name="usableUntil">The last good day of the lot; null: no expiry.</param>
    public static IReadOnlyList<Offer> Of(PartId part, IEnumerable<ReceiptOrder> orders, DateOnly lastDue, DateOnly? usableUntil)
    {
        var ranked = orders.OrderBy(o => o.Priority).ToList();
        var holders = ranked.Where(o => o is { Gained: > 0, Short.Count: > 0 }).ToList();
        var offers = new List<Offer>();
        foreach (var order in ranked)
        {
            if (order.Priority.NeededBy > lastDue || (usableUntil is { } last && last < order.FitOn)
                || order.Short.Count != 1 || !order.Short.TryGetValue(part, out var needed))
                continue;
            var higher = holders.Where(h => h.Priority < order.Priority).ToList();
            if (higher.Sum(h => h.Gained) >= needed)
                offers.Add(new Offer(order.Order, needed, [.. higher.Select(h => new OfferSource(h.Order, h.Gained))]));
        }
        return offers;
    }
}
