using KitOrders.Operations.Orders;
using KitOrders.Operations.Parts;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

/// <summary>The worked example, whose second order is short of an elbow E, a coil C and a spare valve Q.</summary>
public sealed class AlternateTests(TestDatabase databases)
{
    static async Task<(OrderBench Bench, string Number)> Short(TestDatabase databases)
    {
        var bench = await New(databases);
        await bench.Plant.Good("parts", """
            part,description,unit,elastomers,superseded_by
            E2,"Elbow, steel",each,,
            E3,"Elbow, long",each,,
            C2,"Coil, new make",each,,
            C,Coil,each,,C2
            Q2,"Quick-exhaust valve, steel",each,NBR,
            """);
        await bench.Plant.Good("alternates", "part,alternate,preference,both_ways\nE,E3,2,no\nE,E2,1,yes\nQ,Q2,1,no\n");
        await bench.Plant.Good("stock", """
            part,lot,bin,quantity,received_on,cured_on,unit_cost
            E2,E2-1,B-1,3,today-30,,7
            Q2,Q2-1,A-1,2,today-30,today-400,31
            """);
        await bench.Opened("P-1");
        return (bench, await bench.Opened("P-2"));
    }

    static Task<Outcome<string>> Use(OrderBench bench, string number, string part, string alternate, decimal quantity = 1, string reason = "the line stands still", LineSource? source = null) =>
        new UseAlternate(bench.Desk).Run(bench.Planner, number, new AlternateAsk(part, alternate, quantity, reason, source), Ct);

    static Task<Outcome<string>> TakeBack(OrderBench bench, string number, string part, string alternate) =>
        new TakeBackAlternate(bench.Desk).Run(bench.Planner, number, new AlternateBack(part, alternate, "the elbow came"), Ct);

    static (decimal Gross, decimal Required, decimal Reserved, decimal Short) Figures(DemandView l) => (l.Gross, l.Required, l.Reserved, l.Short);

    [Fact]
    public async Task Alternates_are_offered_in_the_order_of_preference_with_what_is_free_of_them()
    {
        var (bench, number) = await Short(databases);
        await using var _ = bench;
        var sheet = Must(await new OrderSheet(bench.Desk).One(number, Ct));
        Assert.Equal([("E2", 3m, "B-1"), ("E3", 0m, null)], sheet.Ways.Single(w => w.Part == "E").Alternates.Select(a => (a.Part, a.Free, a.Bin)));
        Assert.Equal([("C2", true)], sheet.Ways.Single(w => w.Part == "C").Alternates.Select(a => (a.Part, a.Supersedes)));
        Assert.Equal("C2", sheet.Order.Demand.Single(l => l.Part == "C").SupersededBy);
    }

    [Fact]
    public async Task An_alternate_takes_the_place_of_what_is_short_and_both_lines_say_so()
    {
        var (bench, number) = await Short(databases);
        await using var _ = bench;
        Must(await Use(bench, number, "E", "E2"));
        var order = await bench.View(number);
        var (first, by) = (order.Demand.Single(l => l.Part == "E"), order.Demand.Single(l => l.Part == "E2"));
        Assert.Equal((0m, 0m, 0m, 0m), Figures(first));
        Assert.Equal((1m, 1m, 1m, 0m), Figures(by));
        Assert.Equal((LineSource.BoughtSeparately, 7m, "E2-1"), (by.Source, by.UnitCost, Assert.Single(by.Reservations).Lot));
        Assert.Equal([new OriginView("K", 3, 1, "E")], by.Origins);
        Assert.Equal(("E", 1m, "the line stands still", "Petra Planner"), Assert.Single(by.InPlaceOf) is var o ? (o.Part, o.Quantity, o.Reason, o.By) : default);
        Assert.Equal(("E2", 1m), Assert.Single(first.ReplacedBy) is var r ? (r.Part, r.Quantity) : default);
        Assert.Equal("Uses 1 × E2 in place of E, all of it reserved: the line stands still", order.History[^1].Sentence);
        Assert.Equal(2m, await bench.Free("E2"));
    }

    [Fact]
    public async Task What_is_not_free_of_the_alternate_is_short_of_it_and_covered_when_it_comes()
    {
        var (bench, number) = await Short(databases);
        await using var _ = bench;
        Must(await Use(bench, number, "C", "C2"));
        Assert.Equal((1m, 1m, 0m, 1m), Figures(await bench.Line(number, "C2")));
        Must(await new ReceiveLot(bench.Desk).Run(bench.Clerk, new Receipt("C2", 1, "A-1") { Lot = "C2-1" }, Ct));
        Assert.Equal((1m, 1m, 1m, 0m), Figures(await bench.Line(number, "C2")));
        Must(await new ReceiveLot(bench.Desk).Run(bench.Clerk, new Receipt("C", 1, "A-1") { Lot = "C-1" }, Ct));
        Assert.Equal(1m, await bench.Free("C"));
    }

    [Fact]
    public async Task It_is_taken_back_while_nothing_of_it_is_picked_and_the_order_is_short_again()
    {
        var (bench, number) = await Short(databases);
        await using var _ = bench;
        Must(await Use(bench, number, "E", "E2"));
        Must(await TakeBack(bench, number, "E", "E2"));
        var order = await bench.View(number);
        Assert.Equal((1m, 1m, 0m, 1m), Figures(order.Demand.Single(l => l.Part == "E")));
        Assert.Empty(order.Demand.Single(l => l.Part == "E").ReplacedBy);
        Assert.DoesNotContain(order.Demand, l => l.Part == "E2");
        Assert.Equal(3m, await bench.Free("E2"));
        Refused(await TakeBack(bench, number, "E", "E2"), "alternate-not-used");

        Must(await Use(bench, number, "E", "E2"));
        Must(await new PickLines(bench.Desk).Run(bench.Clerk, number, [.. (await bench.Line(number, "E2")).Reservations.Select(r => new PickInput(r.Id, r.Quantity))], Ct));
        Refused(await TakeBack(bench, number, "E", "E2"), "alternate-picked");
    }

    [Fact]
    public async Task An_alternate_of_an_alternate_is_taken_back_first()
    {
        var (bench, number) = await Short(databases);
        await using var _ = bench;
        await bench.Plant.Good("alternates", "part,alternate\nE3,E2\n");
        Must(await Use(bench, number, "E", "E3"));
        Must(await Use(bench, number, "E3", "E2"));
        Refused(await TakeBack(bench, number, "E", "E3"), "alternate-replaced");
        Must(await TakeBack(bench, number, "E3", "E2"));
        Must(await TakeBack(bench, number, "E", "E3"));
        Assert.Equal((1m, 1m, 0m, 1m), Figures(await bench.Line(number, "E")));
    }

    [Fact]
    public async Task What_cannot_be_is_refused_and_changes_nothing()
    {
        var (bench, number) = await Short(databases);
        await using var _ = bench;
        Refused(await Use(bench, number, "E", "E2", reason: " "), "reason-missing");
        Refused(await Use(bench, number, "E", "E2", reason: new string('x', 501)), "reason-too-long");
        Refused(await Use(bench, number, "E", "E"), "alternate-of-itself");
        Refused(await Use(bench, number, "E", "P"), "alternate-not-approved");
        Refused(await Use(bench, number, "E2", "E"), "alternate-not-needed");
        Refused(await Use(bench, number, "E", "E2", 2), "alternate-not-needed");
        Refused(await Use(bench, number, "E", "E2", source: LineSource.InTheBox), "alternate-not-needed");
        Refused(await Use(bench, number, "E", "E2", 0.5m), "quantity-not-whole");
        Refused(await Use(bench, number, "E", "E9"), "part-unknown");
        Refused(await Use(bench, "nowhere", "E", "E2"), "order-unknown");
        Refused(await Use(bench, await bench.Draft(), "E", "E2"), "order-state");
        Refused(await new UseAlternate(bench.Desk).Run(bench.Clerk, number, new AlternateAsk("E", "E2", 1, "x"), Ct), "not-allowed");
        Refused(await new TakeBackAlternate(bench.Desk).Run(bench.Planner, number, new AlternateBack("E", "E2", ""), Ct), "reason-missing");
        Assert.Equal((1m, 1m, 0m, 1m), Figures(await bench.Line(number, "E")));
    }

    [Fact]
    public async Task The_shelf_life_of_what_stands_in_is_judged_with_the_order()
    {
        var (bench, number) = await Short(databases);
        await using var _ = bench;
        string Life(OrderView order) => order.Suitability.Single(c => c.Check == Check.ShelfLife).Reason;
        var before = await bench.View(number);
        Must(await Use(bench, number, "Q", "Q2"));
        var after = await bench.View(number);
        Assert.DoesNotContain("Q2", Life(before), StringComparison.Ordinal);
        Assert.Contains("Q2 lot Q2-1", Life(after), StringComparison.Ordinal);
        Assert.Equal(before.Suitability.Where(c => c.Check != Check.ShelfLife).Select(c => (c.Check, c.Reason)), after.Suitability.Where(c => c.Check != Check.ShelfLife).Select(c => (c.Check, c.Reason)));
        Assert.Equal(["Q2"], after.Steps.Single(s => s.Part == "Q").InItsPlace);
    }

    [Fact]
    public async Task A_spare_that_stands_in_serves_the_piece_that_is_rejected()
    {
        var (bench, number) = await Short(databases);
        await using var _ = bench;
        foreach (var (part, alternate) in new[] { ("Q", "Q2"), ("E", "E2") })
            Must(await Use(bench, number, part, alternate));
        Must(await new ReceiveLot(bench.Desk).Run(bench.Clerk, new Receipt("C", 1, "A-1") { Lot = "C-1" }, Ct));
        Must(await new PickLines(bench.Desk).Run(bench.Clerk, number, [.. (await bench.Held(number)).Select(r => new PickInput(r.Id, r.Quantity))], Ct));
        Must(await new StageOrder(bench.Desk).Run(bench.Clerk, number, "S-1", null, Ct));
        Must(await new StartOrder(bench.Desk).Run(bench.Technician, number, null, Ct));
        await bench.Preliminaries(number);
        for (var piece = 1; piece <= 2; piece++)
            Must(await bench.Record(number, 6, new StepInput(StepOutcome.AsSpecified) { Decision = CarryOverDecision.Replace }));
        var order = await bench.View(number);
        Assert.Null(order.Paused);
        Assert.Equal((1m, 1m, 0m, 0m), Figures(order.Demand.Single(l => l.Part == "Q")));
        Assert.Equal(1m, order.Demand.Single(l => l.Part == "Q2").Picked);
    }

    [Fact]
    public async Task Two_planners_who_use_the_last_alternate_share_what_there_is()
    {
        var (bench, number) = await Short(databases);
        await using var _ = bench;
        var other = await bench.Draft("P-1", kits: [new KitAsk("K", 4)]);
        Must(await new OpenOrder(bench.Desk).Run(bench.Planner, other, Ct));
        var both = await Task.WhenAll(Use(bench, number, "E", "E2"), Use(bench, other, "E", "E2", 4));
        Assert.All(both, o => Assert.True(o.IsDone, o.Refusal?.Sentence));
        var lines = (await bench.Line(number, "E2"), await bench.Line(other, "E2"));
        Assert.Equal((3m, 2m), (lines.Item1.Reserved + lines.Item2.Reserved, lines.Item1.Short + lines.Item2.Short));
    }
}
