using KitOrders.Operations.Planning;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Planning;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>The storeroom's day.</summary>
/// <param name="Receipts">Purchase lines promised for today or before and not received.</param>
public sealed record StoreDay(DateOnly Today, IReadOnlyList<QueueRow> Orders, IReadOnlyList<DueReceipt> Receipts, int Expiring, int Quarantined);

/// <param name="ToPick">Lines still on the shelf.</param>
/// <param name="Missing">Lines that are short and that no planner let go.</param>
public sealed record QueueRow(string Order, OrderState State, string Pump, string Job, int Score, DateOnly FitOn, int ToPick, int Picked, int Missing, int Bins, string? Place);

public sealed record DueReceipt(string Reference, string Part, string Description, decimal Outstanding, DateOnly PromisedOn, string? Supplier);

/// <summary>What to pick, by the day it is needed, then by priority; what has been promised for today; what ages.</summary>
public sealed class PicksDue(Desk desk)
{
    public const int ExpiryDays = 60;

    static readonly OrderState[] states = [OrderState.Open, OrderState.Staged, OrderState.Underway];

    public Task<StoreDay> Read(CancellationToken ct) => desk.Read(async reading =>
    {
        var db = reading.Db;
        var orders = await OrdersInPlan.Of(db, states, ct);
        var bins = (await (from held in db.Reservations.AsNoTracking() where held.Held > 0 select new { held.OrderId, held.BinId }).Distinct().ToListAsync(ct)).ToLookup(h => h.OrderId);
        var rows = orders
            .Where(o => o.Order.State == OrderState.Open ? o.Lines.Any(l => l.Reserved > 0 || l.Picked > 0) : o.Lines.Any(l => l.Reserved > 0) || o.Order.State == OrderState.Staged)
            .OrderBy(o => o.Order.FitOn).ThenBy(o => o.Priority)
            .Select(o => new QueueRow(o.Order.Number, o.Order.State, o.Pump, o.Job, o.Priority.Score, o.Order.FitOn, o.Lines.Count(l => l.Reserved > 0),
                o.Lines.Count(l => l is { Picked: > 0, Reserved: 0 }), o.Lines.Count(l => l.Short > 0), bins[o.Order.Id].Count(), o.Order.StagedPlace)).ToList();
        var due = await (from line in db.Incomings.AsNoTracking()
                         join part in db.Parts on line.PartId equals part.Id
                         where line.Received < line.Quantity && line.PromisedOn <= reading.Today
                         orderby line.PromisedOn, line.Reference, part.Number
                         select new DueReceipt(line.Reference, part.Number, part.Description, line.Quantity - line.Received, line.PromisedOn!.Value, line.Supplier)).Take(50).ToListAsync(ct);
        var until = reading.Today.AddDays(ExpiryDays);
        var expiring = await db.Lots.CountAsync(l => l.ExpiresOn <= until && l.Quarantine == null && db.BinStocks.Any(s => s.LotId == l.Id && s.OnHand > 0), ct);
        var quarantined = await db.Lots.CountAsync(l => l.Quarantine != null && db.BinStocks.Any(s => s.LotId == l.Id && s.OnHand > 0), ct);
        return new StoreDay(reading.Today, rows, due, expiring, quarantined);
    }, ct);
}
