using KitOrders.Operations.Planning;
using KitOrders.Operations.Stock;
using KitOrders.Operations.Tests.Stock;
using Xunit;
using static KitOrders.Operations.Tests.Stock.StockBench;

namespace KitOrders.Operations.Tests.Planning;

public sealed class PlanningReadsTests(TestDatabase databases)
{
    [Fact]
    public async Task Readiness_serves_orders_in_priority_and_names_the_part_that_binds()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1);
        await bench.Import("incoming", "reference,part,quantity,promised_on\nPO-1,PLUG,1,2026-03-09\n");
        var low = await bench.Order("P-01", "JPS");
        var high = await bench.Order("P-10", "JP", 2);
        var rows = await new ReadinessBoard(bench.Desk).Read(null, Ct);
        Assert.Equal([high, low], rows.Select(r => r.Order));
        // The plug went to the order that opened first; the promise goes to the one that presses most.
        Assert.Equal((50, null, "PLUG"), (rows[0].Score, rows[0].ReadyOn, rows[0].BindingPart));
        Assert.Equal([new PartQuantity("PLUG", 1)], rows[0].Uncovered);
        Assert.Equal(new DateOnly(2026, 3, 9), rows[0].ReadyIfBoughtToday);
        Assert.Equal((5, null, "SEAL", new DateOnly(2026, 3, 12)), (rows[1].Score, rows[1].ReadyOn, rows[1].BindingPart, rows[1].ReadyIfBoughtToday!.Value));

        await bench.Receive("PLUG", 2);
        await bench.Receive("SEAL", 1, cured: "1Q25");
        Assert.All(await new ReadinessBoard(bench.Desk).Read(new DateOnly(2026, 3, 20), Ct), r =>
            Assert.Equal((new DateOnly(2026, 3, 20), null), (r.ReadyOn!.Value, r.BindingPart)));
    }

    [Fact]
    public async Task Shortages_stand_worst_first_with_the_orders_they_hold_and_the_first_promise()
    {
        await using var bench = await New(databases);
        await bench.Import("incoming", "reference,part,quantity,promised_on\nPO-1,PLUG,1,2026-02-20\n");
        var one = await bench.Order("P-01", "JPS");
        var two = await bench.Order("P-10", "JP", 3);
        var rows = await new ShortageList(bench.Desk).Read(null, Ct);
        Assert.Equal(["PLUG", "SEAL"], rows.Select(r => r.Part));
        Assert.Equal((4m, 8m), (rows[0].Quantity, rows[0].Hours));
        Assert.Equal([two, one], rows[0].Orders);
        // A promise that has passed counts seven days from today.
        Assert.Equal((new DateOnly(2026, 3, 9), null), (rows[0].FirstIncomingOn!.Value, rows[1].FirstIncomingOn));
    }

    [Fact]
    public async Task The_backlog_counts_planned_and_ready_hours_and_opens_into_its_orders()
    {
        await using var bench = await New(databases);
        await bench.Import("crews", "crew,people,hours_per_week\nFitters,2,20\n");
        await bench.Receive("PLUG", 1, lot: "L1");
        var ready = await bench.Order("P-10", "JP");
        var waits = await bench.Order("P-05", "JP", neededIn: -3);
        Must(await new CountBin(bench.Desk).Run(bench.Call, new Count("PLUG", "A-01", "L1", 1), Ct));
        var view = await new BacklogFigures(bench.Desk).Read(null, Ct);
        Assert.Equal((8m, 40m, 0.2m), (view.Planned.Hours, view.Planned.CapacityPerWeek, view.Planned.Weeks!.Value));
        Assert.Equal([ready, waits], view.Planned.Orders);
        Assert.Equal([ready], view.Ready.Orders);
        Assert.Equal((waits, 3, "1 line short"), (Assert.Single(view.Late).Order, view.Late[0].DaysLate, view.Late[0].Why));
        Assert.Equal((1m, 1m, 100m), (view.InventoryAccuracy.Counted, view.InventoryAccuracy.Of, view.InventoryAccuracy.Value!.Value));
        Assert.Equal((0m, 1m), (view.ScheduleCompliance.Counted, view.ScheduleCompliance.Of));
    }

    [Fact]
    public async Task The_ledger_pages_by_its_own_numbers_both_ways()
    {
        await using var bench = await New(databases);
        for (var n = 1; n <= 5; n++)
            await bench.Receive(n == 3 ? "RING" : "PLUG", n);
        var movements = new MovementsPage(bench.Desk);
        var first = Must(await movements.Read("PLUG", null, 2, false, Ct));
        Assert.Equal([1m, 2m], first.Items.Select(m => m.Quantity));
        var second = Must(await movements.Read("PLUG", first.Next, 2, false, Ct));
        Assert.Equal([4m, 5m], second.Items.Select(m => m.Quantity));
        Assert.Null(second.Next);
        Assert.Equal([5m, 4m], Must(await movements.Read("PLUG", null, 2, true, Ct)).Items.Select(m => m.Quantity));
        No("part-unknown", await movements.Read("NONE", null, null, false, Ct));
        No("after-unreadable", await movements.Read(null, "x", null, false, Ct));
        No("page-size", await movements.Read(null, null, 0, false, Ct));
    }

    [Fact]
    public async Task The_truth_notices_a_balance_that_no_movement_made()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 2, lot: "L1");
        await using var db = bench.Db();
        await Microsoft.EntityFrameworkCore.RelationalDatabaseFacadeExtensions.ExecuteSqlRawAsync(db.Database, "update bin_stock set on_hand = 3", Ct);
        var broken = (await new StockTruth(bench.Desk).Read(Ct)).Where(c => !c.Holds).ToList();
        Assert.Equal("on-hand-is-the-sum-of-movements", Assert.Single(broken).Check);
        Assert.Equal(["part PLUG lot L1 bin A-01: on hand 3, movements 2"], broken[0].Broken);
        await Microsoft.EntityFrameworkCore.RelationalDatabaseFacadeExtensions.ExecuteSqlRawAsync(db.Database, "update bin_stock set on_hand = 2", Ct);
    }
}
