using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Planning;

namespace KitOrders.Operations.Planning;

/// <param name="Orders">Numbers of the orders it holds up, the most pressing first.</param>
/// <param name="Hours">Estimated hours of these orders, each whole.</param>
public sealed record ShortageRow(string Part, decimal Quantity, IReadOnlyList<string> Orders, decimal Hours, DateOnly? FirstIncomingOn,
    string Description, decimal? UnitCost, int? LeadTimeDays);

/// <summary>What is short, per part, worst first; see <see cref="Shortages"/>.</summary>
public sealed class ShortageList(Desk desk)
{
    public Task<IReadOnlyList<ShortageRow>> Read(DateOnly? asOf, CancellationToken ct) => desk.Read<IReadOnlyList<ShortageRow>>(async reading =>
    {
        var trip = new Trip(reading.Db);
        // A campaign's shortage holds up the most pressing of its orders.
        var orders = trip.Ask("""
            select o.id, o.number, o.work_class, o.needed_by, o.opened_at, o.estimated_hours, s.criticality
            from work_order o join position s on s.id = o.position_id where o.state in ('open', 'staged', 'underway')
              and (o.id in (select order_id from demand_line where short > 0) or o.campaign_id in (select campaign_id from demand_line where short > 0))
            """, row => (Id: row.GetInt32(0), Number: row.GetString(1), Hours: row.Maybe<decimal>(5),
                Rank: new Priority(row.GetString(1), row.GetInt32(6), row.GetInt32(2), row.GetFieldValue<DateOnly>(3), row.Maybe<DateTimeOffset>(4))));
        var lines = trip.Ask("""
            select order_id, part_id, short, source, id from demand_line where short > 0 and released_by_id is null and order_id is not null
            union all
            select o.id, l.part_id, l.short, l.source, l.id
            from demand_line l cross join lateral (
              select id from work_order where campaign_id = l.campaign_id and state in ('open', 'staged', 'underway') order by score desc, needed_by, opened_at, id limit 1
            ) o
            where l.short > 0 and l.released_by_id is null
            """, row => (Order: row.GetInt32(0), Part: row.GetInt32(1), Short: row.GetDecimal(2), Source: row.Word<LineSource>(3), Id: row.GetInt32(4)));
        var parts = trip.Ask("""
            select p.id, p.number, p.description, coalesce(s.average_cost, p.unit_cost), p.lead_time_days
            from part p join part_stock s on s.part_id = p.id where p.id in (select part_id from demand_line where short > 0)
            """, row => (Id: row.GetInt32(0), Number: row.GetString(1), Description: row.GetString(2), UnitCost: row.Maybe<decimal>(3), LeadTimeDays: row.Maybe<int>(4)));
        var incoming = trip.Ask("select part_id, reference, promised_on, quantity - received from incoming where received < quantity",
            row => new IncomingFact(new PartId(row.GetInt32(0)), row.GetString(1), row.Maybe<DateOnly>(2), row.GetDecimal(3)));
        await trip.Send(ct);

        // Orders that have ended are left out here, and with them what came between one statement and the next.
        var known = parts.Rows.ToDictionary(p => p.Id);
        var ranked = orders.Rows.OrderBy(o => o.Rank).Select((order, rank) => (order, rank)).ToDictionary(o => o.order.Id);
        var rolled = Shortages.RollUp(
            lines.Rows.Where(l => ranked.ContainsKey(l.Order) && known.ContainsKey(l.Part))
                .OrderBy(l => ranked[l.Order].rank).ThenBy(l => l.Source).ThenBy(l => l.Id)
                .Select(l => new ShortLine(new PartId(l.Part), known[l.Part].Number, new OrderId(l.Order), l.Short, ranked[l.Order].order.Hours)),
            incoming.Rows, new PromiseRule(asOf ?? reading.Today, reading.Plant.LatePromiseDays));
        return [.. rolled.Select(s => new ShortageRow(s.PartNumber, s.Quantity, [.. s.Orders.Select(o => ranked[o.Value].order.Number)], s.Hours, s.FirstIncomingOn,
            known[s.Part.Value].Description, known[s.Part.Value].UnitCost, known[s.Part.Value].LeadTimeDays))];
    }, ct);
}
