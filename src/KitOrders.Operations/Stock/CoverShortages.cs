using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>What a waiting line got.</summary>
internal sealed record CoveredLine(OrderId Order, string OrderNumber, DemandLineId Line, PartId Part, string PartNumber, decimal Quantity);

/// <summary>
/// Gives stock that was freed or has come to the lines that wait for it, the most pressing order first, partially if need be,
/// with lots usable on that order's planned fit date. It runs inside the operation that freed the stock, in its transaction,
/// with the parts locked.
/// </summary>
internal static class CoverShortages
{
    static readonly OrderState[] living = [OrderState.Open, OrderState.Staged, OrderState.Underway];

    /// <param name="by">What covered them, for the history: "receipt of lot A4".</param>
    public static async Task<IReadOnlyList<CoveredLine>> Run(Work work, IEnumerable<PartId> parts, string by = "stock that became free")
    {
        await work.Db.SaveChangesAsync(work.Ct);
        var ids = parts.Distinct().ToList();
        var waiting = await Waiting(work, ids);
        if (waiting.Count == 0)
            return [];
        var holds = ReservationPlan.CoverShortages(
            waiting.Select(w => new Wanting(w.Line, w.Part, w.Short, w.FitOn)), await Shelves.Of(work.Db, ids, work.Ct));
        var byLine = waiting.ToDictionary(w => w.Line);
        await new StockLedger(work).Reserve([.. holds.Select(h =>
            new LineHold(h.Line, byLine[h.Line].Order, byLine[h.Line].Part, h.Take.Lot, h.Take.Bin, h.Take.Quantity))]);
        var covered = holds.GroupBy(h => h.Line)
            .Select(g => (Line: byLine[g.Key], Quantity: g.Sum(h => h.Take.Quantity)))
            .Select(c => new CoveredLine(c.Line.Order, c.Line.Number, c.Line.Line, c.Line.Part, c.Line.PartNumber, c.Quantity)).ToList();
        foreach (var order in covered.GroupBy(c => (c.Order, c.OrderNumber)))
        {
            work.Audit($"order {order.Key.OrderNumber}",
                $"Shortage covered by {by}: {string.Join(", ", order.Select(c => $"{c.Quantity:0.####} × {c.PartNumber}"))}.", order.Key.Order);
            work.Changed($"order:{order.Key.OrderNumber}");
        }
        return covered;
    }

    /// <summary>Lines that a planner let go are not waiting; the others stand in the order of rule 5, then of their sources.</summary>
    static async Task<List<WaitingShort>> Waiting(Work work, List<PartId> parts)
    {
        var rows = await (from line in work.Db.DemandLines
                          join order in work.Db.WorkOrders on line.OrderId equals order.Id
                          join position in work.Db.Positions on order.PositionId equals position.Id
                          join part in work.Db.Parts on line.PartId equals part.Id
                          where parts.Contains(line.PartId) && line.Short > 0 && line.ReleasedById == null && living.Contains(order.State)
                          select new
                          {
                              Line = line.Id, line.PartId, line.Source, line.Short, PartNumber = part.Number, order.Id, order.Number,
                              position.Criticality, order.WorkClass, order.NeededBy, order.PlannedFitOn, order.OpenedAt,
                          }).AsNoTracking().ToListAsync(work.Ct);
        return [.. rows
            .Select(r => (Row: r, Rank: new Priority(r.Number, r.Criticality, r.WorkClass, r.NeededBy, r.OpenedAt)))
            .OrderBy(r => r.Rank).ThenBy(r => r.Row.Source).ThenBy(r => r.Row.PartNumber, StringComparer.Ordinal)
            .Select(r => new WaitingShort(r.Row.Line, r.Row.PartId, r.Row.PartNumber, r.Row.Id, r.Row.Number, r.Row.Short,
                r.Row.PlannedFitOn ?? r.Row.NeededBy))];
    }

    sealed record WaitingShort(DemandLineId Line, PartId Part, string PartNumber, OrderId Order, string Number, decimal Short, DateOnly FitOn);
}
