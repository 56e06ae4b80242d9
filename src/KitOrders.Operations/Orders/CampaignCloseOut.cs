using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>What a campaign came to, pump by pump.</summary>
public sealed record CloseOutView(string Number, string Name, string JobDescription, CampaignState State, DateOnly NeededBy, DateOnly AsOf, string Currency,
    IReadOnlyList<CloseOutRow> Pumps, IReadOnlyList<CampaignSpare> Spares)
{
    public decimal HoursPlanned => Pumps.Sum(p => p.HoursPlanned ?? 0);
    public decimal HoursActual => Pumps.Sum(p => p.HoursActual);

    /// <summary>Null while a cost that belongs to it is not known.</summary>
    public decimal? CostPlanned => Sum(p => p.Cost.Planned.Total);

    public decimal? CostActual => Sum(p => p.Cost.Actual.Total);

    decimal? Sum(Func<CloseOutRow, decimal?> of)
    {
        var done = Pumps.Where(p => p.State == OrderState.Closed).Select(of).ToList();
        return done.Exists(c => c is null) ? null : done.Sum();
    }
}

/// <summary>One pump: what it was and is, the order, its dates, hours and cost, what went into it and what was not as planned.</summary>
public sealed record CloseOutRow
{
    public required string Pump { get; init; }
    public required string Serial { get; init; }

    /// <summary>Model before the order.</summary>
    public required string Was { get; init; }

    /// <summary>Model after it; null while nothing was written back.</summary>
    public required string? Is { get; init; }

    public required string Order { get; init; }
    public required OrderState State { get; init; }
    public required string? CancelReason { get; init; }
    public required DateOnly FitOn { get; init; }
    public required DateTimeOffset? OpenedAt { get; init; }
    public required DateTimeOffset? StartedAt { get; init; }
    public required DateTimeOffset? FinishedAt { get; init; }
    public required DateTimeOffset? ClosedAt { get; init; }
    public required decimal? HoursPlanned { get; init; }
    public required decimal HoursActual { get; init; }
    public required CostView Cost { get; init; }

    /// <summary>Part and quantity fitted or scrapped from the order's own lines: "2 × 30-11".</summary>
    public required IReadOnlyList<string> Parts { get; init; }

    /// <summary>Spares of the campaign that it used.</summary>
    public required IReadOnlyList<string> Spares { get; init; }

    /// <summary>Results that were not as specified, and who accepted them and why.</summary>
    public required IReadOnlyList<string> NotAsSpecified { get; init; }

    /// <summary>Unknown checks that a named person answered.</summary>
    public required IReadOnlyList<string> Answered { get; init; }
}

/// <summary>Reads the close-out report; it can be read while work still goes on.</summary>
public sealed class CampaignCloseOut(Desk desk)
{
    public Task<Outcome<CloseOutView>> Read(string number, CancellationToken ct) => desk.Read<Outcome<CloseOutView>>(async reading =>
    {
        var db = reading.Db;
        if (await db.Campaigns.AsNoTracking().SingleOrDefaultAsync(c => c.Number == number, ct) is not { } campaign)
            return CampaignBook.Unknown(number);
        var orders = await CampaignReading.Orders(reading, campaign);
        var job = await db.Jobs.AsNoTracking().SingleAsync(j => j.Id == campaign.JobId, ct);
        var changes = (await (from change in db.PumpChanges
                              join order in db.WorkOrders on change.OrderId equals order.Id
                              join before in db.PumpModels on change.ModelBefore equals before.Id
                              join after in db.PumpModels on change.ModelAfter equals after.Id
                              where order.CampaignId == campaign.Id
                              orderby change.Id
                              select new { order.Number, Was = before.Code, Is = after.Code }).ToListAsync(ct)).ToLookup(c => c.Number);
        var used = (await (from use in db.SpareUses
                           join order in db.WorkOrders on use.OrderId equals order.Id
                           join pooled in db.PooledReservations on use.ReservationId equals pooled.Id
                           join part in db.Parts on pooled.PartId equals part.Id
                           join lot in db.Lots on pooled.LotId equals lot.Id
                           where order.CampaignId == campaign.Id && use.Quantity > 0
                           orderby part.Number, lot.Number
                           select new { order.Number, Part = part.Number, Lot = lot.Number, use.Quantity }).ToListAsync(ct))
            .ToLookup(u => u.Number, u => $"{u.Quantity:0.####} × {u.Part}, lot {u.Lot}");
        return new CloseOutView(campaign.Number, campaign.Name, job.Description, Campaign.StateOf(orders.Select(o => o.State)), campaign.NeededBy, reading.Today, reading.Plant.Currency,
            [.. orders.OrderBy(o => o.Pump, StringComparer.Ordinal).ThenBy(o => o.Number, StringComparer.Ordinal).Select(o => RowOf(o, reading,
                changes[o.Number].LastOrDefault() is { } change ? (change.Was, change.Is) : (o.Model, null), [.. used[o.Number]]))],
            await CampaignReading.Spares(reading, campaign, []));
    }, ct);

    static CloseOutRow RowOf(OrderView o, Reading reading, (string Was, string? Is) model, IReadOnlyList<string> spares) => new()
    {
        Pump = o.Pump, Serial = o.Serial, Was = model.Was, Is = model.Is, Order = o.Number, State = o.State, CancelReason = o.CancelReason, FitOn = o.FitOn,
        OpenedAt = reading.Plant.TimeOf(o.OpenedAt), StartedAt = reading.Plant.TimeOf(o.StartedAt), FinishedAt = reading.Plant.TimeOf(o.FinishedAt), ClosedAt = reading.Plant.TimeOf(o.ClosedAt),
        HoursPlanned = o.EstimatedHours, HoursActual = o.Hours.Sum(h => h.Hours), Cost = o.Cost,
        Parts = [.. o.Demand.Select(d => (d.Part, Used: d.Reservations.Sum(r => r.Fitted + r.Scrapped))).Where(d => d.Used > 0).Select(d => $"{d.Used:0.####} × {d.Part}")],
        Spares = spares,
        NotAsSpecified = [.. o.Steps.Where(s => s.Results.Any(r => r.Outcome == StepOutcome.NotAsSpecified)).Select(Deviation)],
        Answered = [.. o.Suitability.Where(c => c.Answer is not null).Select(c => $"{c.Kit}, {Word.Of(c.Check)}: {c.Answer}, {c.AnsweredBy}{(c.Note is { Length: > 0 } note ? $": {note}" : "")}")],
    };

    static string Deviation(StepView s)
    {
        var result = s.Results.Last(r => r.Outcome == StepOutcome.NotAsSpecified);
        var then = result.Corrected ? "corrected since" : s.AcceptedBy is { } by ? $"accepted by {by}: {s.AcceptReason}" : "not decided yet";
        return $"Step {s.Step}, {s.Text}: {(string.IsNullOrWhiteSpace(result.Note) ? "no note" : result.Note)} ({then})";
    }
}
