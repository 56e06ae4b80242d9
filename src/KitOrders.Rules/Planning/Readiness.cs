using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Rules.Planning;

/// <summary>A demand line as it stands. What it still needs is required − picked − reserved.</summary>
public readonly record struct LineFact(DemandLineId Line, PartId Part, decimal Required, decimal Picked, decimal Reserved)
{
    public decimal Wanting => Required - Picked - Reserved;
}

public sealed record OrderFact(OrderId Order, DateOnly FitOn, IReadOnlyList<LineFact> Lines);

/// <param name="LeadTimeDays">Calendar days. Null: not recorded.</param>
public sealed record LeadFact(PartId Part, string Number, int? LeadTimeDays);

/// <summary>Everything that readiness depends on.</summary>
/// <param name="Orders">In the order of priority, which is the order in which they are served.</param>
/// <param name="Parts">Every part of the lines.</param>
public sealed record ReadinessFacts(
    PromiseRule Promises,
    IReadOnlyList<OrderFact> Orders,
    IEnumerable<LotBalance> Lots,
    IEnumerable<IncomingFact> Incoming,
    IReadOnlyDictionary<PartId, LeadFact> Parts);

/// <summary>A line that has not all of its parts in hand.</summary>
/// <param name="ReadyOn">Null when some of it is uncovered.</param>
/// <param name="Uncovered">What neither reservation, free lot nor incoming covers.</param>
public sealed record WaitingLine(DemandLineId Line, PartId Part, DateOnly? ReadyOn, decimal Uncovered, IReadOnlyList<Promise> Promises);

public readonly record struct Uncovered(PartId Part, decimal Quantity);

/// <summary>When an order can have all its parts in hand, and what holds it up.</summary>
/// <param name="ReadyOn">The day of its latest line; null while a line is uncovered.</param>
/// <param name="ReadyIfBoughtToday">The same if what is uncovered were bought on asOf; null when a lead time that it needs is not recorded.</param>
/// <param name="BindingPart">Of the uncovered lines the one with the longest lead time (one not recorded before all), else the latest line; null when all is in hand.</param>
/// <param name="Waiting">The lines that have not all in hand, in their order.</param>
public sealed record OrderReadiness(
    OrderId Order,
    DateOnly? ReadyOn,
    DateOnly? ReadyIfBoughtToday,
    PartId? BindingPart,
    IReadOnlyList<Uncovered> Uncovered,
    IReadOnlyList<WaitingLine> Waiting);

/// <summary>
/// The first day on which each order can have all its parts in hand. Orders are served in priority; each line from its own
/// reservation and picks, then free lots usable on the order's fit date, then incoming, oldest promise first, then reference.
/// A line keeps what it took even if it stays uncovered. Calendar days throughout.
/// </summary>
public static class Readiness
{
    public static IReadOnlyList<OrderReadiness> Of(ReadinessFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var shelf = Shelf.Of(facts.Lots);
        var incoming = facts.Incoming
            .Where(i => i.Quantity > 0 && i.PromisedOn is not null)
            .GroupBy(i => i.Part)
            .ToDictionary(g => g.Key, g => new Deliveries([.. g.OrderBy(i => i.PromisedOn).ThenBy(i => i.Reference, StringComparer.Ordinal)]));
        var answers = new List<OrderReadiness>(facts.Orders.Count);
        foreach (var order in facts.Orders)
        {
            var waiting = new List<WaitingLine>();
            foreach (var line in order.Lines)
            {
                if (Serve(line, order.FitOn, facts.Promises, shelf, incoming) is { } waits)
                {
                    waiting.Add(waits);
                }
            }

            answers.Add(Judge(order.Order, waiting, facts));
        }

        return answers;
    }

    static WaitingLine? Serve(
        LineFact line, DateOnly fitOn, PromiseRule rule, Shelf shelf, Dictionary<PartId, Deliveries> incoming)
    {
        var left = line.Wanting;
        if (left > 0)
        {
            left -= shelf.Take(line.Part, left, fitOn);
        }

        if (left <= 0)
        {
            return null;
        }

        var promises = new List<Promise>();
        if (incoming.TryGetValue(line.Part, out var deliveries))
        {
            left -= deliveries.Take(left, rule, promises);
        }

        return new WaitingLine(line.Line, line.Part, left > 0 ? null : promises.Max(p => p.On), left, promises);
    }

    static OrderReadiness Judge(OrderId order, List<WaitingLine> waiting, ReadinessFacts facts)
    {
        var asOf = facts.Promises.AsOf;
        if (waiting.Count == 0)
        {
            return new OrderReadiness(order, asOf, asOf, null, [], []);
        }

        var covered = waiting.SelectMany(w => w.Promises).Select(p => p.On).Append(asOf).Max();
        var uncovered = waiting.Where(w => w.Uncovered > 0).ToList();
        if (uncovered.Count == 0)
        {
            var latest = waiting.OrderByDescending(w => w.ReadyOn).ThenBy(w => facts.Parts[w.Part].Number, StringComparer.Ordinal).First();
            return new OrderReadiness(order, covered, covered, latest.Part, [], waiting);
        }

        var binding = uncovered
            .Select(w => facts.Parts[w.Part])
            .OrderByDescending(p => p.LeadTimeDays ?? int.MaxValue)
            .ThenBy(p => p.Number, StringComparer.Ordinal)
            .First();
        DateOnly? bought = binding.LeadTimeDays is { } days ? asOf.AddDays(days) : null;
        return new OrderReadiness(
            order,
            null,
            bought < covered ? covered : bought,
            binding.Part,
            [.. uncovered.GroupBy(w => w.Part).Select(g => new Uncovered(g.Key, g.Sum(w => w.Uncovered)))],
            waiting);
    }

    sealed class Deliveries(IncomingFact[] inOrder)
    {
        int next;
        decimal takenOfNext;

        public decimal Take(decimal needed, PromiseRule rule, List<Promise> promises)
        {
            var left = needed;
            while (left > 0 && next < inOrder.Length)
            {
                var delivery = inOrder[next];
                var quantity = Math.Min(left, delivery.Quantity - takenOfNext);
                var promisedOn = delivery.PromisedOn!.Value;
                promises.Add(new Promise(delivery.Reference, rule.CountsOn(promisedOn), rule.IsLate(promisedOn), quantity));
                left -= quantity;
                takenOfNext += quantity;
                if (takenOfNext == delivery.Quantity)
                {
                    next++;
                    takenOfNext = 0;
                }
            }

            return needed - left;
        }
    }
}
