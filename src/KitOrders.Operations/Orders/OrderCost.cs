using KitOrders.Rules.Orders;

namespace KitOrders.Operations.Orders;

/// <summary>Cost planned and actual: parts at the unit costs of opening, hours at the crew's rate.</summary>
internal static class OrderCost
{
    public static CostView Of(string currency, WorkOrder order, IReadOnlyList<DemandView> demand, IReadOnlyList<HoursWorked> hours,
        decimal? draftHours, decimal? draftRate)
    {
        var planned = new CostSum(
            Sum(demand.Where(l => !l.Spare).Select(l => (l.Required, l.UnitCost))),
            (order.EstimatedHours ?? draftHours) * (order.HourlyRate ?? draftRate));
        var actual = order.ActualParts is not null
            ? new CostSum(order.ActualParts, order.ActualLabour)
            : new CostSum(Sum(demand.Select(l => (l.Reservations.Sum(r => r.Picked - r.Returned), l.UnitCost))),
                hours.Count == 0 ? null : hours.Sum(h => h.Hours * (h.HourlyRate ?? order.HourlyRate ?? 0)));
        return new CostView(currency, planned, actual);
    }

    /// <summary>Null as soon as something that is needed has no known cost: a sum that left it out would be wrong.</summary>
    static decimal? Sum(IEnumerable<(decimal Quantity, decimal? Cost)> lines)
    {
        decimal? sum = 0;
        foreach (var (quantity, cost) in lines.Where(l => l.Quantity != 0))
            sum += quantity * cost;
        return sum is { } known ? decimal.Round(known, 2, MidpointRounding.AwayFromZero) : null;
    }
}
