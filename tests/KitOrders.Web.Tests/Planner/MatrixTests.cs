using Bunit;
using KitOrders.Operations.Kits;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;
using KitOrders.Web.Planner;
using Microsoft.AspNetCore.Components;
using Xunit;

namespace KitOrders.Web.Tests.Planner;

/// <summary>Three pumps of model M1, of which the second has no sensing rod and of the third it is not recorded, and one of model M2.</summary>
public sealed class MatrixTests : BunitContext
{
    public MatrixTests() => Renderer.SetRendererInfo(new RendererInfo("Server", isInteractive: false));

    static MatrixPump Pump(string tag, string model, bool? rod) => new(tag, "S-" + tag, "Hall", 5)
    {
        Facts = new Rules.Kits.PumpFacts(model, Control.PilotAir, rod, true, [], []), Position = new PositionFacts(Zone.None, null, null, new SupplyFacts(null, null, null, null), null),
    };

    static MatrixKit Kit(string number, bool needsRod) => new(number, 2, "Kit " + number)
    {
        Facts = new KitFacts(number, 2, null, [], 0), Fits = new Dictionary<string, FitFacts> { ["M1"] = new() { NeedsSensingRod = needsRod } },
    };

    static MatrixView View(bool together = false, params MatrixKit[] kits) =>
        new(new DateOnly(2026, 3, 2), kits, [Pump("A-1", "M1", true), Pump("A-2", "M1", false), Pump("A-3", "M1", null), Pump("B-1", "M2", true)], together, 0);

    [Fact]
    public void Rows_are_those_of_which_some_kit_came_out_as_asked()
    {
        var view = View(false, Kit("ROD", true), Kit("ANY", false));
        Assert.Equal([0, 1, 2, 3], view.Rows(null, null));
        Assert.Equal([0, 1, 2], view.Rows(CheckResult.Passed, null));
        Assert.Equal([1], view.Rows(CheckResult.Failed, null));
        Assert.Equal([2], view.Rows(CheckResult.Unknown, null));
        Assert.Equal([1], view.Rows(null, Check.SensingRod));
        Assert.Equal([2], view.Rows(CheckResult.Unknown, Check.SensingRod));
        Assert.Equal([3], view.Rows(null, Check.Model));
        // As one job the two suit only where both do.
        Assert.Equal([0], View(true, Kit("ROD", true), Kit("ANY", false)).Rows(CheckResult.Passed, null));
    }

    [Fact]
    public void Kits_stand_across_and_a_kit_for_other_models_is_a_dash()
    {
        var view = View(false, Kit("ROD", true), Kit("ANY", false));
        (int, int)? opened = null;
        var table = Render<MatrixTable>(p => p.Add(t => t.View, view).Add(t => t.Rows, [0, 1, 2, 3])
            .Add(t => t.See, EventCallback.Factory.Create<(int, int)>(this, at => opened = at)));
        Assert.Equal(["A-1 passed passed", "A-2 failed passed", "A-3 unknown passed", "B-1 made for other models made for other models"],
            table.FindAll("tbody tr").Select(r => $"{r.QuerySelector("th")!.TextContent} {string.Join(' ', r.QuerySelectorAll("button").Select(b => b.GetAttribute("aria-label")))}"));
        Assert.Equal(["1", "3"], table.FindAll("tfoot .c").Select(c => c.TextContent));
        table.FindAll("tbody tr")[1].QuerySelector("button")!.Click();
        Assert.Equal((1, 0), opened);
    }

    [Fact]
    public void One_kit_is_shown_check_by_check_with_the_reason_in_words()
    {
        var view = View(false, Kit("ROD", true));
        var table = Render<MatrixTable>(p => p.Add(t => t.View, view).Add(t => t.Rows, view.Rows(CheckResult.Failed, null)));
        var row = Assert.Single(table.FindAll("tbody tr"));
        Assert.Equal(11, row.QuerySelectorAll("button").Length);
        Assert.Equal("The kit needs a sensing rod, the pump has none (model M1 can be had with one).", row.QuerySelector(".why")!.TextContent);
        Assert.Equal("0 of 1 suit", table.Find("tfoot .why").TextContent);
    }

    [Fact]
    public void An_opened_pair_shows_its_eleven_checks_with_their_reasons()
    {
        var pair = Render<MatrixPair>(p => p.Add(m => m.View, View(false, Kit("ROD", true))).Add(m => m.Pump, 2).Add(m => m.Kit, 0));
        Assert.Equal(11, pair.FindAll(".chk li").Count);
        Assert.Equal("10 passed, 1 unknown", pair.Find(".big").TextContent);
        Assert.Contains("whether this pump has one is not recorded", pair.Find(".chk").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void The_file_has_a_row_for_every_pair_and_every_check()
    {
        var rows = MatrixFile.Rows(View(false, Kit("ROD", true), Kit("ANY", false)), MatrixQuery.Of("?only=unknown")).ToList();
        Assert.Equal([("A-3", "ROD", "unknown"), ("A-3", "ANY", "passed")], rows.Select(r => ((string)r[0]!, (string)r[7]!, (string)r[10]!)));
        Assert.All(rows, r => Assert.Equal(23, r.Count));
        Assert.Null(rows[1][11]);
    }

    [Fact]
    public void The_address_says_what_is_shown_and_a_campaign_begins_with_it()
    {
        const string text = "q=A-&model=M1&control=pilotAir&area=Hall%201&zone=unknown&fluid=water&job=CONV&on=2026-03-20&only=failed&check=ports";
        var query = MatrixQuery.Of("?" + text);
        Assert.Equal(text, query.Text());
        Assert.Equal("/campaigns/new?job=CONV&pumps=" + Uri.EscapeDataString("q=A-&model=M1&control=pilotAir&area=Hall%201&zone=unknown&fluid=water&only=failed&check=ports"), query.Campaign());
        Assert.Equal("/kits/matrix?kit=K%2C1&kit=K2", MatrixQuery.Of("?kit=K%2C1&kit=K2&zone=nonsense&on=soon").Address());
        Assert.Equal("/kits/matrix", MatrixQuery.Of("").Address());
        Assert.Equal("/campaigns/new", MatrixQuery.Of("?kit=K1").Campaign());
    }
}
