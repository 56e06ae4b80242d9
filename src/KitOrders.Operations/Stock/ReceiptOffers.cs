using KitOrders.Operations.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Stock;

/// <summary>Reads the orders that a receipt touches and asks the rule which of them it could finish.</summary>
internal static class ReceiptOffers
{
    public static async Task<IReadOnlyList<ReceiptOffer>> Of(Work work, CatalogueItem part, DateOnly? goodUntil, IReadOnlyList<CoveredLine> covered)
    {
        // What a campaign got finishes no order.
        var gained = covered.Where(c => c.Order is not null).GroupBy(c => c.Order!.Value).ToDictionary(g => g.Key, g => g.Sum(c => c.Quantity));
        if (gained.Count == 0)
            return [];
        var rows = work.Last.With("gainers", gained.Keys.Select(o => o.Value).ToArray()).With("receivedPart", part.Id.Value).Ask($"""
            select o.id, o.number, s.criticality, o.work_class, o.needed_by, o.opened_at, coalesce(o.planned_fit_on, o.needed_by), l.part_id, p.number, l.short
            from work_order o join position s on s.id = o.position_id
            left join demand_line l on l.order_id = o.id and l.short > 0 and l.released_by_id is null left join part p on p.id = l.part_id
            where o.id = any(array(
              select unnest(@gainers)
              union
              select w.order_id from demand_line w join work_order wo on wo.id = w.order_id
              where w.part_id = @receivedPart and w.short > 0 and w.released_by_id is null and wo.state in ({CoverShortages.Living})))
            """, row => (Id: new OrderId(row.GetInt32(0)),
                Rank: new Priority(row.GetString(1), row.GetInt32(2), row.GetInt32(3), row.GetFieldValue<DateOnly>(4), row.Maybe<DateTimeOffset>(5)),
                FitOn: row.GetFieldValue<DateOnly>(6), Part: row.Maybe<int>(7), PartNumber: row.Text(8), Short: row.Maybe<decimal>(9)));
        await work.Send();
        var orders = rows.Rows.GroupBy(r => r.Id).ToDictionary(o => o.Key, o => o.ToList());
        var offers = TakeOverOffers.Of(part.Id,
            orders.Select(o => new ReceiptOrder(o.Key, o.Value[0].Rank, o.Value[0].FitOn,
                o.Value.Where(s => s.Part is not null).GroupBy(s => new PartId(s.Part!.Value)).ToDictionary(g => g.Key, g => g.Sum(s => s.Short!.Value)),
                gained.GetValueOrDefault(o.Key))),
            work.Today.AddDays(work.Plant.TakeOverWindowDays), goodUntil);
        return [.. offers.Select(o => new ReceiptOffer(orders[o.Order][0].Rank.Number, orders[o.Order][0].Rank.NeededBy, part.Number, o.Quantity,
            [.. o.From.Select(f => new ReceiptOfferSource(orders[f.Order][0].Rank.Number, f.Quantity,
                [.. orders[f.Order].Where(s => s.PartNumber is not null).Select(s => s.PartNumber!).Distinct().Order(StringComparer.Ordinal)]))]))];
    }
}
