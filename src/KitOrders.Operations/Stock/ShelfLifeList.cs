using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>A lot on the shelf that ages, or that stands aside.</summary>
/// <param name="DaysLeft">Below 0: it has expired.</param>
public sealed record ShelfLifeRow(string Part, string Description, string Lot, string Bins, decimal OnHand, decimal Reserved, DateOnly? CuredOn,
    DateOnly? ExpiresOn, int? DaysLeft, DateOnly? InspectedOn, string? Quarantined, IReadOnlyList<ShelfLifeHold> Holds);

/// <param name="Breaks">It is to be fitted after its last good day.</param>
public sealed record ShelfLifeHold(string Order, decimal Quantity, DateOnly FitOn, bool Breaks);

/// <summary>What expires when, and which reservations that would break; the first to expire first, quarantine before all.</summary>
public sealed class ShelfLifeList(Desk desk)
{
    /// <param name="days">How far to look; what has expired or is quarantined is always listed.</param>
    public Task<IReadOnlyList<ShelfLifeRow>> Read(int days, CancellationToken ct) => desk.Read<IReadOnlyList<ShelfLifeRow>>(async reading =>
    {
        var db = reading.Db;
        var until = reading.Today.AddDays(Math.Clamp(days, 0, 36_500));
        var rows = await (from stock in db.BinStocks.AsNoTracking()
                          join lot in db.Lots on stock.LotId equals lot.Id
                          join bin in db.Bins on stock.BinId equals bin.Id
                          join part in db.Parts on stock.PartId equals part.Id
                          where stock.OnHand > 0 && (lot.ExpiresOn <= until || lot.Quarantine != null)
                          select new { stock, lot, bin.Code, bin.WalkOrder, part.Number, part.Description }).ToListAsync(ct);
        var ids = rows.Select(r => r.lot.Id).Distinct().ToList();
        var held = (await (from reservation in db.Reservations.AsNoTracking()
                           join order in db.WorkOrders on reservation.OrderId equals order.Id
                           where ids.Contains(reservation.LotId) && reservation.Held > 0
                           select new { reservation.LotId, reservation.Held, order.Number, order.PlannedFitOn, order.NeededBy }).ToListAsync(ct))
            .Select(h => (Lot: h.LotId, h.Held, h.Number, FitOn: h.PlannedFitOn ?? h.NeededBy)).Concat(await CampaignStock.OfLots(reading, ids)).ToLookup(h => h.Lot);
        return [.. rows.GroupBy(r => r.lot.Id).Select(g =>
            {
                var (lot, first) = (g.First().lot, g.First());
                return new ShelfLifeRow(first.Number, first.Description, lot.Number, string.Join(", ", g.OrderBy(r => r.WalkOrder).Select(r => r.Code)),
                    g.Sum(r => r.stock.OnHand), g.Sum(r => r.stock.Reserved), lot.CuredOn, lot.GoodUntil,
                    lot.GoodUntil is { } last ? last.DayNumber - reading.Today.DayNumber : null, lot.InspectedOn, lot.Quarantine,
                    [.. held[lot.Id].GroupBy(h => (h.Number, Fit: h.FitOn)).OrderBy(h => h.Key.Fit).Select(h =>
                        new ShelfLifeHold(h.Key.Number, h.Sum(x => x.Held), h.Key.Fit, lot.ExpiresOn < Later(h.Key.Fit, reading.Today)))]);
            })
            .OrderBy(r => r.Quarantined is null).ThenBy(r => r.ExpiresOn ?? DateOnly.MaxValue).ThenBy(r => r.Part, StringComparer.Ordinal).ThenBy(r => r.Lot, StringComparer.Ordinal)];
    }, ct);

    static DateOnly Later(DateOnly one, DateOnly other) => one > other ? one : other;
}
