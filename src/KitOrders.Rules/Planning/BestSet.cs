using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Planning;

/// <summary>Some of a part that lies on the shelf or will by the day asked about.</summary>
/// <param name="LastGoodDay">Null: it does not age, or comes as it should be.</param>
public readonly record struct Supply(PartId Part, DateOnly? LastGoodDay, decimal Quantity)
{
    public bool IsGoodOn(DateOnly day) => LastGoodDay is not { } last || last >= day;
}

/// <summary>An order that may be chosen.</summary>
/// <param name="Wanting">What it needs beyond what is picked for it and what it holds, above zero.</param>
/// <param name="Holds">What it holds on the shelf, good on its fit date. Chosen it keeps that, not chosen it can give it up.</param>
public sealed record Contender(OrderId Order, int Score, DateOnly FitOn, IReadOnlyDictionary<PartId, decimal> Wanting, IReadOnlyList<Supply> Holds);

/// <summary>Everything the choice depends on.</summary>
/// <param name="Orders">In the order of priority.</param>
/// <param name="Free">What nobody holds.</param>
public sealed record BestSetFacts(IReadOnlyList<Contender> Orders, IReadOnlyList<Supply> Free);

/// <summary>What an order would take over from another one that is not chosen.</summary>
public readonly record struct ProposedTakeOver(OrderId Order, OrderId From, PartId Part, decimal Quantity);

/// <param name="Bound">No choice scores higher.</param>
/// <param name="TakeOvers">What has to change hands so that all of the chosen can be completed.</param>
public sealed record BestSetAnswer(IReadOnlyList<OrderId> Orders, int Score, int Bound, IReadOnlyList<ProposedTakeOver> TakeOvers)
{
    /// <summary>How far the choice may lie below the best there is, as a share of the bound; 0 where it is proved to be the best.</summary>
    public decimal Gap => Bound == 0 ? 0 : (decimal)(Bound - Score) / Bound;
}

/// <summary>What an exact search found: a choice, and what no choice exceeds. Null choice: it found none in its time.</summary>
public sealed record ExactChoice(IReadOnlyList<bool>? Chosen, double Bound);

/// <summary>
/// The orders, each with all of its parts, that together score highest. Serving strictly by priority can leave parts in orders that
/// still wait for something else; giving them to orders that they complete may score more. A person decides.
/// </summary>
public static class BestSet
{
    /// <param name="exact">A search that proves; it may be short of time, and what it answers is checked.</param>
    /// <param name="known">Choices that are known already, such as what strict priority completes.</param>
    public static BestSetAnswer Of(BestSetFacts facts, Func<ChoiceProblem, ExactChoice> exact, params IReadOnlyList<IReadOnlySet<OrderId>> known)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(exact);
        var problem = ChoiceProblem.Of(facts);
        var best = Choice.ByPriority(problem).Improved();
        foreach (var orders in known)
            best = Better(best, problem, [.. facts.Orders.Select(o => orders.Contains(o.Order))]);
        var bound = problem.Scores.Sum();
        if (best.Score < bound)
        {
            var found = exact(problem);
            if (found.Chosen is { } chosen)
                best = Better(best, problem, chosen);
            if (found.Bound < bound)
                bound = Math.Max(best.Score, (int)Math.Floor(found.Bound + 1e-6));
        }
        return new BestSetAnswer([.. facts.Orders.Where((_, i) => best.Has(i)).Select(o => o.Order)], best.Score, bound, TakeOvers(facts, best));
    }

    static Choice Better(Choice best, ChoiceProblem problem, IReadOnlyList<bool> chosen) =>
        Choice.From(problem, chosen) is { } other && other.Score > best.Score ? other : best;

    /// <summary>
    /// The chosen that can use least go first; whatever they leave the others can use too. Of what lies free they take first, then of what the least pressing
    /// hold.
    /// </summary>
    static List<ProposedTakeOver> TakeOvers(BestSetFacts facts, Choice choice)
    {
        var pool = facts.Free.Select(s => (Supply: s, From: (OrderId?)null))
            .Concat(facts.Orders.Where((_, i) => !choice.Has(i)).Reverse().SelectMany(o => o.Holds.Select(s => (Supply: s, From: (OrderId?)o.Order))))
            .GroupBy(s => s.Supply.Part).ToDictionary(g => g.Key, g => g.ToArray());
        var moves = new Dictionary<(OrderId, OrderId, PartId), decimal>();
        foreach (var order in facts.Orders.Where((_, i) => choice.Has(i)).OrderByDescending(o => o.FitOn))
            foreach (var (part, wanting) in order.Wanting)
            {
                var left = wanting;
                var supplies = pool.GetValueOrDefault(part) ?? [];
                for (var i = 0; i < supplies.Length && left > 0; i++)
                {
                    var (supply, from) = supplies[i];
                    if (!supply.IsGoodOn(order.FitOn))
                        continue;
                    var taken = Math.Min(left, supply.Quantity);
                    left -= taken;
                    supplies[i] = (supply with { Quantity = supply.Quantity - taken }, from);
                    if (taken > 0 && from is { } giver)
                        moves[(order.Order, giver, part)] = moves.GetValueOrDefault((order.Order, giver, part)) + taken;
                }
            }
        return [.. moves.Select(m => new ProposedTakeOver(m.Key.Item1, m.Key.Item2, m.Key.Item3, m.Value))];
    }
}
