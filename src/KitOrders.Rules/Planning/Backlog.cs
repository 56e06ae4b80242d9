using KitOrders.Rules.Orders;

namespace KitOrders.Rules.Planning;

/// <summary>Weekly hours a crew can give to the backlog: straight time + scheduled overtime − indirect commitments (SMRP 5.4.9).</summary>
/// <param name="Indirect">Meetings, training, leave.</param>
public readonly record struct CrewWeek(int People, decimal HoursEach, decimal Overtime = 0, decimal Indirect = 0)
{
    public decimal Capacity => (People * HoursEach) + Overtime - Indirect;
}

/// <summary>An order that is not finished.</summary>
/// <param name="EstimatedHours">Null: labour not estimated, so the order can be in no backlog of hours.</param>
/// <param name="Planned">It has been opened: job, procedure and parts are settled.</param>
/// <param name="MaterialsInHand">Nothing is short.</param>
public sealed record BacklogOrder(
    OrderId Order, int WorkClass, decimal? EstimatedHours, bool Planned, bool MaterialsInHand, bool Started, DateOnly RaisedOn);

/// <summary>Work measured in crew-weeks, with the orders behind it.</summary>
/// <param name="Weeks">Null when the crews have no capacity to divide by.</param>
public sealed record BacklogFigure(string Definition, IReadOnlyList<OrderId> Orders, decimal Hours, decimal CapacityPerWeek, decimal? Weeks);

/// <summary>How long the orders of one work class have been waiting, in calendar days since they were raised.</summary>
public sealed record AgeingRow(
    int WorkClass, IReadOnlyList<OrderId> Orders, decimal Hours, int OldestDays, int UpToAWeek, int UpToAMonth, int UpToAQuarter, int Older);

/// <summary>The backlog as SMRP defines it. There is no look-ahead window: all work counts.</summary>
public static class Backlog
{
    public const string ReadyDefinition =
        "Ready backlog (SMRP 5.4.9): hours of work that is planned, has its materials in hand, has its labour estimated and has not started, divided by the weekly capacity of the crews.";

    public const string PlannedDefinition =
        "Planned backlog (SMRP, 6th edition): hours of planned work that has not started, whether ready or not, divided by the weekly capacity of the crews.";

    public static BacklogFigure Ready(IEnumerable<BacklogOrder> orders, IEnumerable<CrewWeek> crews) =>
        Figure(ReadyDefinition, orders.Where(o => Counts(o) && o.MaterialsInHand), crews);

    public static BacklogFigure Planned(IEnumerable<BacklogOrder> orders, IEnumerable<CrewWeek> crews) =>
        Figure(PlannedDefinition, orders.Where(Counts), crews);

    /// <summary>Orders that have not started, by work class, the most pressing class first. Bands of 7, 30 and 90 days: common practice, no source.</summary>
    public static IReadOnlyList<AgeingRow> Ageing(IEnumerable<BacklogOrder> orders, DateOnly asOf) =>
    [
        .. orders.Where(o => !o.Started).GroupBy(o => o.WorkClass).OrderByDescending(g => g.Key).Select(g =>
        {
            var ages = g.Select(o => Math.Max(0, asOf.DayNumber - o.RaisedOn.DayNumber)).ToList();
            return new AgeingRow(
                g.Key,
                [.. g.Select(o => o.Order)],
                g.Sum(o => o.EstimatedHours ?? 0),
                ages.Max(),
                ages.Count(a => a <= 7),
                ages.Count(a => a is > 7 and <= 30),
                ages.Count(a => a is > 30 and <= 90),
                ages.Count(a => a > 90));
        }),
    ];

    static bool Counts(BacklogOrder order) => order is { Planned: true, Started: false, EstimatedHours: not null };

    static BacklogFigure Figure(string definition, IEnumerable<BacklogOrder> orders, IEnumerable<CrewWeek> crews)
    {
        var counted = orders.ToList();
        var hours = counted.Sum(o => o.EstimatedHours!.Value);
        var capacity = crews.Sum(c => c.Capacity);
        return new BacklogFigure(definition, [.. counted.Select(o => o.Order)], hours, capacity, capacity > 0 ? hours / capacity : null);
    }
}
