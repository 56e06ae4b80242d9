using CsCheck;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Planning;
using Xunit;

namespace KitOrders.Rules.Tests.Planning;

public class BestSetTests
{
    static readonly DateOnly Day = new(2026, 3, 2);
    static readonly PartId Ball = new(1);
    static readonly PartId Seat = new(2);

    /// <summary>A search that had no time.</summary>
    static ExactChoice None(ChoiceProblem problem) => new(null, double.PositiveInfinity);

    static Contender Order(int id, int score, (PartId Part, decimal Quantity)[] wants, params Supply[] holds) =>
        new(new OrderId(id), score, Day.AddDays(10), wants.ToDictionary(w => w.Part, w => w.Quantity), holds);

    static int[] Ids(BestSetAnswer answer) => [.. answer.Orders.Select(o => o.Value)];

    /// <summary>The most pressing order holds the ball and waits for a seat that does not come; the next needs the ball alone.</summary>
    [Fact]
    public void Parts_that_lie_in_an_order_that_waits_go_to_one_that_they_complete()
    {
        var answer = BestSet.Of(new BestSetFacts([Order(1, 50, [(Seat, 1)], new Supply(Ball, null, 1)), Order(2, 40, [(Ball, 1)])], []), None);
        Assert.Equal([2], Ids(answer));
        Assert.Equal((40, 90), (answer.Score, answer.Bound));
        Assert.Equal([new ProposedTakeOver(new OrderId(2), new OrderId(1), Ball, 1)], answer.TakeOvers);
    }

    [Fact]
    public void What_lies_free_is_taken_before_what_others_hold()
    {
        var answer = BestSet.Of(new BestSetFacts([Order(1, 50, [(Seat, 1)], new Supply(Ball, null, 2)), Order(2, 40, [(Ball, 2)])], [new Supply(Ball, null, 1)]), None);
        Assert.Equal([new ProposedTakeOver(new OrderId(2), new OrderId(1), Ball, 1)], answer.TakeOvers);
    }

    [Fact]
    public void A_lot_past_its_last_good_day_on_the_fit_date_completes_nothing()
    {
        Contender order = Order(1, 50, [(Ball, 1)]);
        Assert.Empty(BestSet.Of(new BestSetFacts([order], [new Supply(Ball, Day.AddDays(9), 5)]), None).Orders);
        Assert.Equal([1], Ids(BestSet.Of(new BestSetFacts([order], [new Supply(Ball, Day.AddDays(10), 1)]), None)));
    }

    [Fact]
    public void Where_all_can_be_completed_it_is_proved_without_a_search()
    {
        var answer = BestSet.Of(new BestSetFacts([Order(1, 50, [(Ball, 1)]), Order(2, 40, [])], [new Supply(Ball, null, 1)]), _ => throw new InvalidOperationException("Nothing was left to search."));
        Assert.Equal((90, 90, 0m), (answer.Score, answer.Bound, answer.Gap));
        Assert.Empty(answer.TakeOvers);
    }

    [Fact]
    public void No_order_is_no_set()
    {
        var answer = BestSet.Of(new BestSetFacts([], []), None);
        Assert.Equal((0, 0, 0m), (answer.Score, answer.Bound, answer.Gap));
    }

    [Fact]
    public void A_choice_that_breaks_a_limit_is_not_believed()
    {
        var answer = BestSet.Of(new BestSetFacts([Order(1, 50, [(Ball, 1)]), Order(2, 40, [(Ball, 1)])], [new Supply(Ball, null, 1)]), _ => new ExactChoice([true, true], 90));
        Assert.Equal([1], Ids(answer));
        Assert.Equal(50, answer.Score);
    }

    sealed record Case(Contender[] Orders, Supply[] Free);

    static readonly Gen<DateOnly?> lastGood = Gen.Int[0, 3].Select(i => i == 0 ? (DateOnly?)null : Day.AddDays((i * 10) - 5));

    static Gen<Supply[]> Supplies(int most) => Gen.Select(Gen.Int[1, 3], lastGood, Gen.Int[1, 3], (part, day, quantity) => new Supply(new PartId(part), day, quantity)).Array[0, most];

    static readonly Gen<Case> cases = Gen.Select(
        Gen.Select(Gen.Int[1, 30], Gen.Int[0, 3].Select(i => i * 10), Gen.Dictionary(Gen.Int[1, 3].Select(p => new PartId(p)), Gen.Int[1, 3].Select(q => (decimal)q))[0, 2], Supplies(2)).Array[1, 7],
        Supplies(5),
        (orders, free) => new Case([.. orders.Select((o, i) => new Contender(new OrderId(i + 1), o.Item1, Day.AddDays(o.Item2), o.Item3, [.. o.Item4.Where(s => s.IsGoodOn(Day.AddDays(o.Item2)))]))], free));

    /// <summary>Every subset, each tried lot by lot: what can be used least goes first.</summary>
    static int BestOfAll(Case c) => Enumerable.Range(0, 1 << c.Orders.Length)
        .Select(set => c.Orders.Where((_, i) => (set >> i & 1) == 1).ToList()).Where(chosen => CanAllBeServed(c, chosen)).Max(chosen => chosen.Sum(o => o.Score));

    static bool CanAllBeServed(Case c, List<Contender> chosen)
    {
        var pieces = c.Free.Concat(c.Orders.Except(chosen).SelectMany(o => o.Holds)).SelectMany(s => Enumerable.Repeat((s.Part, s.LastGoodDay), (int)s.Quantity)).ToList();
        foreach (var order in chosen.OrderByDescending(o => o.FitOn))
            foreach (var (part, quantity) in order.Wanting)
                for (var n = 0; n < quantity; n++)
                {
                    var at = pieces.FindIndex(p => p.Part == part && (p.LastGoodDay is null || p.LastGoodDay >= order.FitOn));
                    if (at < 0)
                        return false;
                    pieces.RemoveAt(at);
                }
        return true;
    }

    static ExactChoice Searched(ChoiceProblem problem)
    {
        var best = Enumerable.Range(0, 1 << problem.Scores.Count)
            .Where(set => problem.Limits.All(l => l.Terms.Where(t => (set >> t.Order & 1) == 1).Sum(t => t.Weight) <= l.Most))
            .MaxBy(set => problem.Scores.Where((_, i) => (set >> i & 1) == 1).Sum());
        return new ExactChoice([.. problem.Scores.Select((_, i) => (best >> i & 1) == 1)], problem.Scores.Where((_, i) => (best >> i & 1) == 1).Sum());
    }

    /// <summary>The limits say neither more nor less than trying lot by lot; without a search the answer can only be lower, and its bound only higher.</summary>
    [Fact]
    public void The_best_set_is_the_best_of_all_sets_tried_lot_by_lot() => cases.Sample(c =>
    {
        var best = BestOfAll(c);
        var proved = BestSet.Of(new BestSetFacts(c.Orders, c.Free), Searched);
        Assert.Equal((best, best, 0m), (proved.Score, proved.Bound, proved.Gap));
        var quick = BestSet.Of(new BestSetFacts(c.Orders, c.Free), None);
        Assert.InRange(quick.Score, 0, best);
        Assert.InRange(quick.Bound, best, int.MaxValue);
        Assert.True(CanAllBeServed(c, [.. c.Orders.Where(o => quick.Orders.Contains(o.Order))]));
    }, iter: 3_000);

    [Fact]
    public void The_take_overs_are_what_the_chosen_lack_beyond_what_lies_free() => cases.Sample(c =>
    {
        var answer = BestSet.Of(new BestSetFacts(c.Orders, c.Free), Searched);
        var chosen = answer.Orders.ToHashSet();
        foreach (var move in answer.TakeOvers)
        {
            Assert.True(chosen.Contains(move.Order) && !chosen.Contains(move.From) && move.Quantity > 0);
            Assert.True(answer.TakeOvers.Where(m => m.From == move.From && m.Part == move.Part).Sum(m => m.Quantity)
                <= c.Orders.Single(o => o.Order == move.From).Holds.Where(h => h.Part == move.Part).Sum(h => h.Quantity));
        }
        foreach (var part in c.Orders.SelectMany(o => o.Wanting.Keys).Distinct())
        {
            var wanted = c.Orders.Where(o => chosen.Contains(o.Order)).Sum(o => o.Wanting.GetValueOrDefault(part));
            var moved = answer.TakeOvers.Where(m => m.Part == part).Sum(m => m.Quantity);
            Assert.InRange(moved, Math.Max(0, wanted - c.Free.Where(f => f.Part == part).Sum(f => f.Quantity)), wanted);
        }
    }, iter: 3_000);
}
