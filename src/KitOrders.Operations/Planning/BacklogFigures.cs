using KitOrders.Rules.Orders;
using KitOrders.Rules.Planning;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Planning;

public sealed record BacklogView
{
    public required DateOnly AsOf { get; init; }
    public required FigureView Planned { get; init; }
    public required FigureView Ready { get; init; }

    /// <summary>Orders that count nowhere, because their labour is not estimated.</summary>
    public required IReadOnlyList<string> NotEstimated { get; init; }

    public required IReadOnlyList<AgeingView> Ageing { get; init; }

    /// <summary>Orders not finished whose needed-by date has passed, the most pressing first.</summary>
    public required IReadOnlyList<LateOrder> Late { get; init; }

    public required MeasureView ScheduleCompliance { get; init; }
    public required MeasureView PlannedWork { get; init; }
    public required MeasureView StockOuts { get; init; }
    public required MeasureView InventoryAccuracy { get; init; }
    public required MeasureView Turns { get; init; }
}

/// <param name="Weeks">Crew-weeks; null when the crews have no capacity on record.</param>
public sealed record FigureView(string Definition, IReadOnlyList<string> Orders, decimal Hours, decimal CapacityPerWeek, decimal? Weeks);

public sealed record AgeingView(int WorkClass, IReadOnlyList<string> Orders, decimal Hours, int OldestDays, int UpToAWeek, int UpToAMonth, int UpToAQuarter, int Older);

/// <param name="Why">What holds it up, in words.</param>
public sealed record LateOrder(string Order, string Pump, int Score, OrderState State, DateOnly NeededBy, int DaysLate, string Why);

/// <summary>A measure with its definition, the numbers it was made from and the days they were taken from.</summary>
public sealed record MeasureView(string Definition, decimal Counted, decimal Of, decimal? Value, DateOnly From, DateOnly To, IReadOnlyList<string> Orders);

/// <summary>The backlog and the published measures, with what they were made from.</summary>
public sealed class BacklogFigures(Desk desk)
{
    const int PeriodDays = 28;
    const int TurnsDays = 365;

    static readonly OrderState[] unfinished = [OrderState.Draft, OrderState.Open, OrderState.Staged, OrderState.Underway];

    public Task<BacklogView> Read(DateOnly? asOf, CancellationToken ct) => desk.Read(async reading =>
    {
        var day = asOf ?? reading.Today;
        var plans = await OrdersInPlan.Of(reading.Db, unfinished, ct);
        var numbers = plans.ToDictionary(p => p.Order.Id, p => p.Order.Number);
        var crews = (await reading.Db.Crews.AsNoTracking().Where(c => c.People != null && c.HoursPerWeek != null).ToListAsync(ct))
            .ConvertAll(c => new CrewWeek(c.People!.Value, c.HoursPerWeek!.Value));
        var orders = plans.ConvertAll(p => new BacklogOrder(p.Order.Id, p.Order.WorkClass, p.Order.EstimatedHours, p.Order.State != OrderState.Draft,
            p.Lines.All(l => l.Short == 0), p.Order.State == OrderState.Underway, reading.Plant.DayOf(p.Order.OpenedAt ?? p.Order.MadeAt)));
        return new BacklogView
        {
            AsOf = day,
            Planned = Figure(Backlog.Planned(orders, crews), numbers),
            Ready = Figure(Backlog.Ready(orders, crews), numbers),
            NotEstimated = [.. plans.Where(p => p.Order is { EstimatedHours: null, State: not (OrderState.Draft or OrderState.Underway) }).Select(p => p.Order.Number)],
            Ageing = [.. Backlog.Ageing(orders, day).Select(a => new AgeingView(a.WorkClass, [.. a.Orders.Select(o => numbers[o])], a.Hours, a.OldestDays,
                a.UpToAWeek, a.UpToAMonth, a.UpToAQuarter, a.Older))],
            Late = [.. plans.Where(p => p.Order.NeededBy < day).Select(p => new LateOrder(p.Order.Number, p.Pump, p.Priority.Score, p.Order.State,
                p.Order.NeededBy, day.DayNumber - p.Order.NeededBy.DayNumber, Why(p)))],
            ScheduleCompliance = await Compliance(reading, day),
            PlannedWork = await PlannedHours(reading, day),
            StockOuts = await StockOuts(reading, day),
            InventoryAccuracy = await Accuracy(reading, day),
            Turns = await Turns(reading, day),
        };
    }, ct);

    static FigureView Figure(BacklogFigure f, Dictionary<OrderId, string> numbers) =>
        new(f.Definition, [.. f.Orders.Select(o => numbers[o])], f.Hours, f.CapacityPerWeek, f.Weeks);

    static string Why(OrderInPlan plan) => plan.Order switch
    {
        { State: OrderState.Draft } => "not opened yet",
        { Paused: { } reason } => $"paused: {reason}",
        { State: OrderState.Underway } => "underway",
        _ when plan.Lines.Count(l => l.Short > 0) is > 0 and var lines => lines == 1 ? "1 line short" : $"{lines} lines short",
        { State: OrderState.Open } => "parts in hand, not staged",
        _ => "staged, not started",
    };

    static (DateTimeOffset Begin, DateTimeOffset End) Between(Reading reading, DateOnly from, DateOnly to) =>
        (reading.Plant.BeginOf(from), reading.Plant.BeginOf(to.AddDays(1)));

    static MeasureView View(Measure m, DateOnly from, DateOnly to, IEnumerable<string>? orders = null) => new(m.Definition, m.Counted, m.Of, m.Value, from, to, [.. orders ?? []]);

    /// <summary>Orders are scheduled for their planned fit date, else for their needed-by date.</summary>
    static async Task<MeasureView> Compliance(Reading reading, DateOnly day)
    {
        var (from, to) = (day.AddDays(-PeriodDays), day.AddDays(-1));
        var orders = await reading.Db.WorkOrders.AsNoTracking()
            .Where(o => o.State != OrderState.Draft && o.State != OrderState.Cancelled && (o.PlannedFitOn ?? o.NeededBy) >= from && (o.PlannedFitOn ?? o.NeededBy) <= to)
            .OrderBy(o => o.Id).ToListAsync(reading.Ct);
        return View(Measures.ScheduleCompliance(orders.Select(o =>
            new ScheduledOrder(o.Id, o.FitOn, o.FinishedAt is { } at ? reading.Plant.DayOf(at) : null))), from, to, orders.Select(o => o.Number));
    }

    /// <summary>Work on a breakdown is not planned; all other orders are.</summary>
    static async Task<MeasureView> PlannedHours(Reading reading, DateOnly day)
    {
        var (from, to) = (day.AddDays(1 - PeriodDays), day);
        var (begin, end) = Between(reading, from, to);
        var worked = await (from hours in reading.Db.HoursWorked.AsNoTracking()
                             join order in reading.Db.WorkOrders on hours.OrderId equals order.Id
                             where order.FinishedAt >= begin && order.FinishedAt < end
                             select new { hours.Hours, order.Breakdown, order.Number }).ToListAsync(reading.Ct);
        return View(Measures.PlannedWork(worked.Where(h => !h.Breakdown).Sum(h => h.Hours), worked.Sum(h => h.Hours)), from, to, worked.Select(h => h.Number).Distinct());
    }

    /// <summary>
    /// A request is a demand line of an order opened in the period. It was not filled when it is short now or was picked short.
    /// A part is normally stocked once it was received before the order opened.
    /// </summary>
    static async Task<MeasureView> StockOuts(Reading reading, DateOnly day)
    {
        var (from, to) = (day.AddDays(1 - PeriodDays), day);
        var (begin, end) = Between(reading, from, to);
        var requests = await (from line in reading.Db.DemandLines.AsNoTracking()
                               join order in reading.Db.WorkOrders on line.OrderId equals order.Id
                               where line.Required > 0 && order.OpenedAt >= begin && order.OpenedAt < end && order.State != OrderState.Cancelled
                               select new
                               {
                                   order.Number, line.Short,
                                   Missed = reading.Db.Movements.Any(m => m.OrderId == order.Id && m.PartId == line.PartId && m.Kind == MovementKind.CountDifference),
                                   Stocked = reading.Db.Movements.Any(m => m.PartId == line.PartId && m.Kind == MovementKind.Receipt && m.At < order.OpenedAt),
                               }).ToListAsync(reading.Ct);
        return View(Measures.StockOuts(requests.Select(r => new StoreRequest(r.Stocked, r.Short == 0 && !r.Missed))), from, to,
            requests.Where(r => r.Stocked && (r.Short > 0 || r.Missed)).Select(r => r.Number).Distinct());
    }

    static async Task<MeasureView> Accuracy(Reading reading, DateOnly day)
    {
        var (from, to) = (day.AddDays(1 - PeriodDays), day);
        var (begin, end) = Between(reading, from, to);
        var counts = await reading.Db.BinCounts.AsNoTracking().Where(c => c.At >= begin && c.At < end)
            .Select(c => new CountedBin(c.PartId, c.Book, c.Counted)).ToListAsync(reading.Ct);
        return View(Measures.InventoryAccuracy(counts), from, to);
    }

    /// <summary>Receipts with a price, corrections taken off, over what is on hand at its average cost.</summary>
    static async Task<MeasureView> Turns(Reading reading, DateOnly day)
    {
        var (from, to) = (day.AddDays(1 - TurnsDays), day);
        var (begin, end) = Between(reading, from, to);
        var bought = await reading.Db.Movements.Where(m => m.Kind == MovementKind.Receipt && m.UnitCost != null && m.At >= begin && m.At < end)
            .SumAsync(m => m.Quantity * m.UnitCost!.Value, reading.Ct);
        var onHand = await (from stock in reading.Db.BinStocks
                            join part in reading.Db.Parts on stock.PartId equals part.Id
                            join cost in reading.Db.PartStocks on stock.PartId equals cost.PartId
                            select stock.OnHand * (cost.AverageCost ?? part.UnitCost ?? 0)).SumAsync(reading.Ct);
        return View(Measures.Turns(bought, onHand), from, to);
    }
}
