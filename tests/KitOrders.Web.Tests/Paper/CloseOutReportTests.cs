using KitOrders.Operations.Orders;
using KitOrders.Rules.Orders;
using KitOrders.Web.Paper;
using Xunit;

namespace KitOrders.Web.Tests.Paper;

public sealed class CloseOutReportTests
{
    static CloseOutRow Pump(string tag, OrderState state) => new()
    {
        Pump = tag, Serial = $"S-{tag}", Was = "M30", Is = state == OrderState.Closed ? "M30-S" : null, Order = $"1{tag}", State = state,
        CancelReason = state == OrderState.Cancelled ? "sold" : null, FitOn = new(2027, 3, 15), OpenedAt = null, StartedAt = null, FinishedAt = null, ClosedAt = null,
        HoursPlanned = 3, HoursActual = 2.5m, Cost = new("EUR", new(10, 150), new(12, 125)), Parts = ["1 × 30-2207"], Spares = ["1 × 30-1160, lot L-7"],
        NotAsSpecified = ["Step 7, Tighten the cover: one bolt was new (accepted by T. Reyk: it holds)"], Answered = ["K, ports: passed, T. Reyk: measured"],
    };

    static CloseOutView Report(int pumps) => new("C-101", "Press-hall stop", "Convert control", CampaignState.Underway, new(2027, 3, 20), new(2027, 3, 2), "EUR",
        [.. Enumerable.Range(1, pumps).Select(n => Pump($"GP-{n:000}", n == 2 ? OrderState.Cancelled : OrderState.Closed))], []);

    [Theory]
    [InlineData("a4")]
    [InlineData("letter")]
    public void The_report_says_of_every_pump_what_it_was_and_is_and_what_was_not_as_planned(string size)
    {
        var printed = PrintedPaper.Read(CloseOutReport.Print(Report(20), PaperSize.Read(size, PaperSize.A4).Value, PaperPlant.Head("Close-out report", "C-101")));

        Assert.Equal(["C-101"], printed.Codes);
        Assert.Equal(Enumerable.Range(1, 20).Select(n => $"GP-{n:000}, serial S-GP-{n:000}"), printed.All.Where(t => t.Contains(", serial ", StringComparison.Ordinal)));
        Assert.Equal(19, printed.All.Count(t => t == "M30 became M30-S"));
        Assert.Contains("M30, nothing written back", printed.All);
        Assert.Contains("2.5 h of 3 planned; EUR 137.00 of 160.00 planned.", printed.All);
        Assert.Contains("1 × 30-1160, lot L-7", printed.All);
        Assert.Contains("K, ports: passed, T. Reyk: measured", printed.All);
        Assert.Contains("19 of 19 closed", printed.All);
        Assert.True(printed.Texts.Count > 1);
    }

    [Fact]
    public void A_cost_that_is_not_known_is_not_counted_as_nothing()
    {
        var report = Report(1);
        Assert.Equal(137m, report.CostActual);
        Assert.Null((report with { Pumps = [report.Pumps[0] with { Cost = new("EUR", new(10, 150), new(null, 125)) }] }).CostActual);
    }
}
