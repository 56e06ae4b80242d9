using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Operations.Tests.Orders;
using KitOrders.Rules.Orders;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Stock;

public sealed class LotTraceTests(TestDatabase databases)
{
    [Fact]
    public async Task One_search_tells_pumps_orders_and_shelves_of_a_lot()
    {
        await using var bench = await New(databases);
        await bench.Plant.Good("stock", "part,lot,bin,quantity,received_on,cured_on,unit_cost\nK,K-7,A-2,9,today-20,today-30,200\nE,E-7,B-1,9,today-20,,6\nQ,Q-7,B-1,9,today-20,,30\n");
        var closed = await bench.Finished("P-1");
        Must(await new CloseOrder(bench.Desk).Run(bench.Planner, closed, null, null, Ct));
        await bench.Plant.Good("pumps", "tag,serial,model,area,zone,supply_kind,supply_volts,cable_m,cable_mm2,fluid,criticality,sensing_rod\nP-3,S-3,M30,Hall,none,dc,24.0,10,0.75,water,5,yes\nP-4,S-4,M30,Hall,none,dc,24.0,10,0.75,water,5,yes\n");
        var open = await bench.Opened("P-2");
        var staged = await bench.Picked("P-3");
        Must(await new StageOrder(bench.Desk).Run(bench.Clerk, staged, "S-4", null, Ct));
        Must(await new ScrapStock(bench.Desk).Run(bench.Clerk, new Scrap("Q", "B-1", "Q-7", 2, "cracked"), Ct));

        var trace = new LotTrace(bench.Desk);
        var kit = Assert.Single(Must(await trace.Find(" K-7 ", Ct)));
        Assert.Equal(("K", "K-7", 9m, 0m), (kit.Part, kit.Lot, kit.Received, kit.Scrapped));
        Assert.Equal([(open, OrderState.Open, "P-2", null, 1m, 0m), (staged, OrderState.Staged, "P-3", "S-4", 0m, 1m)],
            kit.Orders.Select(o => (o.Order, o.State, o.Tag, o.Place, o.Reserved, o.InHand)));
        Assert.Equal([("A-2", 8m, 1m)], kit.Shelves.Select(s => (s.Bin, s.OnHand, s.Reserved)));
        var first = Assert.Single(Must(await trace.Find("K-1", Ct)));
        Assert.Equal([("P-1", "S-1", 1m, Today, closed)], first.Pumps.Select(p => (p.Tag!, p.Serial, p.Quantity, p.Since, p.Order)));
        Assert.Empty(first.Shelves);
        Assert.Equal(2, Assert.Single(Must(await trace.Find("Q-7", Ct))).Scrapped);
        Refused(await trace.Find("k-7", Ct), "lot-unknown");
        Refused(await trace.Find(null, Ct), "lot-unknown");
    }

    [Fact]
    public async Task A_number_that_several_parts_use_names_them_all_and_says_which_is_aside()
    {
        await using var bench = await New(databases);
        await bench.Plant.Good("stock", "part,lot,bin,quantity,received_on,cured_on\nE,SAME,B-1,2,today-20,\nS,SAME,A-2,3,today-20,today-30\n");
        Must(await new QuarantineLot(bench.Desk).Run(bench.Planner, "S", "SAME", "maker's notice", Ct));
        var lots = Must(await new LotTrace(bench.Desk).Find("SAME", Ct));
        Assert.Equal([("E", null, true), ("S", "maker's notice", false)], lots.Select(l => (l.Part, l.Quarantine, l.GoodUntil is null)));
        Assert.Equal([2m, 3m], lots.Select(l => Assert.Single(l.Shelves).OnHand));
    }
}
