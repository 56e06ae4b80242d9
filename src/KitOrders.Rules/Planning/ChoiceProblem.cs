using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Planning;

/// <summary>The sum of the weights of the chosen may not exceed <paramref name="Most"/>.</summary>
public sealed record Limit(IReadOnlyList<(int Order, decimal Weight)> Terms, decimal Most);

/// <summary>Which orders to choose, as numbers: scores to add up and limits to keep.</summary>
/// <param name="Scores">One for each order.</param>
public sealed record ChoiceProblem(IReadOnlyList<int> Scores, IReadOnlyList<Limit> Limits)
{
    /// <summary>
    /// For each part and each last good day d of it: what the chosen still want for fit dates after d, with what they keep that is good after d, may not exceed
    /// all there is that is good after d. Lots good for a later date are good for an earlier one too, so these limits are enough.
    /// Limits that no choice can break are left out.
    /// </summary>
    public static ChoiceProblem Of(BestSetFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var free = facts.Free.ToLookup(s => s.Part);
        var holds = facts.Orders.SelectMany((o, i) => o.Holds.Select(s => (Order: i, Supply: s))).ToLookup(h => h.Supply.Part);
        var wants = facts.Orders.SelectMany((o, i) => o.Wanting.Select(w => (Order: i, Part: w.Key, Quantity: w.Value))).ToLookup(w => w.Part);
        var limits = new List<Limit>();
        foreach (var part in wants)
        {
            var days = free[part.Key].Concat(holds[part.Key].Select(h => h.Supply)).Select(s => s.LastGoodDay).OfType<DateOnly>().Distinct();
            foreach (var day in days.Select(d => (DateOnly?)d).Prepend(null))
                if (part.Any(w => day is null || facts.Orders[w.Order].FitOn > day))
                    limits.Add(After(day, facts, part, [.. free[part.Key]], [.. holds[part.Key]]));
        }
        return new ChoiceProblem([.. facts.Orders.Select(o => o.Score)], limits.FindAll(l => l.Terms.Sum(t => t.Weight) > l.Most));
    }

    static Limit After(DateOnly? day, BestSetFacts facts, IEnumerable<(int Order, PartId Part, decimal Quantity)> wants, Supply[] free, (int Order, Supply Supply)[] holds)
    {
        bool Counts(Supply s) => day is not { } d || s.LastGoodDay is not { } last || last > d;
        var kept = holds.Where(h => Counts(h.Supply)).ToList();
        var terms = wants.Where(w => day is not { } d || facts.Orders[w.Order].FitOn > d).Select(w => (w.Order, w.Quantity))
            .Concat(kept.Select(h => (h.Order, h.Supply.Quantity)))
            .GroupBy(t => t.Order).Select(g => (g.Key, g.Sum(t => t.Quantity)));
        return new Limit([.. terms], free.Where(Counts).Sum(s => s.Quantity) + kept.Sum(h => h.Supply.Quantity));
    }
}

/// <summary>A choice that keeps every limit, with what of each is left.</summary>
sealed class Choice
{
    readonly ChoiceProblem problem;
    readonly List<(int Limit, decimal Weight)>[] uses;
    readonly decimal[] left;
    readonly bool[] chosen;

    Choice(ChoiceProblem problem)
    {
        this.problem = problem;
        uses = [.. problem.Scores.Select(_ => new List<(int, decimal)>())];
        for (var limit = 0; limit < problem.Limits.Count; limit++)
            foreach (var (order, weight) in problem.Limits[limit].Terms)
                uses[order].Add((limit, weight));
        left = [.. problem.Limits.Select(l => l.Most)];
        chosen = new bool[problem.Scores.Count];
    }

    public int Score { get; private set; }

    public bool Has(int order) => chosen[order];

    /// <summary>Each order in turn that still finds all of its parts.</summary>
    public static Choice ByPriority(ChoiceProblem problem)
    {
        var choice = new Choice(problem);
        choice.Fill();
        return choice;
    }

    /// <summary>Null when a limit would be broken.</summary>
    public static Choice? From(ChoiceProblem problem, IReadOnlyList<bool> chosen)
    {
        var choice = new Choice(problem);
        for (var order = 0; order < chosen.Count; order++)
            if (chosen[order])
                choice.Put(order);
        return Array.TrueForAll(choice.left, l => l >= 0) ? choice : null;
    }

    /// <summary>One order in for one out, as long as that scores more.</summary>
    public Choice Improved()
    {
        const int MostRounds = 20;
        var better = true;
        for (var round = 0; round < MostRounds && better; round++)
        {
            better = false;
            for (var order = 0; order < chosen.Length; order++)
                if (!chosen[order] && Rival(order) is { } rival)
                {
                    TakeOut(rival);
                    Put(order);
                    Fill();
                    better = true;
                }
        }
        return this;
    }

    /// <summary>The least of the chosen whose place the order could take with more score.</summary>
    int? Rival(int order)
    {
        var tight = uses[order].FindAll(u => u.Weight > left[u.Limit]);
        if (tight.Count == 0)
            return null;
        var (first, needed) = tight[0];
        return problem.Limits[first].Terms
            .Where(t => chosen[t.Order] && problem.Scores[t.Order] < problem.Scores[order] && t.Weight >= needed - left[first])
            .OrderBy(t => problem.Scores[t.Order]).ThenByDescending(t => t.Order).Select(t => (int?)t.Order)
            .FirstOrDefault(rival => tight.TrueForAll(u => left[u.Limit] + uses[rival!.Value].Find(r => r.Limit == u.Limit).Weight >= u.Weight));
    }

    void Fill()
    {
        for (var order = 0; order < chosen.Length; order++)
            if (!chosen[order] && uses[order].TrueForAll(u => u.Weight <= left[u.Limit]))
                Put(order);
    }

    void Put(int order) => Move(order, true, 1);

    void TakeOut(int order) => Move(order, false, -1);

    void Move(int order, bool into, int sign)
    {
        chosen[order] = into;
        Score += sign * problem.Scores[order];
        foreach (var (limit, weight) in uses[order])
            left[limit] -= sign * weight;
    }
}
