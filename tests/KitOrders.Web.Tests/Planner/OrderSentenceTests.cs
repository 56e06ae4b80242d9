using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Web.Planner;
using Xunit;
using static KitOrders.Web.Tests.Planner.Sheets;

namespace KitOrders.Web.Tests.Planner;

public sealed class OrderSentenceTests
{
    static string Said(OrderSheetView sheet)
    {
        var s = OrderSentence.Of(sheet);
        return string.Join(' ', new[] { s.Word, s.Strong, s.Rest }.Where(w => !string.IsNullOrEmpty(w)));
    }

    [Fact]
    public void An_open_order_says_how_many_lines_are_short_and_the_day_if_bought()
    {
        var order = Order(OrderState.Open, [Line("A", 2, shortBy: 1), Line("B", shortBy: 1), Line("C")]);
        var day = new OrderDay(Today, null, new(2027, 3, 12), [Awaited("A", new(2027, 3, 12), 1, true), Awaited("B", new(2027, 3, 9), 1)]);
        Assert.Equal("Open: 2 lines short. Complete on Fri 12 March if both are bought today.", Said(Of(order, day)));
    }

    [Fact]
    public void A_promised_line_is_short_until_it_is_received_and_the_sentence_says_so()
    {
        var order = Order(OrderState.Open, [Line("A", shortBy: 1, incoming: 1, promised: new(2027, 3, 11))]);
        Assert.Equal("Open: 1 line short. Complete on Thu 11 March, as promised.",
            Said(Of(order, new OrderDay(Today, new(2027, 3, 11), new(2027, 3, 11), [Awaited("A", new(2027, 3, 11), binds: true)]))));
        Assert.Equal("Open: 1 line short. Complete on Tue 9 March, as promised; one promise has passed already.",
            Said(Of(order, new OrderDay(Today, new(2027, 3, 9), new(2027, 3, 9), [Awaited("A", new(2027, 3, 9), binds: true, late: true)]))));
    }

    [Fact]
    public void Without_a_lead_time_there_is_no_day_and_the_part_is_named() =>
        Assert.Equal("Open: 1 line short. No day: the lead time of A is not recorded.",
            Said(Of(Order(OrderState.Open, [Line("A", shortBy: 1, lead: null)]), new OrderDay(Today, null, null, [Awaited("A", null, 1, true)]))));

    [Fact]
    public void A_line_that_was_let_go_is_not_counted_as_short() =>
        Assert.Equal("Open: every part is held. It waits to be picked.", Said(Of(Order(OrderState.Open, [Line("A", shortBy: 1, releasedBy: "I. Valdorf"), Line("B")]))));

    [Theory]
    [InlineData(CheckResult.Failed, null, "Draft: 1 check has failed. Correct the record or choose another kit.")]
    [InlineData(CheckResult.Unknown, null, "Draft: 1 check is unknown. Somebody has to answer before it can be opened.")]
    [InlineData(CheckResult.Unknown, "passed", "Draft: nothing would be short. Nothing is held yet.")]
    public void A_draft_says_what_stands_against_opening_it(CheckResult result, string? answer, string said) =>
        Assert.Equal(said, Said(Of(Order(OrderState.Draft, [Line("A")], [Check(result, answer)]))));

    [Fact]
    public void Paused_work_says_why() =>
        Assert.Equal("Underway, paused: spare valve missing. 0 of 0 steps recorded.", Said(Of(Order(OrderState.Underway, paused: "spare valve missing"))));
}
