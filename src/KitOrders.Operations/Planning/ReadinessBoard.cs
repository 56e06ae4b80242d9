using KitOrders.Operations.Stock;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Planning;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Planning;

/// <summary>When an order can have all its parts in hand, and what holds it up.</summary>
public sealed record ReadinessRow
{
    public required string Order { get; init; }
    public required int Score { get; init; }
    public required DateOnly? ReadyOn { get; init; }
    public required DateOnly? ReadyIfBoughtToday { get; init; }
    public required string? BindingPart { get; init; }
    public required IReadOnlyList<PartQuantity> Uncovered { get; init; }

    public required OrderState State { get; init; }
    public required string Pump { get; init; }
    public required string Job { get; init; }
    public required int Criticality { get; init; }
    public required int WorkClass { get; init; }
    public required DateOnly NeededBy { get; init; }
    public required DateOnly FitOn { get; init; }
    public required decimal? Hours { get; init; }
    public required IReadOnlyList<WaitingPart> Waiting { get; init; }
}

public sealed record PartQuantity(string Part, decimal Quantity);

/// <summary>A line that has not all in hand.</summary>
public sealed record WaitingPart(string Part, string Description, decimal Short, decimal Uncovered, DateOnly? ReadyOn, int? LeadTimeDays, IReadOnlyList<PromiseTaken> Promises);

/// <param name="Late">The promise had passed, so that another day counts.</param>
public sealed record PromiseTaken(string Reference, DateOnly On, bool Late, decimal Quantity);

/// <summary>All open and staged orders in the order of priority, each with its day; see <see cref="Readiness"/>.</summary>
public sealed class ReadinessBoard(Desk desk)
{
    static readonly OrderState[] states = [OrderState.Open, OrderState.Staged];

    public Task<IReadOnlyList<ReadinessRow>> Read(DateOnly? asOf, CancellationToken ct) => desk.Read<IReadOnlyList<ReadinessRow>>(async reading =>
    {
        var orders = await OrdersInPlan.Of(reading.Db, states, ct);
        var wanting = orders.SelectMany(o => o.Lines).Where(l => l.Short > 0).Select(l => l.PartId).Distinct().ToList();
        var parts = await reading.Db.Parts.AsNoTracking().Where(p => wanting.Contains(p.Id)).ToDictionaryAsync(p => p.Id, ct);
        var ready = Readiness.Of(new ReadinessFacts(
            new PromiseRule(asOf ?? reading.Today, reading.Plant.LatePromiseDays),
            [.. orders.Select(o => new OrderFact(o.Order.Id, o.Order.FitOn, [.. o.Lines.Select(l => new LineFact(l.Id, l.PartId, l.Required, l.Picked, l.Reserved))]))],
            await Shelves.Of(reading.Db, wanting, ct),
            await OrdersInPlan.Incoming(reading.Db, wanting, ct),
            parts.ToDictionary(p => p.Key, p => new LeadFact(p.Key, p.Value.Number, p.Value.LeadTimeDays))));
        return [.. orders.Zip(ready, (order, answer) => Row(order, answer, parts))];
    }, ct);

    static ReadinessRow Row(OrderInPlan plan, OrderReadiness answer, Dictionary<PartId, Part> parts)
    {
        var lines = plan.Lines.ToDictionary(l => l.Id);
        return new ReadinessRow
        {
            Order = plan.Order.Number,
            Score = plan.Priority.Score,
            ReadyOn = answer.ReadyOn,
            ReadyIfBoughtToday = answer.ReadyIfBoughtToday,
            BindingPart = answer.BindingPart is { } binding ? parts[binding].Number : null,
            Uncovered = [.. answer.Uncovered.Select(u => new PartQuantity(parts[u.Part].Number, u.Quantity))],
            State = plan.Order.State,
            Pump = plan.Pump,
            Job = plan.Job,
            Criticality = plan.Priority.Criticality,
            WorkClass = plan.Priority.WorkClass,
            NeededBy = plan.Order.NeededBy,
            FitOn = plan.Order.FitOn,
            Hours = plan.Order.EstimatedHours,
            Waiting = [.. answer.Waiting.Select(w => new WaitingPart(parts[w.Part].Number, parts[w.Part].Description, lines[w.Line].Short, w.Uncovered,
                w.ReadyOn, parts[w.Part].LeadTimeDays, [.. w.Promises.Select(p => new PromiseTaken(p.Reference, p.On, p.Late, p.Quantity))]))],
        };
    }
}
