using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Stock;

/// <summary>What a waiting line got.</summary>
/// <param name="Order">Null where the line is a campaign's.</param>
/// <param name="OrderNumber">Of the order or of the campaign.</param>
internal sealed record CoveredLine(OrderId? Order, string OrderNumber, DemandLineId Line, PartId Part, string PartNumber, decimal Quantity);

/// <summary>
/// Gives stock that was freed or has come to the lines that wait for it, the most pressing order first, partially if need be,
/// with lots usable on that order's planned fit date. It runs inside the operation that freed the stock, in its transaction,
/// with the parts locked.
/// </summary>
internal static class CoverShortages
{
    /// <summary>States of orders that wait for what is short, as a statement names them.</summary>
    public static readonly string Living = string.Join(", ", new[] { OrderState.Open, OrderState.Staged, OrderState.Underway }.Select(s => $"'{Word.Of(s)}'"));

    /// <param name="by">What covered them, for the history: "receipt of lot A4".</param>
    public static async Task<IReadOnlyList<CoveredLine>> Run(Work work, IEnumerable<PartId> parts, string by = "stock that became free")
    {
        await work.Db.SaveChangesAsync(work.Ct);
        var trip = work.Last.With("lockedParts", parts.Select(p => p.Value).Distinct().ToArray());
        var waiting = AskWaiting(trip);
        var shelves = Shelves.AskFree(trip);
        await work.Send();
        // In the order of rule 5, then of their sources.
        var lines = Stand(waiting.Rows).OrderBy(w => w.Rank).ThenBy(w => w.Source).ThenBy(w => w.PartNumber, StringComparer.Ordinal).ToList();
        if (lines.Count == 0)
            return [];
        var holds = ReservationPlan.CoverShortages(lines.Select(w => new Wanting(w.Line, w.Part, w.Short, w.FitOn)), shelves.Rows);
        var byLine = lines.ToDictionary(w => w.Line);
        StockLedger.TellHolds(work.Last, [.. holds.Select(h =>
            new LineHold(h.Line, byLine[h.Line].Part, h.Take.Lot, h.Take.Bin, h.Take.Quantity))]);
        var covered = holds.GroupBy(h => h.Line)
            .Select(g => (Line: byLine[g.Key], Quantity: g.Sum(h => h.Quantity())))
            .Select(c => new CoveredLine(c.Line.Campaign is null ? c.Line.Order : null, c.Line.Campaign ?? c.Line.Rank.Number, c.Line.Line, c.Line.Part, c.Line.PartNumber, c.Quantity)).ToList();
        foreach (var order in covered.GroupBy(c => (c.Order, c.OrderNumber)))
        {
            var owner = order.Key.Order is null ? "campaign" : "order";
            work.Audit($"{owner} {order.Key.OrderNumber}",
                $"Shortage covered by {by}: {string.Join(", ", order.Select(c => $"{c.Quantity:0.####} × {c.PartNumber}"))}.", order.Key.Order);
            work.Changed($"{owner}:{order.Key.OrderNumber}");
        }
        return covered;
    }

    /// <summary>A campaign's line stands with the most pressing of its orders and has to serve the last of them.</summary>
    static IEnumerable<WaitingShort> Stand(IEnumerable<WaitingShort> waiting) =>
        waiting.GroupBy(w => w.Line).Select(line => line.MinBy(w => w.Rank)! with { FitOn = line.Max(w => w.FitOn) });

    static decimal Quantity(this Hold hold) => hold.Take.Quantity;

    /// <summary>Lines of the locked parts that wait; those that a planner let go do not.</summary>
    static Trip.Answer<WaitingShort> AskWaiting(Trip trip) => trip.Ask($"""
        select l.id, l.part_id, l.source, l.short, p.number, o.id, coalesce(o.planned_fit_on, o.needed_by),
               o.number, s.criticality, o.work_class, o.needed_by, o.opened_at, c.number
        from demand_line l join campaign c on c.id = l.campaign_id join work_order o on o.campaign_id = c.id join position s on s.id = o.position_id
        join part p on p.id = l.part_id
        where l.part_id = any(@lockedParts) and l.short > 0 and l.released_by_id is null and o.state in ({Living})
        union all
        select l.id, l.part_id, l.source, l.short, p.number, o.id, coalesce(o.planned_fit_on, o.needed_by),
               o.number, s.criticality, o.work_class, o.needed_by, o.opened_at, null
        from demand_line l join work_order o on o.id = l.order_id join position s on s.id = o.position_id join part p on p.id = l.part_id
        where l.part_id = any(@lockedParts) and l.short > 0 and l.released_by_id is null and o.state in ({Living})
        """, row => new WaitingShort(new DemandLineId(row.GetInt32(0)), new PartId(row.GetInt32(1)), row.Word<LineSource>(2), row.GetDecimal(3), row.GetString(4),
            new OrderId(row.GetInt32(5)), row.GetFieldValue<DateOnly>(6),
            new Priority(row.GetString(7), row.GetInt32(8), row.GetInt32(9), row.GetFieldValue<DateOnly>(10), row.Maybe<DateTimeOffset>(11)),
            row.Text(12)));

    sealed record WaitingShort(DemandLineId Line, PartId Part, LineSource Source, decimal Short, string PartNumber, OrderId Order, DateOnly FitOn, Priority Rank, string? Campaign);
}
