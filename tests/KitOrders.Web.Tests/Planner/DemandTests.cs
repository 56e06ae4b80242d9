using Bunit;
using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Web.Planner;
using KitOrders.Web.Shared;
using Xunit;
using static KitOrders.Web.Tests.Planner.Sheets;

namespace KitOrders.Web.Tests.Planner;

public sealed class DemandTests : BunitContext
{
    [Fact]
    public void Lines_stand_by_source_and_are_numbered_through()
    {
        var groups = Demand.Groups([Line("T", source: LineSource.ShopSupply), Line("Q", source: LineSource.CarriedOver), Line("A"), Line("E", source: LineSource.BoughtSeparately), Line("B")]);
        Assert.Equal(["In the box", "Bought separately", "Carried over", "Shop supply"], groups.Select(g => g.Heading));
        Assert.Equal(["1A", "2B", "3E", "4Q", "5T"], groups.SelectMany(g => g.Lines).Select(l => $"{l.Number}{l.Line.Part}"));
    }

    [Fact]
    public void A_line_weighs_when_it_is_short_beyond_its_promise_or_the_promise_has_passed()
    {
        static bool Hot(DemandView line) => new NumberedLine(1, line).Hot(Today);
        Assert.True(Hot(Line("A", shortBy: 1)));
        Assert.True(Hot(Line("A", 2, shortBy: 2, incoming: 1, promised: Today.AddDays(3))));
        Assert.True(Hot(Line("A", shortBy: 1, incoming: 1, promised: Today.AddDays(-1))));
        Assert.False(Hot(Line("A", shortBy: 1, incoming: 1, promised: Today)));
        Assert.False(Hot(Line("A", shortBy: 1, releasedBy: "I. Valdorf")));
        Assert.False(Hot(Line("A")));
    }

    [Fact]
    public void The_sum_tells_short_lines_that_are_promised_apart() =>
        Assert.Equal("4 lines: 1 picked, 1 reserved, 2 short, 1 of them promised",
            Demand.Sum([Line("A", picked: 1), Line("B"), Line("C", shortBy: 1), Line("D", shortBy: 1, incoming: 1, promised: Today)], preview: false));

    [Fact]
    public void The_first_heavy_line_shows_its_ways_out_and_the_price_of_a_spare_stands_in_brackets()
    {
        var order = Order(OrderState.Open, [Line("A", 2, shortBy: 1), Line("Q", source: LineSource.CarriedOver, spare: true)]);
        var sheet = Of(order, ways: [new WaysOut("A", [new HolderOf("10497", 24, 1)], [new AlternateOf("A2", "Other thing", 6, "07-D-04")])]);
        var taken = "";
        var table = Render<DemandTable>(p => p.Add(t => t.Sheet, sheet).Add(t => t.Groups, Demand.Groups(order.Demand))
            .Add(t => t.Acts, new WaysActs((holder, line) => { taken = $"{holder.Number} {line.Part}"; return Task.CompletedTask; }, () => Task.CompletedTask)));
        var slip = table.Find("tr.rem .slip");
        Assert.Equal(["Buy 1", "Take over from 10497", "Use an alternate", "Change the date"], slip.QuerySelectorAll("h3").Select(h => h.TextContent.Trim()));
        Assert.Contains("8 days: ready Wed 10 March. 5.00 each.", slip.TextContent, StringComparison.Ordinal);
        slip.QuerySelectorAll("button").First(b => b.TextContent.StartsWith("Take over", StringComparison.Ordinal)).Click();
        Assert.Equal("10497 A", taken);
        Assert.Contains(table.FindAll("td.q"), c => c.TextContent == "(5.00)");
    }

    [Fact]
    public void Who_may_not_act_is_offered_no_dead_button()
    {
        var ways = Ways.Of(Of(Order(OrderState.Open, [Line("A", shortBy: 1)]), ways: [new WaysOut("A", [new HolderOf("10497", 24, 1)], [])]), Line("A", shortBy: 1), new WaysActs(null, null));
        Assert.All(ways, w => Assert.NotNull(w.Href));
        Assert.DoesNotContain(ways, w => w.Do == "Change the date");
    }
}
