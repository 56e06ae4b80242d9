using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Planning;

/// <summary>A short line of an order with the order's estimated hours (null: not recorded).</summary>
public readonly record struct ShortLine(PartId Part, string PartNumber, OrderId Order, decimal Quantity, decimal? OrderHours);

/// <summary>What is short of one part, and the work it holds up.</summary>
/// <param name="Orders">The orders that it holds, in the order given.</param>
/// <param name="Hours">Estimated hours of these orders, each whole, whatever else they wait for.</param>
/// <param name="FirstIncomingOn">The day for which the first promised delivery counts; null when none is promised.</param>
public sealed record PartShortage(
    PartId Part, string PartNumber, decimal Quantity, IReadOnlyList<OrderId> Orders, decimal Hours, DateOnly? FirstIncomingOn);

/// <summary>Shortages per part, worst first: by hours, then quantity, then part number.</summary>
public static class Shortages
{
    public static IReadOnlyList<PartShortage> RollUp(
        IEnumerable<ShortLine> lines, IEnumerable<IncomingFact> incoming, PromiseRule promises)
    {
        var firsts = incoming
            .Where(i => i.PromisedOn is not null && i.Quantity > 0)
            .GroupBy(i => i.Part)
            .ToDictionary(g => g.Key, g => g.Min(i => promises.CountsOn(i.PromisedOn!.Value)));
        return
        [
            .. lines
                .Where(l => l.Quantity > 0)
                .GroupBy(l => l.Part)
                .Select(g => new PartShortage(
                    g.Key,
                    g.First().PartNumber,
                    g.Sum(l => l.Quantity),
                    [.. g.Select(l => l.Order).Distinct()],
                    g.DistinctBy(l => l.Order).Sum(l => l.OrderHours ?? 0),
                    firsts.TryGetValue(g.Key, out var first) ? first : null))
                .OrderByDescending(s => s.Hours)
                .ThenByDescending(s => s.Quantity)
                .ThenBy(s => s.PartNumber, StringComparer.Ordinal),
        ];
    }
}
