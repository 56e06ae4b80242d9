using KitOrders.Operations.Planning;
using KitOrders.Operations.Stock;
using KitOrders.Operations.Tests.Stock;
using KitOrders.Rules.Planning;
using Xunit;
using static KitOrders.Operations.Tests.Stock.StockBench;

namespace KitOrders.Operations.Tests.Planning;

public sealed class BestSetTests(TestDatabase databases)
{
    static readonly TimeSpan time = TimeSpan.FromSeconds(60);

    static ChoiceProblem Problem(int[] scores, int[] most, params int[][] weights) =>
        new(scores, [.. weights.Select((row, i) => new Limit([.. row.Select((w, order) => (order, (decimal)w))], most[i]))]);

    /// <summary>
    /// OR-Library, file mknap1, problem 1 (Petersen 1967): the optimum printed there is 3800. Enumerated, items 2, 3 and 6 alone reach it; the dearest, item 4,
    /// is not among them.
    /// </summary>
    [Fact]
    public void The_solver_finds_and_proves_the_published_optimum_of_a_choice_under_ten_limits()
    {
        var found = ProvedChoice.Of(Problem([100, 600, 1200, 2400, 500, 2000], [80, 96, 20, 36, 44, 48, 10, 18, 22, 24],
            [8, 12, 13, 64, 22, 41], [8, 12, 13, 75, 22, 41], [3, 6, 4, 18, 6, 4], [5, 10, 8, 32, 6, 12], [5, 13, 8, 42, 6, 20],
            [5, 13, 8, 48, 6, 20], [0, 0, 0, 0, 8, 0], [3, 0, 4, 0, 8, 0], [3, 2, 4, 0, 8, 4], [3, 2, 4, 8, 8, 4]), time);
        Assert.Equal([false, true, true, false, false, true], found.Chosen);
        Assert.Equal(3800, found.Bound, 6);
    }

    /// <summary>The two-limit example of PySCIPOpt, examples/finished/mkp.py: 42 with items 2 and 3.</summary>
    [Fact]
    public void The_solver_finds_the_published_optimum_of_a_choice_under_two_limits()
    {
        var found = ProvedChoice.Of(Problem([16, 19, 23, 28], [7, 10_000], [2, 3, 4, 5], [3_000, 3_500, 5_100, 7_200]), time);
        Assert.Equal([false, true, true, false], found.Chosen);
        Assert.Equal(42, found.Bound, 6);
    }

    /// <summary>The order that presses most holds the one plug and waits for a seal; the plug completes another.</summary>
    [Fact]
    public async Task A_part_stranded_in_an_order_that_waits_is_proposed_to_the_one_it_completes_and_nothing_is_changed()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1);
        var pressing = await bench.Order("P-10", "JPS");
        var small = await bench.Order("P-05", "JP");
        var view = await new BestSetOf(bench.Desk).Read(null, Ct);
        Assert.Equal([small], view.Orders);
        Assert.Equal([new TakeOverProposed(small, pressing, "PLUG", 1)], view.TakeOvers);
        Assert.Equal((0, 0m), (view.StrictScore, view.Gap));
        Assert.Equal(view.Score, view.Bound);
        Assert.Empty(view.StrictOrders);

        Must(await new TakeOver(bench.Desk).Run(bench.Call, small, new TakeOverAsk(pressing, "PLUG", 1, "completes it"), Ct));
        var after = await new BestSetOf(bench.Desk).Read(null, Ct);
        Assert.Equal([small], after.StrictOrders);
        Assert.Equal(view.Score, after.StrictScore);
        Assert.Empty(after.TakeOvers);
    }

    [Fact]
    public async Task What_is_promised_by_the_day_counts_as_in_hand_then()
    {
        await using var bench = await New(databases);
        await bench.Import("incoming", "reference,part,quantity,promised_on\nPO-1,PLUG,1,2026-03-09\n");
        var order = await bench.Order("P-10", "JP");
        Assert.Empty((await new BestSetOf(bench.Desk).Read(new DateOnly(2026, 3, 8), Ct)).Orders);
        var then = await new BestSetOf(bench.Desk).Read(new DateOnly(2026, 3, 9), Ct);
        Assert.Equal([order], then.Orders);
        Assert.Equal(then.Score, then.StrictScore);
    }
}
