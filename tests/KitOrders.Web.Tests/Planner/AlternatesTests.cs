using Bunit;
using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Web.Planner;
using Xunit;
using static KitOrders.Web.Tests.Planner.Sheets;

namespace KitOrders.Web.Tests.Planner;

public sealed class AlternatesTests : BunitContext
{
    static readonly DemandView lacking = Line("A", 2, shortBy: 2);

    static OrderSheetView Sheet(OrderState state = OrderState.Open, params AlternateOf[] alternates) =>
        Of(Order(state, [lacking]), ways: [new WaysOut("A", [], alternates)]);

    [Fact]
    public void Every_alternate_is_a_way_out_with_what_is_free_and_what_would_still_be_short()
    {
        var asked = new List<WayAsked>();
        var ways = Ways.Of(Sheet(alternates: [new("A9", "New thing", 0, null, 0, true), new("A2", "Other thing", 1, "07-D-04")]), lacking,
            new WaysActs(null, null, Ask: way => { asked.Add(way); return Task.CompletedTask; }));
        Assert.Equal(["A is superseded by it: New thing. None is free.", "A2, Other thing. 1 free in 07-D-04; 1 would still be short."],
            ways.Where(w => w.Do.StartsWith("Use", StringComparison.Ordinal)).Select(w => w.Sentence));
        ways.Single(w => w.Do == "Use an alternate").Act!();
        ways.Single(w => w.Do == "Buy 2").Act!();
        Assert.Equal(["A2"], asked.OfType<WayAsked.Use>().Select(u => u.Alternate.Part));
        Assert.Equal([2m], asked.OfType<WayAsked.Buy>().Select(b => b.Quantity));
    }

    [Fact]
    public void On_a_draft_an_alternate_is_only_shown_and_a_purchase_can_be_recorded()
    {
        var ways = Ways.Of(Sheet(OrderState.Draft, new AlternateOf("A2", "Other thing", 1, "07-D-04")), lacking, new WaysActs(null, null, Ask: _ => Task.CompletedTask));
        Assert.Null(ways.Single(w => w.Do == "Use an alternate").Act);
        Assert.NotNull(ways.Single(w => w.Do == "Buy 2").Act);
    }

    [Fact]
    public void Both_lines_say_what_stands_in_for_what_and_it_is_taken_back_from_there_while_nothing_is_picked()
    {
        var stands = new StandsInView("A", "Thing A", 1, "it is late", "I. Valdorf", default);
        DemandView[] lines =
        [
            Line("A") with { Gross = 0, Required = 0, Reserved = 0, ReplacedBy = [stands with { Part = "A2", Description = "Thing A2" }], SupersededBy = "A9" },
            Line("A2") with { InPlaceOf = [stands] }, Line("B", picked: 1) with { InPlaceOf = [stands] },
        ];
        WayAsked? asked = null;
        var order = Order(OrderState.Open, lines);
        var table = Render<DemandTable>(p => p.Add(t => t.Sheet, Of(order)).Add(t => t.Groups, Demand.Groups(lines))
            .Add(t => t.Acts, new WaysActs(null, null, Ask: way => { asked = way; return Task.CompletedTask; })));
        Assert.Equal(
        [
            "1 replaced by A2, Thing A2. The steps still name A.", "A is superseded by A9; what is left of it is used first.",
            "1 in place of A, Thing A: it is late (I. Valdorf). · Take it back", "1 in place of A, Thing A: it is late (I. Valdorf).",
        ], table.FindAll("tr.note").Select(n => n.TextContent.Trim()));
        table.Find("tr.note button").Click();
        Assert.Equal("A2", Assert.IsType<WayAsked.TakeBack>(asked).Line.Part);
        Assert.Contains(table.FindAll("td"), c => c.TextContent == "replaced");
    }

    [Fact]
    public void A_newer_revision_is_said_with_both_numbers()
    {
        var order = Order(OrderState.Open) with { Kits = [new("LK-20", "Kit", 2, 1, 3), new("CK-11", "Kit", 1, 1, null)] };
        Assert.Equal("LK-20 rev 3 is current; this order was opened with rev 2.", ReplanWords.Newer(order));
        Assert.Null(ReplanWords.Newer(Order(OrderState.Open)));
    }

    static ReplanLine Changes(ReplanFigures? before, ReplanFigures? after) => new("A", "Thing", Unit.Each, LineSource.InTheBox, before, after);

    [Fact]
    public void What_a_new_plan_changes_is_said_line_by_line()
    {
        Assert.Equal("", ReplanWords.Change(Changes(new(1, 0, 1, 1, 0), new(1, 0, 1, 1, 0))));
        Assert.Equal("new", ReplanWords.Change(Changes(null, new(1, 0, 1, 1, 0))));
        Assert.Equal("goes; 2 free for others", ReplanWords.Change(Changes(new(2, 0, 2, 2, 0), null)));
        Assert.Equal("goes", ReplanWords.Change(Changes(new(2, 0, 2, 0, 2), null)));
        Assert.Equal("3 instead of 1, 2 more short", ReplanWords.Change(Changes(new(1, 0, 1, 1, 0), new(3, 0, 3, 1, 2))));
        Assert.Equal("1 fewer built from its lines", ReplanWords.Change(Changes(new(1, 1, 0, 0, 0), new(1, 0, 1, 1, 0))));
        Assert.Equal("1 less short", ReplanWords.Change(Changes(new(1, 0, 1, 0, 1), new(1, 0, 1, 1, 0))));
        Assert.Equal("1 more built from its lines, 1 free for others", ReplanWords.Change(Changes(new(1, 0, 1, 1, 0), new(1, 1, 0, 0, 0))));
    }
}
