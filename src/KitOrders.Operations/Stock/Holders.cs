using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Stock;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>A reservation that still holds stock on the shelf, with the rank of its order; a campaign's with that of its most pressing order.</summary>
/// <param name="Order">Number of the order or of the campaign.</param>
/// <param name="FitOn">A campaign's lots must last for the latest of its orders.</param>
internal sealed record Holder(HeldStock Reservation, string Order, Priority Priority, DateOnly FitOn)
{
    public OrderId? OrderId => (Reservation as Reservation)?.OrderId;

    public string Called => OrderId is null ? $"campaign {Order}" : $"order {Order}";

    /// <summary>The hold given up: what was reserved is short again.</summary>
    public StockEntry GiveUp(decimal quantity) => new(Reservation.PartId, Reservation.LotId, Reservation.BinId)
    {
        Reserved = -quantity, Short = quantity, Reservation = Reservation.Id, Line = Reservation.DemandLineId, Order = OrderId,
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
            .Concat(await OfCampaigns(db, lot, bin, ct))
            .OrderBy(r => r.Holder.Priority).ThenBy(r => r.Source).ThenBy(r => r.Holder.Reservation.Id.Value).Select(r => r.Holder)];
    }

    static async Task<IEnumerable<(LineSource Source, Holder Holder)>> OfCampaigns(KitOrdersDb db, LotId lot, BinId? bin, CancellationToken ct)
    {
        var held = await (from pooled in db.PooledReservations.AsNoTracking()
                          join line in db.PooledLines on pooled.DemandLineId equals line.Id
                          where pooled.LotId == lot && (bin == null || pooled.BinId == bin) && pooled.Held > 0
                          select new { pooled, line.Source }).ToListAsync(ct);
        var places = await CampaignPlaces.Of(db, held.Select(h => h.pooled.CampaignId), ct);
        return held.Select(h => (h.Source, new Holder(h.pooled, places[h.pooled.CampaignId].Number, places[h.pooled.CampaignId].Rank, places[h.pooled.CampaignId].LastFit)));
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
        string.Join(", ", held.GroupBy(h => h.Holder.Called).Select(g => $"{g.Key} {g.Sum(h => h.Quantity):0.####}"));
}
