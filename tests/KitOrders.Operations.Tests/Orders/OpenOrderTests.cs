using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

public sealed class OpenOrderTests(TestDatabase databases)
{
    [Fact]
    public async Task The_worked_example_holds_one_box_and_builds_the_second()
    {
        await using var bench = await New(databases);
        var first = await bench.View(await bench.Opened("P-1"));
        Assert.Equal(
            [("K", LineSource.InTheBox, 1m, 0m, 1m, 1m, 0m), ("E", LineSource.BoughtSeparately, 1m, 0m, 1m, 1m, 0m), ("Q", LineSource.CarriedOver, 2m, 0m, 2m, 2m, 0m)],
            first.Demand.Select(l => (l.Part, l.Source, l.Gross, l.Built, l.Required, l.Reserved, l.Short)).OrderBy(l => l.Source));

        var second = await bench.View(await bench.Opened("P-2"));
        Assert.Equal(
            [("B", 1m, 0m, 1m, 1m, 0m), ("C", 1m, 0m, 1m, 0m, 1m), ("E", 1m, 0m, 1m, 0m, 1m), ("K", 1m, 1m, 0m, 0m, 0m),
             ("P", 1m, 0m, 1m, 1m, 0m), ("Q", 2m, 0m, 2m, 1m, 1m), ("S", 1m, 0m, 1m, 1m, 0m), ("V", 1m, 1m, 0m, 0m, 0m)],
            second.Demand.Select(l => (l.Part, l.Gross, l.Built, l.Required, l.Reserved, l.Short)).OrderBy(l => l.Part, StringComparer.Ordinal));
        Assert.All(second.Demand, l => Assert.Equal(l.Required, l.Picked + l.Reserved + l.Short));
    }

    [Fact]
    public async Task A_draft_shows_what_opening_would_hold_and_holds_nothing()
    {
        await using var bench = await New(databases);
        var draft = await bench.View(await bench.Draft());
        Assert.Equal(1m, draft.Demand.Single(l => l.Part == "K").Reserved);
        Assert.All(draft.Demand.SelectMany(l => l.Reservations), r => Assert.Equal(0, r.Id));
        Assert.Equal(1m, await bench.Free("K"));
        Assert.Equal(9, draft.Steps.Count);
        Assert.Equal(11, draft.Suitability.Count);
    }

    [Fact]
    public async Task Steps_are_frozen_when_the_order_opens()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        await bench.Plant.Good("procedures", """
            procedure,revision,step,part_of,kind,text
            PR,2,1,preliminary,instruction,Other
            PR,2,2,main,instruction,Other
            PR,2,3,closeUp,functionTest,Other

            """);
        var order = await bench.View(number);
        Assert.Equal(1, order.ProcedureRevision);
        Assert.Equal(9, order.Steps.Count);
        Assert.Equal(2, order.Steps.Single(s => s.Step == 6).Pieces);
    }

    [Fact]
    public async Task A_failed_check_keeps_the_order_a_draft_and_holds_nothing()
    {
        await using var bench = await New(databases);
        await bench.Plant.Good("pumps", "tag,serial,model,criticality,sensing_rod\nP-1,S-1,M30,8,no\n");
        var number = await bench.Draft();
        var refusal = Refused(await new OpenOrder(bench.Desk).Run(bench.Planner, number, Ct), "suitability-failed");
        Assert.Contains("sensing rod", refusal.Sentence, StringComparison.Ordinal);
        Assert.Equal(OrderState.Draft, (await bench.View(number)).State);
        Assert.Equal(1m, await bench.Free("K"));
    }

    [Fact]
    public async Task An_unknown_check_waits_for_a_named_persons_answer()
    {
        await using var bench = await New(databases);
        await bench.Plant.Good("pumps", "tag,serial,model,criticality,sensing_rod\nP-1,S-1,M30,8,\n");
        var number = await bench.Draft();
        Refused(await new OpenOrder(bench.Desk).Run(bench.Planner, number, Ct), "suitability-unanswered");

        var answer = new AnswerCheck(bench.Desk);
        Refused(await answer.Run(bench.Planner, number, Check.SensingRod, "K", "passed", "", Ct), "note-missing");
        Must(await answer.Run(bench.Planner, number, Check.SensingRod, "K", "failed", "No machined rod", Ct));
        Refused(await new OpenOrder(bench.Desk).Run(bench.Planner, number, Ct), "suitability-unanswered");
        Must(await answer.Run(bench.Planner, number, Check.SensingRod, "K", "passed", "Rod seen, machined", Ct));
        Must(await new OpenOrder(bench.Desk).Run(bench.Planner, number, Ct));
        var check = (await bench.View(number)).Suitability.Single(c => c.Check == Check.SensingRod);
        Assert.Equal(("Petra Planner", "Rod seen, machined"), (check.AnsweredBy, check.Note));
    }

    [Fact]
    public async Task An_unknown_area_is_answered_by_recording_it_and_by_nothing_else()
    {
        await using var bench = await New(databases);
        await bench.Plant.Good("pumps", "tag,serial,model,criticality,sensing_rod,zone\nP-1,S-1,M30,8,yes,\n");
        var number = await bench.Draft(breakdown: true);
        Refused(await new AnswerCheck(bench.Desk).Run(bench.Planner, number, Check.Area, "K", "passed", "Looks fine", Ct), "suitability-not-recorded");
        Assert.NotNull((await new OpenOrder(bench.Desk).Run(bench.Planner, number, Ct)).Refusal);
        await bench.Plant.Good("pumps", "tag,serial,model,criticality,zone\nP-1,S-1,M30,8,none\n");
        Must(await new OpenOrder(bench.Desk).Run(bench.Planner, number, Ct));
    }

    [Fact]
    public async Task A_breakdown_opens_with_unknown_checks_pending_but_does_not_start_with_them()
    {
        await using var bench = await New(databases);
        await bench.Plant.Good("pumps", "tag,serial,model,criticality,sensing_rod\nP-1,S-1,M30,8,\n");
        var number = await bench.Draft(breakdown: true);
        Must(await new OpenOrder(bench.Desk).Run(bench.Planner, number, Ct));
        Must(await new PickLines(bench.Desk).Run(bench.Clerk, number, [.. (await bench.Held(number)).Select(r => new PickInput(r.Id, r.Quantity))], Ct));
        Must(await new StageOrder(bench.Desk).Run(bench.Clerk, number, null, null, Ct));
        Refused(await new StartOrder(bench.Desk).Run(bench.Technician, number, null, Ct), "suitability-unanswered");
    }

    [Fact]
    public async Task Two_people_open_orders_for_the_last_part_and_one_goes_short()
    {
        await using var bench = await New(databases);
        var numbers = new[] { await bench.Draft("P-1"), await bench.Draft("P-2") };
        var outcomes = await Task.WhenAll(numbers.Select(n => new OpenOrder(bench.Desk).Run(bench.Planner, n, Ct)));
        Assert.All(outcomes, o => Must(o));
        var shorts = await Task.WhenAll(numbers.Select(async n => (await bench.Line(n, "E")).Short));
        Assert.Equal([0m, 1m], shorts.Order());
    }

    [Fact]
    public async Task A_second_opening_says_that_it_is_open()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        var refusal = Refused(await new OpenOrder(bench.Desk).Run(bench.Planner, number, Ct), "order-state");
        Assert.Contains("is open", refusal.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_same_key_opens_once_and_answers_the_same()
    {
        await using var bench = await New(databases);
        var number = await bench.Draft();
        var call = bench.Planner with { Key = new CommandKey("one", "hash") };
        Assert.Equal(number, Must(await new OpenOrder(bench.Desk).Run(call, number, Ct)));
        Assert.Equal(number, Must(await new OpenOrder(bench.Desk).Run(call, number, Ct)));
        Refused(await new OpenOrder(bench.Desk).Run(call with { Key = new CommandKey("one", "other") }, number, Ct), "idempotency-key-reused");
        await using var db = bench.Db();
        Assert.Equal(1, await db.Audit.CountAsync(a => a.Operation == "open-order", Ct));
    }

    [Fact]
    public async Task Only_planners_draft_and_open()
    {
        await using var bench = await New(databases);
        var number = await bench.Draft();
        Refused(await new OpenOrder(bench.Desk).Run(bench.Clerk, number, Ct), "not-allowed");
        Refused(await new CreateOrder(bench.Desk).Run(bench.Technician, new NewOrder("P-1", "CONV", Today, 5), Ct), "not-allowed");
    }

    [Theory]
    [InlineData("P-9", "CONV", 5, 1, "pump-unknown")]
    [InlineData("P-1", "NONE", 5, 1, "job-unknown")]
    [InlineData("P-1", "CONV", 0, 1, "order-values")]
    [InlineData("P-1", "CONV", 11, 1, "order-values")]
    [InlineData("P-1", "CONV", 5, 0, "order-values")]
    [InlineData("P-1", "CONV", 5, 10_000, "order-values")]
    public async Task A_draft_that_cannot_be_says_why(string pump, string job, int workClass, int quantity, string code)
    {
        await using var bench = await New(databases);
        Refused(await new CreateOrder(bench.Desk).Run(bench.Planner, new NewOrder(pump, job, Today, workClass) { Kits = [new KitAsk("K", quantity)] }, Ct), code);
    }

    [Fact]
    public async Task A_fit_date_past_the_last_good_day_gives_the_lot_up()
    {
        await using var bench = await New(databases);
        await bench.Opened("P-1");
        var number = await bench.Opened("P-2");
        Assert.Equal(1m, (await bench.Line(number, "S")).Reserved);
        // NBR, ISO 2230 group B: seven years after cure.
        Must(await new ChangeOrder(bench.Desk).Run(bench.Planner, number, new OrderChange(PlannedFitOn: Today.AddYears(8)), Ct));
        Assert.Equal((0m, 1m), ((await bench.Line(number, "S")).Reserved, (await bench.Line(number, "S")).Short));
        Must(await new ChangeOrder(bench.Desk).Run(bench.Planner, number, new OrderChange(ClearPlannedFit: true), Ct));
        Assert.Equal(1m, (await bench.Line(number, "S")).Reserved);
    }
}
