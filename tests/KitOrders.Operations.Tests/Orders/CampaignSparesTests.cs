using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.Orders.CampaignBench;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

public sealed class CampaignSparesTests(TestDatabase databases)
{
    [Fact]
    public async Task A_rejected_part_uses_a_spare_of_the_campaign_that_is_in_hand()
    {
        await using var plant = await CampaignBench.New(databases, 5);
        var number = await plant.Opened(5);
        Assert.Equal((3, 0, 3, 0, 0), await plant.Pool(number));
        await plant.PickSpares(number);
        var order = await plant.Order(number, 1);
        await plant.Start(order);

        Must(await plant.Judge(order, CarryOverDecision.Replace));
        Assert.Equal((3, 3, 0, 0, 1), await plant.Pool(number));
        var traced = Must(await new LotTrace(plant.Desk).Find("Q-1", Ct)).Single(l => l.Part == "Q");
        Assert.Equal([(order, 1m), (number, 2m)], traced.Orders.Select(o => (o.Order, o.InHand)));
        Assert.Null((await plant.Bench.View(order)).Paused);

        Must(await plant.Judge(order, CarryOverDecision.Reuse));
        await plant.Finish(order);
        Assert.Equal((3, 3, 0, 0, 1), await plant.Pool(number));
        var closed = await plant.Bench.View(order);
        Assert.Equal((OrderState.Closed, 32m), (closed.State, closed.Cost.Actual.Parts));
        await using var db = plant.Bench.Db();
        Assert.True(await db.FittedLots.AnyAsync(l => db.Parts.Any(p => p.Id == l.PartId && p.Number == "Q") && l.Quantity == 1, Ct));
    }

    [Fact]
    public async Task Without_a_spare_in_hand_work_is_paused_until_one_is_picked()
    {
        await using var plant = await CampaignBench.New(databases, 5);
        var number = await plant.Opened(5);
        var order = await plant.Order(number, 1);
        await plant.Start(order);

        Must(await plant.Judge(order, CarryOverDecision.Replace));
        Assert.Contains("a spare of Q is needed", (await plant.Bench.View(order)).Paused, StringComparison.Ordinal);
        Assert.Equal(0, (await plant.Pool(number)).Used);

        await plant.PickSpares(number);
        Assert.Equal((3, 3, 0, 0, 1), await plant.Pool(number));
        Must(await new ResumeOrder(plant.Desk).Run(plant.Bench.Technician, order, Ct));
    }

    [Fact]
    public async Task More_rejected_than_were_counted_on_makes_a_shortage()
    {
        await using var plant = await CampaignBench.New(databases, 1);
        var number = await plant.Opened(1);
        await plant.PickSpares(number);
        await using (var db = plant.Bench.Db())
            Assert.Equal(2, await db.BinStocks.Where(s => db.Parts.Any(p => p.Id == s.PartId && p.Number == "Q")).SumAsync(s => s.OnHand, Ct));
        Must(await new ScrapStock(plant.Desk).Run(plant.Bench.Clerk, new Scrap("Q", "B-1", "Q-1", 2, "bent"), Ct));
        var order = await plant.Order(number, 1);
        await plant.Start(order);

        Must(await plant.Judge(order, CarryOverDecision.Replace));
        Must(await plant.Judge(order, CarryOverDecision.Replace));

        Assert.Equal((2, 1, 0, 1, 1), await plant.Pool(number));
        Assert.NotNull((await plant.Bench.View(order)).Paused);
        await plant.Receive(1);
        Assert.Equal((2, 1, 1, 0, 1), await plant.Pool(number));
        await plant.PickSpares(number);
        Assert.Equal((2, 2, 0, 0, 2), await plant.Pool(number));
    }

    [Fact]
    public async Task A_decision_that_is_corrected_gives_the_spare_to_the_next_who_waits()
    {
        await using var plant = await CampaignBench.New(databases, 2);
        var number = await plant.Opened(2);
        var held = (await plant.View(number)).Spares[0].Lots[0];
        Must(await new PickSpares(plant.Desk).Run(plant.Bench.Clerk, number, [new PickInput(held.Id, 1, "the rest is at the other end", null)], Ct));
        var (one, other) = (await plant.Order(number, 1), await plant.Order(number, 2));
        await plant.Start(one);
        await plant.Start(other);
        Must(await plant.Judge(other, CarryOverDecision.Replace));
        Must(await plant.Judge(one, CarryOverDecision.Replace));
        Assert.Equal([(one, 0m), (other, 1m)], (await plant.View(number)).Orders.Select(o => (o.Number, o.SparesUsed)));

        var result = (await plant.Bench.View(other)).Steps.Single(s => s.Step == 6).Results[0];
        Must(await plant.Judge(other, CarryOverDecision.Reuse, 1, result.Id));

        Assert.Equal([(one, 1m), (other, 0m)], (await plant.View(number)).Orders.Select(o => (o.Number, o.SparesUsed)));
    }

    [Fact]
    public async Task After_the_last_order_what_is_left_is_free_or_given_back()
    {
        await using var plant = await CampaignBench.New(databases, 5);
        var number = await plant.Opened(5);
        var held = (await plant.View(number)).Spares[0].Lots[0];
        await using (var db = plant.Bench.Db())
            Assert.Equal(3, held.Quantity);
        for (var pump = 5; pump > 1; pump--)
            await plant.Cancel(await plant.Order(number, pump));
        Assert.Equal((1, 0, 1, 0, 0), await plant.Pool(number));
        await plant.PickSpares(number);
        var order = await plant.Order(number, 1);
        await plant.Start(order);
        Must(await plant.Judge(order, CarryOverDecision.Reuse));
        Must(await plant.Judge(order, CarryOverDecision.Reuse));
        await plant.Finish(order);

        Assert.Equal((1, 1, 0, 0, 0), await plant.Pool(number));
        Assert.Equal(CampaignState.Ended, (await plant.View(number)).State);
        Must(await new ReturnStock(plant.Desk).Run(plant.Bench.Clerk, new Return(number, (await plant.View(number)).Spares[0].Lots.Single(l => l.Picked > 0).Id, 1), Ct));
        Assert.Equal(3, await plant.Bench.Free("Q"));
    }

    [Fact]
    public async Task A_spare_that_comes_back_while_work_goes_on_is_held_again()
    {
        await using var plant = await CampaignBench.New(databases, 5);
        var number = await plant.Opened(5);
        await plant.PickSpares(number);
        var lot = (await plant.View(number)).Spares[0].Lots[0];

        Must(await new ReturnStock(plant.Desk).Run(plant.Bench.Clerk, new Return(number, lot.Id, 2) { Bin = "A-1" }, Ct));

        Assert.Equal((3, 1, 2, 0, 0), await plant.Pool(number));
    }

    [Fact]
    public async Task A_planner_releases_a_short_spare_by_name_and_reason_and_nobody_waits_for_it()
    {
        await using var plant = await CampaignBench.New(databases, 10);
        var number = await plant.Opened(10);
        Refused(await new ReleaseSpare(plant.Desk).Run(plant.Bench.Planner, number, "Q", " ", Ct), "reason-missing");
        Refused(await new ReleaseSpare(plant.Desk).Run(plant.Bench.Planner, number, "P", "no need", Ct), "line-not-short");
        Refused(await new ReleaseSpare(plant.Desk).Run(plant.Bench.Clerk, number, "Q", "no need", Ct), "not-allowed");

        Must(await new ReleaseSpare(plant.Desk).Run(plant.Bench.Planner, number, "Q", "the shop has one", Ct));

        var spare = Assert.Single((await plant.View(number)).Spares);
        Assert.Equal((1m, "Petra Planner", "the shop has one"), (spare.Short, spare.ReleasedBy, spare.ReleaseReason));
        await plant.Receive(1);
        Assert.Equal((1m, 1m), ((await plant.Pool(number)).Short, await plant.Bench.Free("Q")));
    }

    [Fact]
    public async Task A_count_that_finds_less_takes_from_the_pool_in_its_place()
    {
        await using var plant = await CampaignBench.New(databases, 5);
        var number = await plant.Opened(5);
        var refused = Refused(await new CountBin(plant.Desk).Run(plant.Bench.Clerk, new Count("Q", "B-1", "Q-1", 1), Ct), "count-below-reserved");
        Assert.Contains($"campaign {number} 2", refused.Sentence, StringComparison.Ordinal);

        Must(await new CountBin(plant.Desk).Run(plant.Bench.Clerk, new Count("Q", "B-1", "Q-1", 1) { Accept = true }, Ct));

        Assert.Equal((3, 0, 1, 2, 0), await plant.Pool(number));
        Must(await new QuarantineLot(plant.Desk).Run(plant.Bench.Clerk, "Q", "Q-1", "smells", Ct));
        Assert.Equal((3, 0, 0, 3, 0), await plant.Pool(number));
    }

    [Fact]
    public async Task A_later_fit_date_gives_up_spares_that_would_be_too_old_by_then()
    {
        await using var plant = await CampaignBench.New(databases, 2);
        var number = await plant.Opened(2);
        Assert.Equal((2, 0, 2, 0, 0), await plant.Pool(number));
        await using (var db = plant.Bench.Db())
            await db.Lots.Where(l => l.Number == "Q-1").ExecuteUpdateAsync(set => set.SetProperty(l => l.ExpiresOn, Today.AddDays(30)), Ct);

        Must(await new ChangeOrder(plant.Desk).Run(plant.Bench.Planner, await plant.Order(number, 2), new OrderChange(PlannedFitOn: Today.AddDays(60)), Ct));

        Assert.Equal((2, 0, 0, 2, 0), await plant.Pool(number));
    }

    [Fact]
    public async Task An_order_broken_off_with_its_pump_unchanged_gives_its_spare_back()
    {
        await using var plant = await CampaignBench.New(databases, 2);
        var number = await plant.Opened(2);
        await plant.PickSpares(number);
        var order = await plant.Order(number, 1);
        await plant.Start(order);
        Must(await plant.Judge(order, CarryOverDecision.Replace));

        Must(await new CancelOrder(plant.Desk).Run(plant.Bench.Planner, order, "the hall is needed", PumpAfterCancel.Unchanged, Ct));

        Assert.Equal(0, (await plant.Pool(number)).Used);
    }

    [Fact]
    public async Task A_campaign_that_cannot_be_made_says_why_and_writes_nothing()
    {
        await using var plant = await CampaignBench.New(databases, 2);
        var create = new CreateCampaign(plant.Desk);
        var wanted = new NewCampaign("Stop", "RATE", Today.AddDays(9), 5, CampaignBench.Pumps(2));
        async Task<IReadOnlyDictionary<string, string[]>> Errors(NewCampaign w) => Refused(await create.Run(plant.Bench.Planner, w, Ct), "campaign-values").Errors!;
        Assert.Contains("name", await Errors(wanted with { Name = " " }));
        Assert.Contains("pumps", await Errors(wanted with { Pumps = [] }));
        Assert.Contains("pumps", await Errors(wanted with { Pumps = ["M-01", "M-01"] }));
        Assert.Contains("pumpsPerDay", await Errors(wanted with { PumpsPerDay = 2 }));
        Assert.Contains("workClass", await Errors(wanted with { WorkClass = 11 }));
        Refused(await create.Run(plant.Bench.Planner, wanted with { Pumps = ["M-01", "X-99"] }, Ct), "pump-unknown");
        Refused(await create.Run(plant.Bench.Planner, wanted with { Job = "NONE" }, Ct), "job-unknown");
        Refused(await create.Run(plant.Bench.Clerk, wanted, Ct), "not-allowed");
        await using var db = plant.Bench.Db();
        Assert.Equal((0, 0), (await db.Campaigns.CountAsync(Ct), await db.WorkOrders.CountAsync(Ct)));

        var number = await plant.Made(1);
        Refused(await new AddToCampaign(plant.Desk).Run(plant.Bench.Planner, number, [Pump(1)], 5, null, Ct), "pump-in-campaign");
        Refused(await new CreateOrder(plant.Desk).Run(plant.Bench.Planner, new NewOrder("P-1", "CONV", Today, 5) { Number = number }, Ct), "order-number-taken");
        Assert.Equal([number], (await plant.Book.All(Ct)).Select(c => c.Number));
    }

    [Fact]
    public async Task The_close_out_says_of_every_pump_what_was_done_and_what_it_took()
    {
        await using var plant = await CampaignBench.New(databases, 3);
        var number = await plant.Opened(3);
        await plant.PickSpares(number);
        var order = await plant.Order(number, 1);
        await plant.Start(order);
        Must(await plant.Judge(order, CarryOverDecision.Replace));
        Must(await plant.Judge(order, CarryOverDecision.Reuse));
        await plant.Finish(order);
        await plant.Cancel(await plant.Order(number, 2));

        var report = Must(await new CampaignCloseOut(plant.Desk).Read(number, Ct));

        Assert.Equal([OrderState.Closed, OrderState.Cancelled, OrderState.Open], report.Pumps.Select(p => p.State));
        var done = report.Pumps[0];
        Assert.Equal((Pump(1), "M30", "M30", 2m, 3m), (done.Pump, done.Was, done.Is, done.HoursPlanned, done.HoursActual));
        Assert.Equal(["1 × P"], done.Parts);
        Assert.Equal(["1 × Q, lot Q-1"], done.Spares);
        Assert.Equal((102m, 182m), (report.CostPlanned, report.CostActual));
        Assert.Equal("not this year", report.Pumps[1].CancelReason);
        Assert.Equal(1, Assert.Single(report.Spares).Used);
        Refused(await new CampaignCloseOut(plant.Desk).Read("C-9", Ct), "campaign-unknown");
    }
}
