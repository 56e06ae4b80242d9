using KitOrders.Operations.Stock;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.Stock.StockBench;

namespace KitOrders.Operations.Tests.Stock;

/// <summary>What an administrator is told of rows that were broken from outside, by whoever owns the database.</summary>
public sealed class StockTruthTests(TestDatabase databases)
{
    [Fact]
    public async Task Each_check_says_how_much_it_compared_and_only_administrators_may_ask()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 5, lot: "L1");
        await bench.Order("P-05", "JP", 3);
        var found = await Found(bench);
        Assert.Equal(StockTruth.Checks, found.Select(f => f.Check));
        Assert.All(found, f => Assert.True(f.Holds, f.Check));
        Assert.Equal((1L, 0L), Row(found, "on-hand-is-the-sum-of-movements"));
        Assert.Equal((1L, 0L), Row(found, "running-balance-is-right"));
        Assert.Equal(3L, Row(found, "a-lot-is-of-one-part").Compared);
        var clerk = await bench.Add("Clerk", Roles.Storeroom | Roles.Planner | Roles.Manager | Roles.Technician);
        No("not-allowed", await new StockTruth(bench.Desk).Examine(clerk, _ => throw new InvalidOperationException("Something was read."), Ct));
    }

    [Theory]
    [InlineData("on-hand-is-the-sum-of-movements", "update bin_stock set on_hand = on_hand + 2", "update bin_stock set on_hand = on_hand - 2", "part PLUG lot L1 bin A-01: on hand 7, movements 5", "PLUG", "A-01", false)]
    [InlineData("reserved-is-what-reservations-hold", "update bin_stock set reserved = reserved - 1", "update bin_stock set reserved = reserved + 1", "part PLUG lot L1 bin A-01: reserved 2, reservations 3", "PLUG", "A-01", false)]
    [InlineData("demand-lines-are-what-reservations-say", "update demand_line set picked = picked + 1, reserved = reserved - 1 where reserved = 3", "update demand_line set picked = picked - 1, reserved = reserved + 1 where picked = 1", "reserved 2 and picked 1, reservations 3 and 0", "PLUG", null, true)]
    [InlineData("ended-orders-hold-nothing", "update work_order set state = 'cancelled'", "update work_order set state = 'open'", "is cancelled and holds 3 of PLUG", "PLUG", null, true)]
    public async Task A_row_that_breaks_a_check_is_named_with_its_part_bin_and_order(string check, string breaks, string mends, string sentence, string part, string? bin, bool order)
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 5, lot: "L1");
        var number = await bench.Order("P-05", "JP", 3);
        await Sql(bench, breaks);
        var broken = (await Found(bench)).Where(f => !f.Holds).ToList();
        await Sql(bench, mends);
        var finding = Assert.Single(broken, f => f.Check == check);
        var row = Assert.Single(finding.Broken);
        Assert.Equal(1, finding.BrokenRows);
        Assert.Contains(sentence, row.Sentence, StringComparison.Ordinal);
        Assert.Equal((part, bin, order ? number : null), (row.Part, row.Bin, row.Order));
    }

    [Fact]
    public async Task A_hundred_rows_are_named_and_the_rest_counted()
    {
        await using var bench = await New(databases);
        await Sql(bench, "insert into command (person_id, key, operation, body_hash, at) select (select min(id) from person), 'broken-' || n, 'op', 'h', now() from generate_series(1, 120) n");
        var finding = Assert.Single(await Found(bench), f => !f.Holds);
        Assert.Equal(("every-command-answered-once", 120L, 100), (finding.Check, finding.BrokenRows, finding.Broken.Count));
        Assert.Equal(100, (await new StockTruth(bench.Desk).Read(Ct)).Single(c => !c.Holds).Broken.Count);
        await Sql(bench, "delete from command where key like 'broken-%'");
    }

    [Fact]
    public async Task All_checks_see_one_moment_and_a_stop_ends_them()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 5, lot: "L1");
        var truth = new StockTruth(bench.Desk);
        var broken = Must(await truth.Examine(bench.Call.Actor, async finding =>
        {
            if (finding.Check == StockTruth.Checks[0])
                await Sql(bench, "update bin_stock set reserved = 1");
        }, Ct));
        Assert.Equal(0, broken);
        Assert.NotEqual(0, Must(await truth.Examine(bench.Call.Actor, _ => Task.CompletedTask, Ct)));
        await Sql(bench, "update bin_stock set reserved = 0");

        using var stop = new CancellationTokenSource();
        var seen = 0;
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => truth.Examine(bench.Call.Actor, _ =>
        {
            seen++;
            return stop.CancelAsync();
        }, stop.Token));
        Assert.Equal(1, seen);
    }

    static async Task<List<TruthFinding>> Found(StockBench bench)
    {
        var found = new List<TruthFinding>();
        var broken = Must(await new StockTruth(bench.Desk).Examine(bench.Call.Actor, f =>
        {
            found.Add(f);
            return Task.CompletedTask;
        }, Ct));
        Assert.Equal(found.Sum(f => f.BrokenRows), broken);
        return found;
    }

    static (long Compared, long Broken) Row(IEnumerable<TruthFinding> found, string check)
    {
        var finding = found.Single(f => f.Check == check);
        return (finding.Compared, finding.BrokenRows);
    }

    static async Task Sql(StockBench bench, string sql)
    {
        await using var db = bench.Db();
        Assert.NotEqual(0, await db.Database.ExecuteSqlRawAsync(sql, Ct));
    }
}
