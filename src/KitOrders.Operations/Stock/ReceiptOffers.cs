using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>Reads the orders that a receipt touches and asks the rule which of them it could finish.</summary>
internal static class ReceiptOffers
{
    public static async Task<IReadOnlyList<ReceiptOffer>> Of(Work work, Part part, Lot lot, IReadOnlyList<CoveredLine> covered)
    {
        if (covered.Count == 0)
            return [];
        var db = work.Db;
        var gained = covered.GroupBy(c => c.Order).ToDictionary(g => g.Key, g => g.Sum(c => c.Quantity));
        var gainers = gained.Keys.ToList();
        var orders = await (from order in db.WorkOrders.AsNoTracking()
                            join position in db.Positions on order.PositionId equals position.Id
                            where gainers.Contains(order.Id) || ((order.State == OrderState.Open || order.State == OrderState.Staged || order.State == OrderState.Underway)
                                && db.DemandLines.Any(l => l.OrderId == order.Id && l.PartId == part.Id && l.Short > 0 && l.ReleasedById == null))
                            select new { order.Id, order.Number, order.NeededBy, order.PlannedFitOn, order.WorkClass, order.OpenedAt, position.Criticality })
            .ToDictionaryAsync(o => o.Id, work.Ct);
        var ids = orders.Keys.ToList();
        var shorts = (await (from line in db.DemandLines.AsNoTracking()
                             join item in db.Parts on line.PartId equals item.Id
                             where ids.Contains(line.OrderId) && line.Short > 0 && line.ReleasedById == null
                             select new { line.OrderId, line.PartId, item.Number, line.Short }).ToListAsync(work.Ct)).ToLookup(l => l.OrderId);
        var offers = TakeOverOffers.Of(part.Id,
            orders.Values.Select(o => new ReceiptOrder(o.Id, new Priority(o.Number, o.Criticality, o.WorkClass, o.NeededBy, o.OpenedAt),
                o.PlannedFitOn ?? o.NeededBy, shorts[o.Id].GroupBy(s => s.PartId).ToDictionary(g => g.Key, g => g.Sum(s => s.Short)),
                gained.GetValueOrDefault(o.Id))),
            work.Today.AddDays(work.Plant.TakeOverWindowDays), lot.GoodUntil);
        return [.. offers.Select(o => new ReceiptOffer(orders[o.Order].Number, orders[o.Order].NeededBy, part.Number, o.Quantity,
            [.. o.From.Select(f => new ReceiptOfferSource(orders[f.Order].Number, f.Quantity, [.. shorts[f.Order].Select(s => s.Number).Distinct().Order(StringComparer.Ordinal)]))]))];
    }
}
