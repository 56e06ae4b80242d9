using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using Xunit;
using static KitOrders.Operations.Tests.Stock.StockBench;

namespace KitOrders.Operations.Tests.Stock;

/// <summary>Quarantine, inspection, shelf life, take-overs.</summary>
public sealed class LotLifeTests(TestDatabase databases)
{
    [Fact]
    public async Task A_lot_in_quarantine_is_lost_to_who_held_it_and_another_lot_steps_in()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 9);
        await bench.Receive("SEAL", 2, lot: "OLD", cured: "1Q20");
        var order = await bench.Order("P-05", "JPS", 2);
        await bench.Receive("SEAL", 1, lot: "NEW", cured: "1Q25");
        var quarantine = new QuarantineLot(bench.Desk);
        No("reason-missing", await quarantine.Run(bench.Call, "SEAL", "OLD", "", Ct));
        var done = Must(await quarantine.Run(bench.Call, "SEAL", "OLD", "bags are open", Ct));
        Assert.Equal([new CoveredOrder(order, "SEAL", 2)], done.Lost);
        Assert.Equal([new CoveredOrder(order, "SEAL", 1)], done.Covered);
        Assert.Equal((0m, 1m, 1m), await bench.Line(order, "SEAL"));
        No("lot-quarantined", await quarantine.Run(bench.Call, "SEAL", "OLD", "again", Ct));

        var back = Must(await new ReleaseQuarantine(bench.Desk).Run(bench.Call, "SEAL", "OLD", "rebagged the same hour", null, Ct));
        Assert.Equal([new CoveredOrder(order, "SEAL", 1)], back.Covered);
        No("lot-not-quarantined", await new ReleaseQuarantine(bench.Desk).Run(bench.Call, "SEAL", "OLD", "again", null, Ct));
    }

    [Fact]
    public async Task Rubber_leaves_quarantine_only_with_a_cure_date()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1);
        await bench.Receive("SEAL", 1, lot: "L1");
        var order = await bench.Order("P-05", "JPS");
        var release = new ReleaseQuarantine(bench.Desk);
        No("cure-date-missing", await release.Run(bench.Call, "SEAL", "L1", "supplier called", null, Ct));
        No("cure-date-ahead", await release.Run(bench.Call, "SEAL", "L1", "supplier called", "2027-01-01", Ct));
        var done = Must(await release.Run(bench.Call, "SEAL", "L1", "supplier called", "4Q24", Ct));
        Assert.Equal(new DateOnly(2031, 12, 31), done.ExpiresOn);
        Assert.Equal([new CoveredOrder(order, "SEAL", 1)], done.Covered);
    }

    [Fact]
    public async Task An_inspection_gives_the_one_extension_and_no_second()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1);
        // ISO 2230:2002 group B: 7 years and one extension of 3, as printed at epidor.com.
        await bench.Receive("SEAL", 1, lot: "L1", cured: "2019-01-15");
        var order = await bench.Order("P-05", "JPS");
        Assert.Equal((0m, 0m, 1m), await bench.Line(order, "SEAL"));
        var inspect = new InspectLot(bench.Desk);
        No("note-missing", await inspect.Run(bench.Call, "SEAL", "L1", true, "", Ct));
        var done = Must(await inspect.Run(bench.Call, "SEAL", "L1", true, "no cracks, hardness 70", Ct));
        Assert.Equal((new DateOnly(2029, 1, 15), Today), (done.ExpiresOn!.Value, done.InspectedOn!.Value));
        Assert.Equal([new CoveredOrder(order, "SEAL", 1)], done.Covered);
        No("lot-inspected-before", await inspect.Run(bench.Call, "SEAL", "L1", true, "again", Ct));
        No("lot-does-not-age", await inspect.Run(bench.Call, "PLUG", "260302-1", true, "fine", Ct));
        await bench.Receive("SEAL", 1, lot: "L2", cured: "2015-01-15");
        No("lot-too-old", await inspect.Run(bench.Call, "SEAL", "L2", true, "fine", Ct));
    }

    [Fact]
    public async Task A_failed_inspection_puts_the_lot_aside()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1);
        await bench.Receive("SEAL", 1, lot: "L1", cured: "2020-01-15");
        var order = await bench.Order("P-05", "JPS");
        var done = Must(await new InspectLot(bench.Desk).Run(bench.Call, "SEAL", "L1", false, "cracked", Ct));
        Assert.True(done.Quarantined);
        Assert.Equal((0m, 0m, 1m), await bench.Line(order, "SEAL"));
    }

    [Fact]
    public async Task Shelf_life_lists_what_expires_with_who_holds_it()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 9);
        await bench.Receive("SEAL", 2, lot: "SOON", cured: "2019-03-20");
        await bench.Receive("SEAL", 2, lot: "LONG", cured: "1Q25");
        await bench.Receive("SEAL", 1, "B-01", "NONE");
        var order = await bench.Order("P-05", "JPS", neededIn: 10);
        var rows = await new ShelfLifeList(bench.Desk).Read(60, Ct);
        Assert.Equal(["NONE", "SOON"], rows.Select(r => r.Lot));
        Assert.Equal((18, false), (rows[1].DaysLeft!.Value, Assert.Single(rows[1].Holds).Breaks));
        Assert.Equal(order, rows[1].Holds[0].Order);
        bench.Clock.Now = bench.Clock.Now.AddDays(19);
        Assert.True((await new ShelfLifeList(bench.Desk).Read(0, Ct))[1].Holds[0].Breaks);
    }

    [Fact]
    public async Task A_take_over_moves_the_hold_and_leaves_the_loser_short()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 2, lot: "L1");
        var high = await bench.Order("P-10", "JP", 2);
        var low = await bench.Order("P-01", "JP");
        var take = new TakeOver(bench.Desk);
        No("reason-missing", await take.Run(bench.Call, low, new TakeOverAsk(high, "PLUG", 1, ""), Ct));
        No("same-order", await take.Run(bench.Call, low, new TakeOverAsk(low, "PLUG", 1, "x"), Ct));
        No("order-unknown", await take.Run(bench.Call, low, new TakeOverAsk("NONE", "PLUG", 1, "x"), Ct));
        No("take-over-not-needed", await take.Run(bench.Call, low, new TakeOverAsk(high, "PLUG", 2, "x"), Ct));
        No("take-over-not-needed", await take.Run(bench.Call, high, new TakeOverAsk(low, "PLUG", 1, "x"), Ct));
        Must(await take.Run(bench.Call, low, new TakeOverAsk(high, "PLUG", 1, "finishes a pump today"), Ct));
        Assert.Equal((0m, 1m, 0m), await bench.Line(low, "PLUG"));
        Assert.Equal((0m, 1m, 1m), await bench.Line(high, "PLUG"));
        Assert.Contains((await bench.View(high)).History, e => e.Sentence == $"Gave up 1 × PLUG to order {low}: finishes a pump today");
    }

    [Fact]
    public async Task What_is_picked_is_not_taken_over()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1, lot: "L1");
        var high = await bench.Order("P-10", "JP");
        await bench.Pick(high);
        var low = await bench.Order("P-01", "JP");
        No("take-over-not-held", await new TakeOver(bench.Desk).Run(bench.Call, low, new TakeOverAsk(high, "PLUG", 1, "x"), Ct));
    }

    [Fact]
    public async Task Two_take_overs_the_other_way_round_both_end()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1, lot: "L1");
        await bench.Receive("SEAL", 1, lot: "S1", cured: "1Q25");
        var one = await bench.Order("P-10", "JPS");
        var two = await bench.Order("P-08", "JPS");
        var take = new TakeOver(bench.Desk);
        for (var round = 0; round < 5; round++)
        {
            await Task.WhenAll(
                take.Run(bench.Call, two, new TakeOverAsk(one, "PLUG", 1, "there"), Ct), take.Run(bench.Call, two, new TakeOverAsk(one, "SEAL", 1, "there"), Ct));
            await Task.WhenAll(
                take.Run(bench.Call, one, new TakeOverAsk(two, "PLUG", 1, "back"), Ct), take.Run(bench.Call, one, new TakeOverAsk(two, "SEAL", 1, "back"), Ct));
        }
        Assert.Equal(((0m, 1m, 0m), (0m, 1m, 0m)), (await bench.Line(one, "PLUG"), await bench.Line(one, "SEAL")));
        Assert.Equal(((0m, 0m, 1m), (0m, 0m, 1m)), (await bench.Line(two, "PLUG"), await bench.Line(two, "SEAL")));
    }
}
