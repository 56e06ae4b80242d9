using Bunit;
using KitOrders.Operations.Kits;
using KitOrders.Operations.Planning;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Web.Planner;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace KitOrders.Web.Tests.Planner;

/// <summary>The parts of the editor, without the operations behind them.</summary>
public sealed class KitEditorTests : BunitContext
{
    static readonly KitDraftView draft = new()
    {
        Kit = "K", Description = "Conversion kit", Currency = "EUR", Revision = 4, Version = 7, Released = 3, KeptBy = ["20011", "20012"], Boxed = 6,
        Content = new DraftContent(true, [], []), Parts = new Dictionary<string, DraftPart>(), Models = ["M30", "M30-S"],
    };

    public KitEditorTests()
    {
        Services.AddSingleton(new KitDraft(null!));
        Services.AddSingleton(new Jump(null!));
    }

    static TypedLine Valve() => new()
    {
        Number = 2, Part = "V", Known = new DraftPart("V", "Valve assembly", Unit.Each, 100, null, 1, true,
            [new KitTreeLine("1", 0, [true], "B", "Body", Unit.Each, 1, LineSource.InTheBox, SparePolicy.None, null, null, [], false, [], 40, null)]),
    };

    [Fact]
    public void A_line_shows_its_part_what_that_brings_and_what_it_costs()
    {
        var row = Render<KitLineRow>(p => p.Add(r => r.Line, Valve()).Add(r => r.Since, "was 1"));
        Assert.Contains("Valve assembly, rev 1, buildable", row.Markup, StringComparison.Ordinal);
        Assert.Equal("2.1", row.FindAll(".bal.in")[0].TextContent);
        Assert.Equal("ch2", row.Find("tr").ClassName);
        Assert.Equal(["100.00", "40.00"], row.FindAll("td.n").Select(c => c.TextContent.Trim()).Where(t => t.Contains('.', StringComparison.Ordinal)));
    }

    [Fact]
    public void A_wrong_field_keeps_what_was_typed_and_says_why_under_the_line()
    {
        var line = Valve();
        line.Quantity = "two";
        var row = Render<KitLineRow>(p => p.Add(r => r.Line, line).Add(r => r.Wrong, new Dictionary<string, string> { ["quantity"] = "\"two\" is no number." }));
        var input = row.Find("input[aria-label='Line 2, quantity']");
        Assert.Equal(("two", "true"), (input.GetAttribute("value"), input.GetAttribute("aria-invalid")));
        Assert.Equal("\"two\" is no number.", row.Find(".wrong").TextContent);
    }

    [Theory]
    [InlineData(LineSource.InTheBox, "")]
    [InlineData(LineSource.BoughtSeparately, "")]
    [InlineData(LineSource.CarriedOver, "Line 2, spares kept; Line 2, reject rate")]
    [InlineData(LineSource.ShopSupply, "Line 2, wraps; Line 2, wraps for lines")]
    public void A_line_asks_for_what_its_source_needs(LineSource source, string fields)
    {
        var line = Valve();
        (line.Source, line.Policy, line.Wraps) = (source, SparePolicy.ByRate, "3");
        var row = Render<KitLineRow>(p => p.Add(r => r.Line, line));
        Assert.Equal(fields, string.Join("; ", row.FindAll("tr")[0].QuerySelectorAll("td:nth-child(6) [aria-label]").Select(f => f.GetAttribute("aria-label"))));
    }

    [Fact]
    public void Keys_move_a_line_take_it_out_and_go_on()
    {
        var done = new List<string>();
        var row = Render<KitLineRow>(p => p.Add(r => r.Line, Valve()).Add(r => r.Move, by => done.Add($"move {by}")).Add(r => r.Remove, () => done.Add("out")).Add(r => r.Onward, () => done.Add("on")));
        var input = row.Find("input[aria-label='Line 2, quantity']");
        input.KeyDown(new KeyboardEventArgs { Key = "ArrowUp", AltKey = true });
        input.KeyDown(new KeyboardEventArgs { Key = "ArrowDown", AltKey = true });
        input.KeyDown(new KeyboardEventArgs { Key = "ArrowDown" });
        input.KeyDown(new KeyboardEventArgs { Key = "Enter" });
        input.KeyDown(new KeyboardEventArgs { Key = "Delete" });
        input.KeyDown(new KeyboardEventArgs { Key = "Delete", AltKey = true });
        Assert.Equal(["move -1", "move 1", "on", "out"], done);
    }

    [Fact]
    public void A_failed_check_bars_the_release_and_says_what_to_do()
    {
        var box = Box([new ReleaseCheck(ReleaseTopic.Circle, [new ReleaseFinding("kit-cycle", "1", "K would contain itself: K → V → K.")], [], "")]);
        Assert.True(box.Find("button").HasAttribute("disabled"));
        Assert.Contains("K would contain itself", box.Find("ul").TextContent, StringComparison.Ordinal);
        Assert.Contains("Clear what failed first.", box.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void Before_a_release_stands_what_it_freezes_and_which_orders_keep_the_former()
    {
        var released = 0;
        var box = Box([new ReleaseCheck(ReleaseTopic.Parts, [], [new ReleaseFinding("lead-time-missing", "3", "Line 3, E has no lead time.")], "all there")], () => released++);
        Assert.Contains("Releasing freezes 5 lines and 1 model as rev 4. Rev 3 is superseded and kept by 2 orders that opened with it: 20011, 20012. Orders that open from then on take rev 4. 6 in boxes were packed by rev 3 or before.",
            box.Find(".frz").TextContent, StringComparison.Ordinal);
        Assert.Contains("Line 3, E has no lead time.", box.Find("ul").TextContent, StringComparison.Ordinal);
        box.Find("button").Click();
        Assert.Equal(1, released);
    }

    IRenderedComponent<ReleaseBox> Box(IReadOnlyList<ReleaseCheck> checks, Action? release = null) => Render<ReleaseBox>(p => p
        .Add(b => b.Draft, draft).Add(b => b.Checks, checks).Add(b => b.Lines, 5).Add(b => b.Models, 1).Add(b => b.Release, release ?? (() => { })));

    [Fact]
    public void A_model_says_at_its_field_what_is_wrong_and_goes_on_with_what_is_typed()
    {
        var (fit, changed) = (new TypedFit { Model = "M30", Ports = "exhaust" }, 0);
        var form = Render<KitFitForm>(p => p.Add(f => f.Fit, fit).Add(f => f.Models, draft.Models).Add(f => f.Changed, () => changed++)
            .Add(f => f.Wrong, new Dictionary<string, string> { ["ports"] = "\"exhaust\" is not a port." }));
        var ports = form.Find("[aria-invalid]");
        Assert.Equal(("exhaust", "\"exhaust\" is not a port."), (ports.GetAttribute("value"), form.Find(".wrong").TextContent));
        ports.Change("exhaust=NPT 1/2 male");
        form.Find("select").Change("M30-S");
        Assert.Equal(("exhaust=NPT 1/2 male", "M30-S", 2), (fit.Ports, fit.Model, changed));
    }

    [Fact]
    public void A_difference_names_both_sides()
    {
        var table = Render<DifferenceTable>(p => p.Add(t => t.Of, new DifferenceView(3, 4,
            [
                new DifferenceRow(ChangeKind.Changed, 8, "Q", "Valve", "spares kept", "all", "by rate 0.09"), new DifferenceRow(ChangeKind.New, 12, "T", "Tie", "line", null, "8, shop supply"),
                new DifferenceRow(ChangeKind.Out, 3, "E", "Elbow", "line", "1, in the box", null),
            ], 1, 1, 1, 9) { Since = new Dictionary<int, string>() }));
        Assert.Equal(["8|Q Valve|spares kept|all|by rate 0.09", "12|T Tie|line|not there|8, shop supply", "3|E Elbow|line|1, in the box|taken out"],
            table.FindAll("tbody tr").Select(r => string.Join('|', r.QuerySelectorAll("td").Select(c => c.TextContent.Trim()))));
    }
}
