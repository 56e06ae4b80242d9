using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Web.Planner;
using Xunit;

namespace KitOrders.Web.Tests.Planner;

public sealed class CampaignWordsTests
{
    static CampaignOrder Order(OrderState state = OrderState.Draft, params CheckView[] checks) => new()
    {
        Number = "10482", Pump = "GP-204", Model = "M30", State = state, Paused = null, StagedPlace = null, Score = 40, FitOn = Sheets.Today, Lines = 3, LinesShort = 0, Short = [],
        LinesPicked = 0, ReadyOn = null, DemandRefused = null, Checks = checks, StepsDone = 2, Steps = 9, HoursPlanned = 3, HoursActual = 0,
        Cost = new CostView("EUR", new CostSum(0, 0), new CostSum(0, 0)), SparesUsed = 0,
    };

    [Fact]
    public void A_check_of_several_kits_is_the_worst_of_them()
    {
        CheckView passed = Sheets.Check(CheckResult.Passed), unknown = Sheets.Check(CheckResult.Unknown), yes = Sheets.Check(CheckResult.Unknown, "passed"), failed = Sheets.Check(CheckResult.Failed);
        Assert.Equal((CheckResult.Failed, false), CampaignWords.Result([passed, unknown, failed], Check.Ports));
        Assert.Equal((CheckResult.Unknown, false), CampaignWords.Result([passed, unknown, yes], Check.Ports));
        Assert.Equal((CheckResult.Unknown, true), CampaignWords.Result([passed, yes], Check.Ports));
        Assert.Equal((CheckResult.Passed, false), CampaignWords.Result([passed], Check.Ports));
        Assert.Null(CampaignWords.Result([passed], Check.Area));
    }

    [Fact]
    public void The_day_says_whether_a_draft_opens_and_what_an_open_order_waits_for()
    {
        Assert.Equal("when opened", CampaignWords.Ready(Order()));
        Assert.Equal("does not open", CampaignWords.Ready(Order(checks: Sheets.Check(CheckResult.Failed))));
        Assert.Equal("after the answer", CampaignWords.Ready(Order(checks: Sheets.Check(CheckResult.Unknown))));
        Assert.Equal("when opened", CampaignWords.Ready(Order(checks: Sheets.Check(CheckResult.Unknown, "passed"))));
        Assert.Equal("after the answer", CampaignWords.Ready(Order(checks: Sheets.Check(CheckResult.Unknown, "failed"))));
        Assert.Equal("no day: 1 × 30-11 short", CampaignWords.Ready(Order(OrderState.Open) with { Short = ["1 × 30-11"], LinesShort = 1 }));
        Assert.StartsWith("ready, ", CampaignWords.Ready(Order(OrderState.Open) with { ReadyOn = Sheets.Today }), StringComparison.Ordinal);
        Assert.Equal("step 2 of 9", CampaignWords.Ready(Order(OrderState.Underway)));
    }

    [Fact]
    public void Only_what_fails_is_told_of_a_pump_that_fails()
    {
        Assert.Equal("No thread.", CampaignWords.Why(Order(checks: [Sheets.Check(CheckResult.Unknown), Sheets.Check(CheckResult.Failed) with { Reason = "No thread." }])));
        Assert.Equal("suits", CampaignWords.Why(Order(checks: Sheets.Check(CheckResult.Passed))));
        Assert.StartsWith("suits; Port threads: measured, T. Reyk", CampaignWords.Why(Order(checks: Sheets.Check(CheckResult.Unknown, "passed") with { Note = "measured", AnsweredBy = "T. Reyk" })), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("C-101", "/campaigns/C-101")]
    [InlineData("10482", "/orders/10482")]
    [InlineData("CA/1", "/orders/CA%2F1")]
    public void A_number_leads_to_its_own_page(string number, string address) => Assert.Equal(address, CampaignWords.PageOf(number));
}
