using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Planning;
using Xunit;

namespace KitOrders.Rules.Tests.Planning;

public class MeasuresTests
{
    static readonly DateOnly Monday = new(2026, 3, 2);

    /// <summary>Whole-week credit: done in the scheduled week counts (alliedreliability.com/blog/schedule-compliance, quoting SMRP).</summary>
    [Theory]
    [InlineData(2, 0, 1)]
    [InlineData(0, 6, 1)] // Sunday ends the week
    [InlineData(6, 7, 0)]
    [InlineData(2, -1, 0)] // in the week before
    [InlineData(2, null, 0)]
    public void An_order_is_done_as_scheduled_when_it_is_done_in_its_week(int scheduled, int? done, int counted) => Assert.Equal(
        counted,
        Measures.ScheduleCompliance([new ScheduledOrder(new OrderId(1), Monday.AddDays(scheduled), done is { } d ? Monday.AddDays(d) : null)]).Counted);

    [Fact]
    public void Schedule_compliance_is_the_share_of_all_that_was_scheduled()
    {
        var kept = Enumerable.Range(1, 9).Select(i => new ScheduledOrder(new OrderId(i), Monday, Monday));

        Assert.Equal(90, Measures.ScheduleCompliance(kept.Append(new ScheduledOrder(new OrderId(10), Monday, null))).Value);
        Assert.Null(Measures.ScheduleCompliance([]).Value);
    }

    [Fact]
    public void Planned_work_is_as_in_the_sample_of_the_SMRP_draft() => // 4,950 of 7,000 h; the percentage is our arithmetic on the printed inputs
        Assert.Equal(70.7m, decimal.Round(Measures.PlannedWork(4_950, 7_000).Value!.Value, 1));

    [Fact]
    public void A_request_for_an_item_that_is_not_stocked_is_no_stock_out_but_is_a_request() => // SMRP draft "Stock Outs", 2006
        Assert.Equal(
            25,
            Measures.StockOuts([new(true, false), new(true, true), new(false, false), new(false, true)]).Value);

    [Theory]
    [InlineData(100, 100, 0, 100)]
    [InlineData(100, 99, 0, 0)]
    [InlineData(100, 99, 1, 100)] // bands of ±1, 3, 5 % as printed at your-kpi.streampinoy.info/inventory-accuracy.html
    [InlineData(100, 101, 1, 100)]
    [InlineData(100, 96, 3, 0)]
    [InlineData(0, 0, 0, 100)]
    [InlineData(0, 1, 5, 0)]
    public void A_count_is_accurate_when_it_equals_the_book_or_lies_in_the_band(int book, int counted, int tolerance, int percent) =>
        Assert.Equal(percent, Measures.InventoryAccuracy([new CountedBin(new PartId(1), book, counted)], tolerance).Value);

    [Fact]
    public void Turns_divide_what_was_purchased_by_what_is_on_hand() // SMRP 5.5.31
    {
        Assert.Equal(1.5m, Measures.Turns(300, 200).Value);
        Assert.Null(Measures.Turns(300, 0).Value);
    }
}
