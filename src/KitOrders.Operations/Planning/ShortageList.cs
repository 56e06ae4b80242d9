using KitOrders.Rules.Orders;
using KitOrders.Rules.Planning;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Planning;

/// <param name="Orders">Numbers of the orders it holds up, the most pressing first.</param>
/// <param name="Hours">Estimated hours of these orders, each whole.</param>
public sealed record ShortageRow(string Part, decimal Quantity, IReadOnlyList<string> Orders, decimal Hours, DateOnly? FirstIncomingOn,
    string Description, decimal? UnitCost, int? LeadTimeDays);

/// <summary>What is short, per part, worst first; see <see cref="Shortages"/>.</summary>
public sealed class ShortageList(Desk desk)
{
    static readonly OrderState[] states = [OrderState.Open, OrderState.Staged, OrderState.Underway];

    public Task<IReadOnlyList<ShortageRow>> Read(DateOnly? asOf, CancellationToken ct) => desk.Read<IReadOnlyList<ShortageRow>>(async reading =>
    {
        var orders = await OrdersInPlan.Of(reading.Db, states, ct);
        var ids = orders.SelectMany(o => o.Lines).Where(l => l.Short > 0).Select(l => l.PartId).Distinct().ToList();
        var parts = await reading.Db.Parts.AsNoTracking().Where(p => ids.Contains(p.Id)).ToDictionaryAsync(p => p.Id, ct);
        var costs = await Stock.UnitCosts.Of(reading.Db, ids, ct);
        var numbers = orders.ToDictionary(o => o.Order.Id, o => o.Order.Number);
        var rolled = Shortages.RollUp(
            orders.SelectMany(o => o.Lines.Where(l => l.Short > 0).Select(l => new ShortLine(l.PartId, parts[l.PartId].Number, l.OrderId, l.Short, o.Order.EstimatedHours))),
            await OrdersInPlan.Incoming(reading.Db, ids, ct),
            new PromiseRule(asOf ?? reading.Today, reading.Plant.LatePromiseDays));
        return [.. rolled.Select(s => new ShortageRow(s.PartNumber, s.Quantity, [.. s.Orders.Select(o => numbers[o])], s.Hours, s.FirstIncomingOn,
            parts[s.Part].Description, costs.GetValueOrDefault(s.Part), parts[s.Part].LeadTimeDays))];
    }, ct);
}
