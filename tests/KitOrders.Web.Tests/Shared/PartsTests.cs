using Bunit;
using KitOrders.Rules;
using KitOrders.Web.Shared;
using Xunit;

namespace KitOrders.Web.Tests.Shared;

public sealed class PartsTests : BunitContext
{
    [Fact]
    public void The_strip_says_where_one_is_and_what_holds_lie_ahead()
    {
        StripPart[] parts =
        [
            new("Preliminary", [new(1, StripStatus.Done), new(2, StripStatus.Done) { HoldAfter = true, HoldReleased = true }]),
            new("Main", [new(3, StripStatus.Now), new(4, StripStatus.Ahead) { HoldAfter = true }]),
        ];
        var strip = Render<StepStrip>(p => p.Add(s => s.Parts, parts));
        Assert.Equal("Step 3 of 4, 2 done, 1 hold point ahead", strip.Find(".strip").GetAttribute("aria-label"));
        Assert.Equal("3", strip.Find("[aria-current=step]").TextContent);
        Assert.Equal(["h ahead"], strip.FindAll("li.ahead").Select(l => l.ClassName!.Trim()));
        Assert.Equal(2, strip.FindAll("li.h").Count);
    }

    [Fact]
    public void A_place_on_the_pump_lights_up_and_a_word_without_a_side_lights_both_sides()
    {
        var pump = Render<PumpDrawing>(p => p.Add(d => d.Label, "as it becomes").Add(d => d.Lit, ["coil", "diaphragm"]));
        Assert.Equal(["diaphragm-left", "diaphragm-right", "coil"], pump.FindAll("g.lit").Select(g => g.GetAttribute("data-place")));
    }

    [Fact]
    public void A_place_the_pump_does_not_have_is_neither_drawn_nor_numbered()
    {
        var pump = Render<PumpDrawing>(p => p.Add(d => d.Label, "pilot air").Add(d => d.Without, ["coil"])
            .Add(d => d.Numbers, new Dictionary<string, string> { ["coil"] = "2", ["muffler"] = "9" }));
        Assert.Empty(pump.FindAll("[data-place=coil]"));
        Assert.Equal(["9"], pump.FindAll(".bl text").Select(t => t.TextContent));
    }

    [Fact]
    public void Every_way_out_of_a_shortage_leads_somewhere_or_acts()
    {
        var bought = 0;
        Remedy[] ways = [new("Buy 1", "Ready Fri 12 March.") { Act = () => { bought++; return Task.CompletedTask; } }, new("Change the date", "May move to 19 March.") { Href = "/orders/10482/date" }];
        var slip = Render<Remedies>(p => p.Add(r => r.Short, 1).Add(r => r.Since, new DateOnly(2027, 2, 26)).Add(r => r.Ways, ways));
        Assert.Equal("short 1", slip.Find(".m.short").TextContent);
        Assert.Equal("since 26 Feb", slip.Find(".sm").TextContent.Trim());
        slip.Find("button").Click();
        Assert.Equal(1, bought);
        Assert.Equal("/orders/10482/date", slip.Find("a").GetAttribute("href"));
    }

    [Fact]
    public void A_refused_scan_is_an_alert_and_an_accepted_one_a_status()
    {
        var refused = Render<PickResult>(p => p.Add(r => r.Accepted, false).Add(r => r.Reason, "wrong lot"));
        Assert.Equal("alert", refused.Find(".res.nob").GetAttribute("role"));
        Assert.Equal("Refused: wrong lot", refused.Find("b").TextContent);
        Assert.Equal("status", Render<PickResult>(p => p.Add(r => r.Accepted, true)).Find(".res.okb").GetAttribute("role"));
    }

    [Fact]
    public void A_refusal_is_its_own_sentence_what_was_kept_and_every_field_at_fault_once()
    {
        var refusal = Refusal.Invalid("order-not-valid", "Two fields cannot be taken.") with
        {
            Errors = new Dictionary<string, string[]> { ["neededBy"] = ["Say a day."], ["pump"] = ["No such pump.", "Say a day."] },
        };
        var block = Render<Refused>(p => p.Add(r => r.Refusal, refusal).Add(r => r.Heading, "The order was not opened.").Add(r => r.Kept, "Kept as Draft 10505."));
        Assert.Equal("order-not-valid", block.Find("[role=alert]").GetAttribute("data-code"));
        Assert.Equal("The order was not opened. Two fields cannot be taken.", block.Find("p").TextContent);
        Assert.Equal(["Say a day.", "No such pump."], block.FindAll("li").Select(l => l.TextContent));
        Assert.Contains("Kept as Draft 10505.", block.Markup);
    }

    [Fact]
    public void Without_a_refusal_there_is_nothing() =>
        Assert.Empty(Render<Refused>(p => p.Add(r => r.Refusal, null).Add(r => r.Heading, "Not opened")).Markup.Trim());

    [Theory]
    [InlineData(DayForm.Day, "Mon 15 March")]
    [InlineData(DayForm.Head, "Monday, 15 March")]
    [InlineData(DayForm.Short, "15 Mar")]
    [InlineData(DayForm.Year, "15 Mar 2027")]
    public void A_day_is_written_as_people_read_it_and_kept_exact_for_machines(DayForm form, string text)
    {
        var time = Render<DayText>(p => p.Add(d => d.Day, new DateOnly(2027, 3, 15)).Add(d => d.Form, form)).Find("time");
        Assert.Equal(text, time.TextContent);
        Assert.Equal("2027-03-15", time.GetAttribute("datetime"));
    }

    [Fact]
    public void No_day_is_a_dash() => Assert.Equal("–", Render<DayText>(p => p.Add(d => d.Day, null)).Markup.Trim());

    [Fact]
    public void Numbers_carry_no_more_decimals_than_the_record_and_money_always_two()
    {
        Assert.Equal(["1", "0.52", "1,250"], [Figures.Quantity(1.000m), Figures.Quantity(0.52m), Figures.Quantity(1250)]);
        Assert.Equal(["–", "3"], [Figures.QuantityOrDash(0), Figures.QuantityOrDash(3)]);
        Assert.Equal(["596.20", "1,234.50"], [Figures.Money(596.2m), Figures.Money(1234.5m)]);
        Assert.Equal(["1 line", "3 lines", "0 lines"], [Figures.Of(1, "line"), Figures.Of(3, "line"), Figures.Of(0, "line")]);
    }
}
