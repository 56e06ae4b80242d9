using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

/// <summary>The worked example, whose kit K gets a second revision: two plugs and two elbows, no valve kept from the pump.</summary>
public sealed class ReplanTests(TestDatabase databases)
{
    const string Lines = "kit,revision,line,part,quantity,source,spare_policy,buildable\nK,2,1,V,1,inTheBox,,yes\nK,2,2,P,2,inTheBox,,\nK,2,3,E,2,boughtSeparately,,\n";
    const string FitsHead = "kit,revision,model,converts_to,needs_sensing_rod,ports,supply_kind,volts,volts_tolerance_pct,amps,materials,once\n";
    const string Suits = FitsHead + "K,2,M30,M30-S,yes,exhaust=NPT 1/2 male,dc,24,10,0.2,PP+PTFE,yes\n";

    static async Task Released(OrderBench bench, string fits = Suits)
    {
        await bench.Plant.Good("kits", Lines);
        await bench.Plant.Good("fits", fits);
    }

    static async Task<ReplanView> Shown(OrderBench bench, string number) => Must(await new ReplanDifferences(bench.Desk).Of(number, Ct));

    static Task<Outcome<string>> Replan(OrderBench bench, string number, ReplanView shown, bool steps = false, params ReplanAnswer[] answers) =>
        new ReplanOrder(bench.Desk).Run(bench.Planner, number, new ReplanAsk(shown.Seen, steps, answers), Ct);

    static string Figures(ReplanFigures? f) => f is null ? "none" : $"{f.Gross}/{f.Built}/{f.Required}/{f.Reserved}/{f.Short}";

    [Fact]
    public async Task An_order_keeps_the_revision_it_opened_with_and_says_that_a_newer_one_is_out()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        await Released(bench);
        var kit = Assert.Single((await bench.View(number)).Kits);
        Assert.Equal((1, 2), (kit.Revision, kit.NewerRevision));
        Assert.Equal(2m, (await bench.Line(number, "Q")).Required);
        var row = Assert.Single(Must(await new OrderList(bench.Desk).Find(new OrderFilter(), null, null, Ct)).Items);
        Assert.Equal([new NewerRevision("K", 1, 2)], row.NewerRevisions);
    }

    [Fact]
    public async Task The_differences_are_shown_line_by_line_and_nothing_is_kept()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        await Released(bench);
        var before = await bench.View(number);
        var shown = await Shown(bench, number);
        Assert.Equal([new ReplanKit("K", 1, 2)], shown.Kits);
        Assert.Equal(["E 1/0/1/1/0 → 2/0/2/1/1", "K 1/0/1/1/0 → 1/0/1/1/0", "Q 2/0/2/2/0 → none"],
            shown.Lines.Select(l => $"{l.Part} {Figures(l.Before)} → {Figures(l.After)}").Order(StringComparer.Ordinal));
        Assert.Null(shown.Refused);
        Assert.Equal(before.Version, (await bench.View(number)).Version);
        Assert.Equal(2m, (await bench.Line(number, "Q")).Reserved);
    }

    [Fact]
    public async Task What_was_shown_is_done_and_what_is_not_needed_any_more_covers_who_waits()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened("P-1");
        var waits = await bench.Opened("P-2");
        Assert.Equal(1m, (await bench.Line(waits, "Q")).Short);
        await Released(bench);
        var shown = await Shown(bench, number);
        Must(await Replan(bench, number, shown));
        var order = await bench.View(number);
        Assert.Equal(["E 2/0/2/1/1", "K 1/0/1/1/0"], order.Demand.Select(l => $"{l.Part} {l.Gross:0}/{l.Built:0}/{l.Required:0}/{l.Reserved:0}/{l.Short:0}").Order(StringComparer.Ordinal));
        Assert.Equal((2, null), (order.Kits[0].Revision, order.Kits[0].NewerRevision));
        Assert.Equal(0m, (await bench.Line(waits, "Q")).Short);
        Assert.Equal(9, order.Steps.Count);
        Assert.Equal("Planned again with K rev 2: 1 lines covered, 1 short.", order.History[^1].Sentence);
        Assert.All((await Shown(bench, number)).Lines, l => Assert.False(l.Changed));
    }

    [Fact]
    public async Task Steps_are_frozen_anew_only_by_choice()
    {
        await using var bench = await New(databases);
        var (first, second) = (await bench.Opened("P-1"), await bench.Opened("P-2"));
        await bench.Plant.Good("procedures", """
            procedure,revision,step,part_of,kind,text
            PR,2,1,preliminary,check,Hazards: read the fluid card
            PR,2,2,main,instruction,Fit it
            PR,2,3,closeUp,functionTest,Run it

            """);
        var shown = await Shown(bench, first);
        Assert.Equal(new ReplanProcedure("PR", 1, 2), shown.Procedure);
        Assert.Equal([2, 3, 4, 5, 6, 7, 8, 9], shown.Steps.Select(s => s.Step));
        Assert.Equal(("Stop: stop the pump", "Fit it"), (shown.Steps[0].Before, shown.Steps[0].After));
        Assert.Null(shown.Steps[^1].After);
        Must(await Replan(bench, first, shown));
        Must(await Replan(bench, second, await Shown(bench, second), steps: true));
        Assert.Equal((9, 1), ((await bench.View(first)).Steps.Count, (await bench.View(first)).ProcedureRevision));
        Assert.Equal((3, 2), ((await bench.View(second)).Steps.Count, (await bench.View(second)).ProcedureRevision));
    }

    [Fact]
    public async Task Where_stock_or_order_have_changed_since_the_look_nothing_is_done()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        await Released(bench);
        var shown = await Shown(bench, number);
        Must(await new ReceiveLot(bench.Desk).Run(bench.Clerk, new Receipt("E", 1, "A-1") { Lot = "E-9" }, Ct));
        Refused(await Replan(bench, number, shown), "replan-changed");
        Assert.Equal(1m, (await bench.Line(number, "E")).Required);
        Must(await Replan(bench, number, await Shown(bench, number)));
        Assert.Equal(0m, (await bench.Line(number, "E")).Short);
        Refused(await Replan(bench, number, shown), "replan-changed");
    }

    [Fact]
    public async Task A_failed_check_of_the_new_revision_keeps_the_old_plan()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        await Released(bench, FitsHead + "K,2,M30,M30-S,yes,exhaust=BSPP 1/2 male,dc,24,10,0.2,PP+PTFE,yes\n");
        var shown = await Shown(bench, number);
        Assert.Contains("Correct the record or choose another kit", shown.Refused, StringComparison.Ordinal);
        Refused(await Replan(bench, number, shown), "suitability-failed");
        Assert.Equal(1, (await bench.View(number)).Kits[0].Revision);
    }

    [Fact]
    public async Task What_only_the_new_revision_asks_is_answered_with_the_decision()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        await Released(bench, FitsHead + "K,2,M30,M30-S,yes,exhaust=NPT 1/2 male,dc,24,10,0.2,FKM,yes\n");
        var shown = await Shown(bench, number);
        Refused(await Replan(bench, number, shown), "suitability-unanswered");
        Refused(await Replan(bench, number, shown, false, new ReplanAnswer(Check.Materials, "nothing", "passed", "asked")), "kit-unknown");
        Refused(await Replan(bench, number, shown, false, new ReplanAnswer(Check.Ports, "K", "passed", "asked")), "suitability-not-unknown");
        Refused(await Replan(bench, number, shown, false, new ReplanAnswer(Check.Materials, "K", "", "asked")), "answer-missing");
        Must(await Replan(bench, number, shown, false, new ReplanAnswer(Check.Materials, "K", "passed", "asked the maker")));
        Assert.Equal("asked the maker", (await bench.View(number)).Suitability.Single(c => c.Check == Check.Materials).Note);
    }

    [Fact]
    public async Task What_is_picked_or_further_on_is_not_planned_again()
    {
        await using var bench = await New(databases);
        var picked = await bench.Picked("P-1");
        Refused(await new ReplanDifferences(bench.Desk).Of(picked, Ct), "replan-picked");
        Must(await new StageOrder(bench.Desk).Run(bench.Clerk, picked, "S-1", null, Ct));
        Refused(await new ReplanDifferences(bench.Desk).Of(picked, Ct), "order-state");
        Refused(await new ReplanDifferences(bench.Desk).Of(await bench.Draft("P-2"), Ct), "order-state");
        Refused(await new ReplanDifferences(bench.Desk).Of("nowhere", Ct), "order-unknown");
        var open = await bench.Opened("P-2");
        Refused(await new ReplanOrder(bench.Desk).Run(bench.Planner, open, new ReplanAsk(" "), Ct), "seen-missing");
        Refused(await new ReplanOrder(bench.Desk).Run(bench.Clerk, open, new ReplanAsk("x"), Ct), "not-allowed");
        Refused(await new ReplanOrder(bench.Desk).Run(bench.Planner, "nowhere", new ReplanAsk("x"), Ct), "order-unknown");
    }

    [Fact]
    public async Task An_alternate_that_stands_in_is_given_up_and_said_beforehand()
    {
        await using var bench = await New(databases);
        await bench.Plant.Good("parts", "part,description,unit\nE2,\"Elbow, steel\",each\n");
        await bench.Plant.Good("alternates", "part,alternate\nE,E2\n");
        await bench.Plant.Good("stock", "part,lot,bin,quantity,received_on\nE2,E2-1,B-1,1,today-30\n");
        await bench.Opened("P-1");
        var number = await bench.Opened("P-2");
        Must(await new UseAlternate(bench.Desk).Run(bench.Planner, number, new AlternateAsk("E", "E2", 1, "it stands still"), Ct));
        var shown = await Shown(bench, number);
        Assert.Equal(["1 × E2 in place of E"], shown.GivenUp);
        Must(await Replan(bench, number, shown));
        Assert.DoesNotContain((await bench.View(number)).Demand, l => l.Part == "E2");
        Assert.Equal(1m, await bench.Free("E2"));
    }
}
