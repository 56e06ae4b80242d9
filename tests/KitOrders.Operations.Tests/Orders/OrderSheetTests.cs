using KitOrders.Operations.Orders;
using KitOrders.Operations.Planning;
using KitOrders.Rules.Pumps;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

public sealed class OrderSheetTests(TestDatabase databases)
{
    static async Task<OrderSheetView> Sheet(OrderBench bench, string number) => Must(await new OrderSheet(bench.Desk).One(number, Ct));

    [Fact]
    public async Task The_day_of_an_open_order_is_the_day_that_the_readiness_of_all_orders_says()
    {
        await using var bench = await New(databases);
        string[] numbers = [await bench.Opened(), await bench.Opened("P-2"), await bench.Opened("P-1", workClass: 9)];
        var board = (await new ReadinessBoard(bench.Desk).Read(null, Ct)).ToDictionary(r => r.Order);
        foreach (var number in numbers)
        {
            var day = (await Sheet(bench, number)).Day!;
            Assert.Equal((board[number].ReadyOn, board[number].ReadyIfBoughtToday), (day.ReadyOn, day.ReadyIfBoughtToday));
            Assert.Equal(board[number].BindingPart, day.Waiting.FirstOrDefault(w => w.Binds)?.Part);
            Assert.Equal(board[number].Waiting.Select(w => (w.Part, w.Uncovered)).Order(), day.Waiting.Select(w => (w.Part, w.Uncovered)).Order());
        }
    }

    [Fact]
    public async Task A_draft_is_given_the_day_it_would_have_once_opened()
    {
        await using var bench = await New(databases);
        await bench.Opened();
        var draft = await bench.Draft("P-2");
        var before = (await Sheet(bench, draft)).Day!;
        Must(await new OpenOrder(bench.Desk).Run(bench.Planner, draft, Ct));
        var after = (await Sheet(bench, draft)).Day!;
        Assert.NotEmpty(before.Waiting);
        Assert.Equal((after.ReadyOn, after.ReadyIfBoughtToday), (before.ReadyOn, before.ReadyIfBoughtToday));
        Assert.Equal(after.Waiting.Select(w => (w.Part, w.On, w.Uncovered)), before.Waiting.Select(w => (w.Part, w.On, w.Uncovered)));
    }

    [Fact]
    public async Task It_says_what_the_pump_is_what_it_becomes_and_afterwards_what_it_was()
    {
        await using var bench = await New(databases);
        var number = await bench.Finished();
        var planned = (await Sheet(bench, number)).Pump;
        Assert.Equal(("M30", Control.PilotAir, "M30-S", Control.Solenoid, "24 V DC"), (planned.Model, planned.Control, planned.Becomes, planned.ControlAfter!.Value, planned.SupplyAfter));
        Must(await new CloseOrder(bench.Desk).Run(bench.Planner, number, null, null, Ct));
        var closed = (await Sheet(bench, number)).Pump;
        Assert.Equal(("M30", Control.PilotAir, "M30-S"), (closed.Model, closed.Control, closed.Becomes));
        Assert.Empty(closed.Fitted);
    }

    [Fact]
    public async Task A_short_line_names_the_less_pressing_orders_that_hold_the_part_and_the_alternates_that_are_free()
    {
        await using var bench = await New(databases);
        await bench.Plant.Good("parts", "part,description,unit\nE2,Elbow of steel,each\n");
        await bench.Plant.Good("alternates", "part,alternate,preference,both_ways\nE,E2,1,no\n");
        await bench.Plant.Good("stock", "part,lot,bin,quantity,received_on\nE2,E2-1,A-2,6,today-1\n");
        var low = await bench.Opened("P-2", workClass: 2);
        var high = await bench.Opened("P-1", workClass: 9);
        var ways = (await Sheet(bench, high)).Ways.Single(w => w.Part == "E");
        Assert.Equal([new HolderOf(low, 10, 1)], ways.Holders);
        Assert.Equal([new AlternateOf("E2", "Elbow of steel", 6, "A-2")], ways.Alternates);
        Assert.Equal((1, 2), ((await Sheet(bench, high)).Rank!.Value, (await Sheet(bench, high)).Ranked));
        // The order that holds it presses less, so nothing is offered to it.
        Assert.DoesNotContain((await Sheet(bench, low)).Ways, w => w.Holders.Count > 0);
    }

    [Fact]
    public async Task An_order_that_is_not_there_is_refused()
    {
        await using var bench = await New(databases);
        Refused(await new OrderSheet(bench.Desk).One("4711", Ct), "order-unknown");
    }
}
