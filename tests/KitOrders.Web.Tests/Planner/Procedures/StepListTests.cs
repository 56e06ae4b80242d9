using AngleSharp.Dom;
using Bunit;
using KitOrders.Operations.Procedures;
using KitOrders.Operations.Pumps;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using KitOrders.Web.Planner.Procedures;
using Microsoft.AspNetCore.Components.Web;
using Xunit;

namespace KitOrders.Web.Tests.Planner.Procedures;

public sealed class StepListTests : BunitContext
{
    static readonly StepDraft cover = new()
    {
        PartOf = PartOf.Main, Kind = StepKind.Torque, Text = "Tighten the cover", Model = "M30", Joint = "cover", Bolts = 6, Sequence = BoltSequence.Star, Target = 8.5m, Unit = "Nm", TolerancePct = 5, Passes = 2,
    };

    readonly DraftSheet sheet = new([
        new() { Text = "Stop: stop it" }, new() { Text = "Isolate: lock it" },
        cover, new() { PartOf = PartOf.Main, Text = "Wipe the face" },
        new() { PartOf = PartOf.CloseUp, Text = "Run it", Kind = StepKind.FunctionTest }]);

    IRenderedComponent<StepList> list = null!;

    public StepListTests() => JSInterop.Mode = JSRuntimeMode.Loose;

    [Fact]
    public async Task Alt_and_an_arrow_key_move_the_step_renumber_the_rest_and_keep_the_focus_on_it()
    {
        Show();
        var wipe = Reference(Row(4));
        await Press(4, "ArrowUp");
        Assert.Equal(["1 Stop: stop it", "2 Isolate: lock it", "3 Wipe the face", "4 Tighten the cover", "5 Run it"], Rows());
        Assert.Equal(wipe, Focused());
        await Press(3, "ArrowUp");
        Assert.Equal(PartOf.Preliminary, sheet.Steps[2].PartOf);
        Assert.Equal(wipe, Focused());
        Assert.Equal("Step 3 is now step 3 of 5, preliminary.", list.Find("[role=status]").TextContent);
        await Press(3, "ArrowDown");
        await Press(3, "ArrowDown");
        Assert.Equal(["1 Stop: stop it", "2 Isolate: lock it", "3 Tighten the cover", "4 Wipe the face", "5 Run it"], Rows());
        Assert.Equal(wipe, Focused());
    }

    [Fact]
    public async Task An_arrow_key_alone_moves_nothing()
    {
        Show();
        await Row(4).KeyDownAsync(new KeyboardEventArgs { Key = "ArrowUp" });
        Assert.False(sheet.Changed);
    }

    [Fact]
    public async Task A_button_keeps_the_focus_until_it_has_no_further_to_go_and_then_gives_it_to_the_step()
    {
        Show();
        var (cover, up) = (Reference(Row(3)), Reference(list.Find("[aria-label='Move step 3 up']")));
        await list.Find("[aria-label='Move step 3 up']").ClickAsync(new());
        Assert.Equal(up, Focused());
        await list.Find("[aria-label='Move step 3 up']").ClickAsync(new());
        await list.Find("[aria-label='Move step 2 up']").ClickAsync(new());
        Assert.Equal("1 Tighten the cover", Rows()[0]);
        Assert.True(list.Find("[aria-label='Move step 1 up']").HasAttribute("disabled"));
        Assert.Equal(cover, Focused());
    }

    [Fact]
    public async Task A_dragged_step_takes_the_place_of_the_one_it_is_dropped_on()
    {
        Show();
        await list.Find("[data-step='4'] .sr").DragStartAsync(new DragEventArgs());
        await list.Find("[data-step='1']").DropAsync(new DragEventArgs());
        Assert.Equal(["1 Wipe the face", "2 Stop: stop it", "3 Isolate: lock it", "4 Tighten the cover", "5 Run it"], Rows());
        Assert.Equal(PartOf.Preliminary, sheet.Steps[0].PartOf);
        await list.Find("[data-step='1'] .sr").DragStartAsync(new DragEventArgs());
        await list.FindAll(".grp")[2].DropAsync(new DragEventArgs());
        Assert.Equal("4 Wipe the face", Rows()[3]);
        Assert.Equal(PartOf.CloseUp, sheet.Steps[3].PartOf);
        await list.Find("[data-step='4'] .sr").DragStartAsync(new DragEventArgs());
        await list.FindAll(".add")[1].DropAsync(new DragEventArgs());
        Assert.Equal((PartOf.Main, "Wipe the face"), (sheet.Steps[3].PartOf, sheet.Steps[3].Text));
        await list.FindAll(".add")[1].DropAsync(new DragEventArgs());
        Assert.Equal("4 Wipe the face", Rows()[3]);
    }

    [Fact]
    public async Task A_caution_is_shown_as_it_is_typed_before_the_step()
    {
        Show();
        await Row(4).ClickAsync(new());
        Assert.Empty(list.FindAll(".as-bench .caut"));
        await Label("Signal word").ChangeAsync(new() { Value = "Warning" });
        await Label("Hazard: what can hurt or break").InputAsync(new() { Value = "Stored air." });
        await Label("Consequence: what it does").InputAsync(new() { Value = "It can break a hand." });
        await Label("How to avoid it").InputAsync(new() { Value = "Keep it locked." });
        var bench = list.Find(".as-bench");
        Assert.Equal(["caut", "bstep"], bench.Children.Select(c => c.ClassName!.Split(' ')[0]));
        Assert.Equal("WARNING", bench.QuerySelector(".caut>b")!.TextContent.Trim());
        Assert.Equal(["Stored air. It can break a hand.", "Keep it locked."], bench.QuerySelectorAll(".caut p").Select(p => p.TextContent.Trim()));
        Assert.Equal(("4", "Wipe the face"), (bench.QuerySelector(".bno")!.TextContent, bench.QuerySelector("h3")!.TextContent));
        await Label("How to avoid it").InputAsync(new() { Value = "" });
        Assert.Contains(sheet.Findings, f => f.Code == "caution-incomplete" && f.Where == "4");
    }

    [Fact]
    public async Task What_cannot_be_read_is_said_at_its_field_and_stays_as_it_was_typed()
    {
        Show();
        await Row(3).ClickAsync(new());
        await Label("Bolts").InputAsync(new() { Value = "six" });
        await Label("Target").InputAsync(new() { Value = "8,5" });
        await Label("Minutes").InputAsync(new() { Value = "-3" });
        Assert.Equal(["\"six\" is no whole number. Write it like 6.", "\"8,5\" is no number. Write it like 3 or 2.5.", "Minutes cannot be below zero."],
            list.FindAll(".wrong").Select(w => w.TextContent).OrderByDescending(t => t.Contains("six", StringComparison.Ordinal)).ThenBy(t => t, StringComparer.Ordinal));
        Assert.Equal(("six", "true"), (Label("Bolts").GetAttribute("value"), Label("Bolts").GetAttribute("aria-invalid")));
        await Press(3, "ArrowDown");
        Assert.Equal("six", Label("Bolts").GetAttribute("value"));
        await Label("Bolts").InputAsync(new() { Value = "8" });
        Assert.Equal(8, sheet.Read()[3].Bolts);
    }

    [Fact]
    public async Task A_joint_gets_values_for_another_model_and_both_stand_side_by_side()
    {
        Show();
        await Row(3).ClickAsync(new());
        Assert.Empty(list.FindAll(".joints"));
        await Label("The same joint with other values for").ChangeAsync(new() { Value = "M50" });
        await list.FindAll("button").Single(b => b.TextContent == "Add its step").ClickAsync(new());
        Assert.Equal(("M50", "cover", "6"), (sheet.Steps[3].Model, sheet.Steps[3].Joint, sheet.Steps[3].Bolts));
        await Label("Target").InputAsync(new() { Value = "14.5" });
        var rows = list.FindAll(".joints tbody tr").Select(r => string.Join(" | ", r.Children.Select(c => c.TextContent))).ToList();
        Assert.Contains("Target | 8.5 Nm | 14.5 Nm", rows);
        Assert.Equal(["cover", "M30 step 3", "M50 step 4"], list.FindAll(".joints thead th").Select(h => h.TextContent));
    }

    [Fact]
    public async Task A_step_is_added_copied_taken_out_and_put_back()
    {
        Show();
        await list.FindAll(".add button")[0].ClickAsync(new());
        Assert.Equal("3 no text yet", Rows()[2]);
        Assert.Equal("true", Row(3).GetAttribute("aria-expanded"));
        await list.Find("[aria-label='Copy step 4']").ClickAsync(new());
        Assert.Equal(2, Rows().Count(r => r.EndsWith("Tighten the cover", StringComparison.Ordinal)));
        await list.Find("[aria-label='Take step 1 out']").ClickAsync(new());
        Assert.Equal("1 Isolate: lock it", Rows()[0]);
        await list.Find(".told .as-link").ClickAsync(new());
        Assert.Equal("1 Stop: stop it", Rows()[0]);
    }

    [Fact]
    public async Task A_document_of_the_model_is_cited_with_its_edition_and_opens_at_the_page()
    {
        Show();
        await Row(3).ClickAsync(new());
        await Label("Document on record").ChangeAsync(new() { Value = "7" });
        await Label("Page").InputAsync(new() { Value = "12" });
        var step = sheet.Read()[2];
        Assert.Equal((7, "Air valve manual", "4", "12"), (step.DocumentId, step.Document, step.Edition, step.Page));
        Assert.Equal("/files/documents/7#page=12", list.Find(".stf a").GetAttribute("href"));
        Assert.Contains("Air valve manual, edition 4, page 12", list.Find(".as-bench").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_record_refuses_is_put_at_the_step_and_its_field()
    {
        Show();
        sheet.Refuse(Rules.Refusal.Invalid("steps-wrong", "One value.") with { Errors = new Dictionary<string, string[]> { ["steps[3].part"] = ["There is no part X."] } });
        list.Render();
        Assert.Equal("There is no part X.", Assert.Single(list.FindAll(".wrong")).TextContent);
        Assert.Equal("true", Row(4).GetAttribute("aria-expanded"));
    }

    void Show() => list = Render<StepList>(p => p.Add(l => l.Sheet, sheet).Add(l => l.Draft, new ProcedureDraftView("P-1", 2, 1, 1, [],
        [new("M30", null, [new DocumentView(7, "M30", DocumentKind.Manual, "Air valve manual", "4", "m.pdf", "application/pdf", 8, "Petra", default)]), new("M50", null, [])], ["TQ-1"], [])));

    IElement Row(int number) => list.Find($"[data-step='{number}'] .sto");

    Task Press(int number, string key) => Row(number).KeyDownAsync(new KeyboardEventArgs { Key = key, AltKey = true });

    string[] Rows() => [.. list.FindAll("[data-step]").Select(r => $"{r.QuerySelector(".num")!.TextContent} {r.QuerySelector(".tx")!.TextContent}")];

    IElement Label(string text)
    {
        var label = list.FindAll("label").First(l => l.QuerySelector("span")?.TextContent.Trim() == text);
        return label.QuerySelector("input, select, textarea")!;
    }

    /// <summary>How the page names an element to the browser.</summary>
    static string Reference(IElement element) => element.Attributes.FirstOrDefault(a => a.Name.StartsWith("blazor:elementreference", StringComparison.OrdinalIgnoreCase))?.Value is { Length: > 0 } id ? id : throw new InvalidOperationException("The element cannot be named.");

    string? Focused() => JSInterop.Invocations.Where(i => i.Identifier == "Blazor._internal.domWrapper.focus")
        .Select(i => ((Microsoft.AspNetCore.Components.ElementReference)i.Arguments[0]!).Id).LastOrDefault();
}
