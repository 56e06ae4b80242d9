using KitOrders.Operations.Orders;
using KitOrders.Operations.Planning;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;
using Xunit;
using static KitOrders.Operations.Tests.Orders.CampaignBench;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

public sealed class CampaignTests(TestDatabase databases)
{
    [Fact]
    public async Task Twenty_pumps_hold_seven_spares_together_where_twenty_orders_would_hold_twenty()
    {
        await using var plant = await CampaignBench.New(databases, 20);
        var number = await plant.Made(20, firstDay: Today.AddDays(3), perDay: 8);

        var draft = await plant.View(number);
        Assert.Equal((CampaignState.Draft, 20), (draft.State, draft.Orders.Count(o => o.WouldOpen)));
        var promised = Assert.Single(draft.Spares);
        Assert.Equal(("Q", 40m, 0.10m, 20m, 7m, 0m), (promised.Part, promised.Kept, promised.Rate, promised.Alone, promised.Pooled, promised.Required));
        Assert.Equal([(3, 8), (4, 8), (5, 4)], draft.Orders.GroupBy(o => o.FitOn).OrderBy(g => g.Key).Select(g => (g.Key.DayNumber - Today.DayNumber, g.Count())));
        Assert.Equal(Today.AddDays(3), draft.Orders.Single(o => o.Pump == Pump(1)).FitOn);
        Assert.Equal(3, await plant.Bench.Free("Q"));

        Assert.Equal(20, Must(await plant.Open(number)).Opened);

        Assert.Equal((7, 0, 3, 4, 0), await plant.Pool(number));
        var view = await plant.View(number);
        Assert.Equal(CampaignState.Open, view.State);
        var spare = Assert.Single(view.Spares);
        Assert.Equal((40m, 0.10m, 20m, 7m), (spare.Kept, spare.Rate, spare.Alone, spare.Pooled));
        foreach (var order in view.Orders)
            Assert.DoesNotContain((await plant.Bench.View(order.Number)).Demand, d => d.Spare);
        Assert.Equal(0, await plant.Bench.Free("Q"));
    }

    [Fact]
    public async Task An_order_outside_of_any_campaign_holds_its_own_spares()
    {
        await using var plant = await CampaignBench.New(databases, 1);
        var order = await plant.Bench.Opened();
        Assert.Equal(2, (await plant.Bench.Line(order, "Q")).Reserved);
        Assert.Null((await plant.Bench.View(order)).Campaign);
    }

    [Fact]
    public async Task The_most_pressing_orders_open_first_and_each_answers_for_itself()
    {
        await using var plant = await CampaignBench.New(databases, 4);
        await plant.Bench.Plant.Good("fluids", "fluid,hazard,approved,refused\nacid,none,,PP\n");
        await plant.Bench.Plant.Good("pumps", "tag,serial,model,fluid,criticality\nM-02,M-2,M30,acid,9\n");
        var number = await plant.Made(4);

        var told = new List<(OpenedInCampaign Order, int Of)>();
        var answer = Must(await plant.Opener.Run(plant.Bench.Planner, number, (o, of) => { told.Add((o, of)); return Task.CompletedTask; }, CancellationToken.None, Ct));

        Assert.Equal([Pump(1), Pump(2), Pump(3), Pump(4)], answer.Orders.Select(o => o.Pump));
        Assert.Equal([true, false, true, true], answer.Orders.Select(o => o.Opened));
        Assert.Equal("suitability-failed", answer.Orders[1].Code);
        Assert.Contains("acid", answer.Orders[1].Why, StringComparison.Ordinal);
        Assert.Equal([.. answer.Orders.Select(o => (o, 4))], told);
        Assert.Equal(SparePool.Size([.. Enumerable.Repeat(new SpareShare(0, 2, 0.10m, 1), 3)], 0.05m).Quantity, (await plant.Pool(number)).Required);
        Assert.Contains(await plant.Trail(number), s => s.StartsWith("Opened 3 of 4 drafts. Left as drafts:", StringComparison.Ordinal));
        Refused(await plant.Open("C-9"), "campaign-unknown");
    }

    [Fact]
    public async Task Opening_can_be_stopped_between_two_orders_and_goes_on_later()
    {
        await using var plant = await CampaignBench.New(databases, 3);
        var number = await plant.Made(3);
        using var stop = new CancellationTokenSource();

        var answer = Must(await plant.Opener.Run(plant.Bench.Planner, number, (_, _) => stop.CancelAsync(), stop.Token, Ct));

        Assert.Equal([true, false, false], answer.Orders.Select(o => o.Opened));
        Assert.All(answer.Orders.Skip(1), o => Assert.Null(o.Code));
        Assert.Equal(2, Must(await plant.Open(number)).Opened);
        Refused(await plant.Open(number), "nothing-to-open");
    }

    [Fact]
    public async Task The_same_command_again_answers_the_same_and_opens_nothing_more()
    {
        await using var plant = await CampaignBench.New(databases, 3);
        var number = await plant.Made(2);
        var keyed = plant.Bench.Planner with { Key = new CommandKey("open them", "a") };
        var first = Must(await plant.Open(number, keyed));
        Must(await new AddToCampaign(plant.Desk).Run(plant.Bench.Planner, number, [Pump(3)], 5, null, Ct));

        var again = Must(await plant.Open(number, keyed));

        Assert.Equal(first.Orders, again.Orders);
        Assert.Equal(1, (await plant.View(number)).Orders.Count(o => o.State == OrderState.Draft));
        Refused(await plant.Open(number, plant.Bench.Planner with { Key = new CommandKey("open them", "b") }), "idempotency-key-reused");
    }

    [Fact]
    public async Task Two_people_who_open_one_campaign_at_once_open_every_order_once()
    {
        await using var plant = await CampaignBench.New(databases, 8);
        var number = await plant.Made(8);

        var answers = await Task.WhenAll(plant.Open(number), plant.Open(number), plant.Open(number));

        Assert.Equal(8, answers.Where(a => a.IsDone).Sum(a => a.Value.Opened));
        Assert.All(answers.Where(a => a.IsDone).SelectMany(a => a.Value.Orders).Where(o => !o.Opened), o => Assert.Equal("order-state", o.Code));
        Assert.All(answers.Where(a => !a.IsDone), a => Assert.Equal("nothing-to-open", a.Refusal!.Code));
        var needed = SpareCount.Hold(16, 0.10m, 0.05m);
        Assert.Equal((needed, 0, 3, needed - 3, 0), await plant.Pool(number));
    }

    [Fact]
    public async Task People_who_open_cancel_pick_and_receive_at_once_wait_for_each_other_and_leave_stock_true()
    {
        await using var plant = await CampaignBench.New(databases, 10);
        var (one, other) = (await plant.Opened(6), await plant.Made(10, workClass: 8));
        var ends = (await plant.View(one)).Orders.Select(o => o.Number).ToList();
        var spares = (await plant.View(one)).Spares[0].Lots.Where(l => l.Quantity > 0).Select(l => new PickInput(l.Id, 1, "one is enough for now", null)).ToList();

        var opened = plant.Open(other);
        var cancelled = Task.Run(async () =>
        {
            foreach (var order in ends.Take(4))
                Must(await new CancelOrder(plant.Desk).Run(plant.Bench.Planner, order, "not this year", null, Ct));
        }, Ct);
        var picked = new PickSpares(plant.Desk).Run(plant.Bench.Clerk, one, spares, Ct);
        var received = plant.Receive(2);
        await Task.WhenAll(opened, cancelled, picked, received);

        Assert.Equal(10, Must(await opened).Opened);
        // The spares may have gone with the cancelled orders before they were picked.
        Assert.True((await picked).IsDone || (await picked).Refusal!.Code is "pick-too-many" or "short-pick-reason");
        var (required, inHand, reserved, lacking, _) = await plant.Pool(other);
        Assert.Equal(SpareCount.Hold(20, 0.10m, 0.05m), required);
        Assert.Equal(required, inHand + reserved + lacking);
    }

    [Fact]
    public async Task A_cancelled_order_makes_the_pool_smaller_and_what_it_frees_serves_who_waits()
    {
        await using var plant = await CampaignBench.New(databases, 10);
        var number = await plant.Opened(10);
        Assert.Equal((4, 0, 3, 1, 0), await plant.Pool(number));
        var waiting = await plant.Bench.Opened("P-2");
        Assert.Equal((0m, 2m), ((await plant.Bench.Line(waiting, "Q")).Reserved, (await plant.Bench.Line(waiting, "Q")).Short));

        // Ten orders of two hold 4; five hold 3; one holds 1.
        for (var pump = 10; pump > 5; pump--)
            await plant.Cancel(await plant.Order(number, pump));
        Assert.Equal((3, 0, 3, 0, 0), await plant.Pool(number));
        for (var pump = 5; pump > 1; pump--)
            await plant.Cancel(await plant.Order(number, pump));
        Assert.Equal((1, 0, 1, 0, 0), await plant.Pool(number));
        Assert.Equal((2m, 0m), ((await plant.Bench.Line(waiting, "Q")).Reserved, (await plant.Bench.Line(waiting, "Q")).Short));

        await plant.Cancel(await plant.Order(number, 1));
        Assert.Equal((0, 0, 0, 0, 0), await plant.Pool(number));
        Assert.Equal((CampaignState.Ended, 1m), ((await plant.View(number)).State, await plant.Bench.Free("Q")));
    }

    [Fact]
    public async Task What_is_picked_is_never_asked_for_less_and_waits_to_be_given_back()
    {
        await using var plant = await CampaignBench.New(databases, 10);
        var number = await plant.Opened(10);
        await plant.PickSpares(number);
        Assert.Equal((4, 3, 0, 1, 0), await plant.Pool(number));

        for (var pump = 1; pump <= 10; pump++)
            await plant.Cancel(await plant.Order(number, pump));

        Assert.Equal((3, 3, 0, 0, 0), await plant.Pool(number));
        Assert.Contains(await plant.Trail(number), s => s.EndsWith("3 picked spares wait to be given back.", StringComparison.Ordinal));
        var lot = Assert.Single((await plant.View(number)).Spares[0].Lots);
        Refused(await new ReturnStock(plant.Desk).Run(plant.Bench.Clerk, new Return("C-9", lot.Id, 3), Ct), "reservation-unknown");
        Must(await new ReturnStock(plant.Desk).Run(plant.Bench.Clerk, new Return(number, lot.Id, 3), Ct));
        Refused(await new ReturnStock(plant.Desk).Run(plant.Bench.Clerk, new Return(number, lot.Id, 1), Ct), "return-too-many");
        Assert.Equal(3, await plant.Bench.Free("Q"));
    }

    [Fact]
    public async Task A_receipt_covers_the_pool_in_the_place_of_its_most_pressing_order()
    {
        await using var plant = await CampaignBench.New(databases, 10);
        // Criticality 10 × class 5 stands above criticality 5 × class 9 and below 8 × 9.
        var number = await plant.Opened(10);
        var above = await plant.Bench.Opened("P-1", workClass: 9);
        var below = await plant.Bench.Opened("P-2", workClass: 9);
        Assert.Equal(1, (await plant.Pool(number)).Short);

        await plant.Receive(2);
        Assert.Equal((0m, 1m, 2m), ((await plant.Bench.Line(above, "Q")).Short, (await plant.Pool(number)).Short, (await plant.Bench.Line(below, "Q")).Short));

        await plant.Receive(2);
        Assert.Equal((0m, 1m), ((await plant.Pool(number)).Short, (await plant.Bench.Line(below, "Q")).Short));
    }

    [Fact]
    public async Task The_pool_is_seen_by_everybody_who_asks_who_holds_and_who_waits()
    {
        await using var plant = await CampaignBench.New(databases, 10);
        var number = await plant.Opened(10);
        var first = await plant.Order(number, 1);

        var ledger = await plant.Bench.Ledger("Q");
        Assert.Equal((number, 3m, true), Assert.Single(ledger.Reservations) is var held ? (held.Order, held.Quantity, held.Campaign) : default);
        Assert.Equal((number, 1m, 50), Assert.Single(ledger.Waiting) is var waits ? (waits.Order, waits.Short, waits.Score) : default);
        Assert.Equal(1, ledger.Totals.Shortage);
        var shortage = Assert.Single(await new ShortageList(plant.Desk).Read(null, Ct), s => s.Part == "Q");
        Assert.Equal((1m, 2m), (shortage.Quantity, shortage.Hours));
        Assert.Equal([first], shortage.Orders);
        var board = await new ReadinessBoard(plant.Desk).Read(null, Ct);
        Assert.Equal("Q", board.Single(r => r.Order == first).BindingPart);
        Assert.All(board.Where(r => r.Order != first), r => Assert.Equal(Today, r.ReadyOn));
        Assert.Contains((await new TodayList(plant.Desk, new OrderList(plant.Desk)).Planner(Ct)).Waiting, w => w.Part?.Part == "Q" && w.Part.Orders.Contains(first));
        var queue = (await new PicksDue(plant.Desk).Read(Ct)).Orders.Single(o => o.Order == number);
        Assert.Equal((true, 1, 1), (queue.Campaign, queue.ToPick, queue.Missing));
        var run = await new PickRun(plant.Desk).Read([first, number], Ct);
        Assert.Equal([(first, false), (number, true)], run.Orders.Select(o => (o.Order, o.Campaign)));
        Assert.Equal(3, run.Lines.Single(l => l.Part == "Q").Pieces.Single(p => p.Order == number).Held);
        Assert.Equal(number, (await plant.Bench.View(first)).Campaign);
    }
}
