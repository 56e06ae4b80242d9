using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>The storeroom's day.</summary>
/// <param name="Receipts">Purchase lines promised for today or before and not received.</param>
public sealed record StoreDay(DateOnly Today, IReadOnlyList<QueueRow> Orders, IReadOnlyList<DueReceipt> Receipts, int Expiring, int Quarantined);

/// <param name="ToPick">Lines still on the shelf.</param>
/// <param name="Missing">Lines that are short and that no planner let go.</param>
public sealed record QueueRow(string Order, OrderState State, string Pump, string Job, int Score, DateOnly FitOn, int ToPick, int Picked, int Missing, int Bins, string? Place)
{
    /// <summary>The spares of a campaign, named by its number.</summary>
    public bool Campaign { get; init; }
}

public sealed record DueReceipt(string Reference, string Part, string Description, decimal Outstanding, DateOnly PromisedOn, string? Supplier);

/// <summary>What to pick, by the day it is needed, then by priority; what has been promised for today; what ages.</summary>
public sealed class PicksDue(Desk desk)
{
    public const int ExpiryDays = 60;

    static readonly OrderState[] states = [OrderState.Open, OrderState.Staged, OrderState.Underway];

    public Task<StoreDay> Read(CancellationToken ct) => desk.Read(async reading =>
    {
        var db = reading.Db;
        var heads = await (from order in db.WorkOrders
                           join position in db.Positions on order.PositionId equals position.Id
                           join job in db.Jobs on order.JobId equals job.Id
                           where states.Contains(order.State)
                           select new
                           {
                               order.Id, order.Number, order.State, position.Tag, position.Criticality, Job = job.Code, order.WorkClass, order.NeededBy,
                               order.OpenedAt, FitOn = order.PlannedFitOn ?? order.NeededBy, order.StagedPlace,
                           }).ToListAsync(ct);
        // Lines that a planner let go are not looked for.
        var lines = await (from line in db.DemandLines
                           join order in db.WorkOrders on line.OrderId equals order.Id
                           where states.Contains(order.State) && line.ReleasedById == null
                           group line by line.OrderId into order
                           select new
                           {
                               order.Key, Reserved = order.Count(l => l.Reserved > 0), Picked = order.Count(l => l.Picked > 0 && l.Reserved == 0),
                               Short = order.Count(l => l.Short > 0), Begun = order.Any(l => l.Reserved > 0 || l.Picked > 0),
                           }).ToDictionaryAsync(l => l.Key, ct);
        var bins = await (from held in db.Reservations where held.Held > 0 group held.BinId by held.OrderId into order select new { order.Key, Count = order.Distinct().Count() })
            .ToDictionaryAsync(b => b.Key, b => b.Count, ct);
        var rows = heads.Select(o => (Order: o, Lines: lines.GetValueOrDefault(o.Id)))
            .Where(o => o.Order.State == OrderState.Open ? o.Lines?.Begun == true : o.Lines?.Reserved > 0 || o.Order.State == OrderState.Staged)
            .Select(o => (o.Order, o.Lines, Priority: new Priority(o.Order.Number, o.Order.Criticality, o.Order.WorkClass, o.Order.NeededBy, o.Order.OpenedAt)))
            .Select(o => (o.Order.FitOn, Rank: o.Priority, Row: new QueueRow(o.Order.Number, o.Order.State, o.Order.Tag, o.Order.Job, o.Priority.Score, o.Order.FitOn, o.Lines?.Reserved ?? 0,
                o.Lines?.Picked ?? 0, o.Lines?.Short ?? 0, bins.GetValueOrDefault(o.Order.Id), o.Order.StagedPlace)))
            .Concat(await CampaignStock.ToPick(reading)).OrderBy(o => o.FitOn).ThenBy(o => o.Rank).Select(o => o.Row).ToList();
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
