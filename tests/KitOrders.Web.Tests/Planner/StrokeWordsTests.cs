using Bunit;
using KitOrders.Operations.Pumps;
using KitOrders.Web.Planner;
using Xunit;

namespace KitOrders.Web.Tests.Planner;

public sealed class StrokeWordsTests : BunitContext
{
    static readonly DateOnly First = new(2026, 3, 2);

    [Fact]
    public void The_mean_is_that_of_the_meter_that_is_on_the_pump_now()
    {
        StrokesView[] one = [new(First, 1_000), new(First.AddDays(10), 41_000)];
        Assert.Equal("About 4,000 a day since 2 Mar 2026.", StrokeWords.PerDay(one));
        StrokesView[] two = [.. one, new(First.AddDays(11), 0) { MeterReplaced = true }, new(First.AddDays(21), 20_000)];
        Assert.Equal("About 2,000 a day since 13 Mar 2026.", StrokeWords.PerDay(two));
        Assert.Equal("Read once, on 13 Mar 2026.", StrokeWords.PerDay(two[..3]));
    }

    [Fact]
    public void The_line_of_the_plot_is_broken_where_the_meter_was_replaced()
    {
        var plot = Render<StrokePlot>(p => p.Add(x => x.Readings, [new(First, 1_000), new(First.AddDays(1), 2_000), new(First.AddDays(2), 0) { MeterReplaced = true }, new(First.AddDays(3), 500)]));
        Assert.Equal(2, plot.Find("path.z").GetAttribute("d")!.Count(c => c == 'M'));
    }
}
