using KitOrders.Rules.Orders;
using KitOrders.Rules.Stock;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>A reservation that still holds stock on the shelf, with the rank of its order.</summary>
internal sealed record Holder(Reservation Reservation, string Order, Priority Priority, DateOnly FitOn)
{
    /// <summary>The hold given up: what was reserved is short again.</summary>
    public StockEntry GiveUp(decimal quantity) => new(Reservation.PartId, Reservation.LotId, Reservation.BinId)
    {
        Reserved = -quantity, Short = quantity, Reservation = Reservation.Id, Line = Reservation.DemandLineId, Order = Reservation.OrderId,
    };
}

/// <summary>Who holds what lies on the shelf, the most pressing order first; within an order the lines in the order in which stock goes to them.</summary>
internal static class Holders
{
    public static async Task<List<Holder>> Of(KitOrdersDb db, LotId lot, BinId? bin, CancellationToken ct)
    {
        var rows = await (from held in db.Reservations.AsNoTracking()
                          join line in db.DemandLines on held.DemandLineId equals line.Id
                          join order in db.WorkOrders on held.OrderId equals order.Id
                          join position in db.Positions on order.PositionId equals position.Id
                          where held.LotId == lot && (bin == null || held.BinId == bin) && held.Held > 0
                          select new { held, line.Source, order.Number, position.Criticality, order.WorkClass, order.NeededBy, order.PlannedFitOn, order.OpenedAt })
            .ToListAsync(ct);
        return [.. rows
            .Select(r => (r.Source, Holder: new Holder(r.held, r.Number, new Priority(r.Number, r.Criticality, r.WorkClass, r.NeededBy, r.OpenedAt),
                r.PlannedFitOn ?? r.NeededBy)))
            .OrderBy(r => r.Holder.Priority).ThenBy(r => r.Source).ThenBy(r => r.Holder.Reservation.Id.Value).Select(r => r.Holder)];
    }

    /// <summary>Who loses how much when so much is not there: the least pressing order first, of an order its spares first.</summary>
    public static List<(Holder Holder, decimal Quantity)> Losing(IEnumerable<Holder> holders, decimal missing)
    {
        var losing = new List<(Holder, decimal)>();
        foreach (var holder in holders.Reverse())
        {
            if (missing <= 0)
                break;
            var quantity = Math.Min(missing, holder.Reservation.Held);
            losing.Add((holder, quantity));
            missing -= quantity;
        }
        return losing;
    }

    public static string Sentence(IEnumerable<(Holder Holder, decimal Quantity)> held) =>
        string.Join(", ", held.GroupBy(h => h.Holder.Order).Select(g => $"order {g.Key} {g.Sum(h => h.Quantity):0.####}"));
}
