using KitOrders.Rules;
using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>Orders as people read them: one whole, or a page of the list.</summary>
public sealed class OrderBook(Desk desk)
{
    public const int LargestPage = 500;

    public Task<Outcome<OrderView>> One(string number, CancellationToken ct) =>
        desk.Read(reading => OrderReading.View(reading, number), ct);

    /// <summary>Orders in the order in which they were made; <c>Next</c> is passed as <paramref name="after"/> for the page that follows.</summary>
    public Task<Outcome<Page<OrderView>>> List(OrderState? state, string? after, int? pageSize, CancellationToken ct) =>
        desk.Read<Outcome<Page<OrderView>>>(async reading =>
        {
            if (PageOf.Wrong(pageSize, LargestPage) is { } refusal)
                return refusal;
            OrderId? from = after is null ? default(OrderId) : await OrderLookup.IdOf(reading.Db, after, ct);
            if (from is null)
                return Refusal.Field("after", "after-unknown", $"There is no order {after}. Pass what the page before gave as next.");
            var size = pageSize ?? 50;
            var start = from.Value;
            var listed = await reading.Db.WorkOrders.Where(o => (state == null || o.State == state) && (after == null || (int)(object)o.Id > start.Value))
                .OrderBy(o => o.Id).Select(o => o.Id).Take(size + 1).ToListAsync(ct);
            var ids = listed.Take(size).ToList();
            var items = await OrderReading.Views(reading, reading.Db.WorkOrders.Where(o => ids.Contains(o.Id)));
            return new Page<OrderView>(items, listed.Count > size ? items[^1].Number : null);
        }, ct);
}
