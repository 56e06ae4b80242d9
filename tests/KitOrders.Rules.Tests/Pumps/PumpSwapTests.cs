using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Pumps;

public class PumpSwapTests
{
    static readonly DateOnly Today = new(2026, 3, 2);
    static readonly MovingPump Leaving = new("S-1", "P-1", Today.AddDays(-30), null, []);
    static readonly MovingPump Coming = new("S-2", null, Today.AddDays(-10), null, []);

    static string? Code(MovingPump? leaving = null, MovingPump? coming = null, string? to = null, string? toHolds = null, int day = 0, string? reason = "it knocks", bool empty = false) =>
        PumpSwap.MaySwap("P-1", empty ? null : leaving ?? Leaving, coming ?? Coming, to, toHolds, Today.AddDays(day), Today, reason)?.Code;

    [Fact]
    public void A_free_pump_may_come_from_the_store_to_a_place_that_is_empty_or_taken()
    {
        Assert.Null(Code());
        Assert.Null(Code(empty: true));
        Assert.Null(Code(day: -10));
    }

    [Fact]
    public void The_leaving_pump_may_go_to_the_store_to_an_empty_place_or_where_the_other_came_from()
    {
        Assert.Null(Code(to: "P-3"));
        Assert.Null(Code(coming: Coming with { At = "P-2" }, to: "P-2", toHolds: "S-2"));
        Assert.Equal("position-taken", Code(to: "P-3", toHolds: "S-3"));
        Assert.Equal("position-taken", Code(to: "P-1", toHolds: "S-1"));
    }

    [Fact]
    public void Neither_pump_moves_while_an_order_of_it_has_not_ended()
    {
        Assert.Equal("pump-has-orders", Code(leaving: Leaving with { Orders = ["order 10001 (draft)"] }));
        Assert.Equal("pump-has-orders", Code(coming: Coming with { Orders = ["order 10002 (underway)"] }));
    }

    [Fact]
    public void It_is_recorded_once_it_is_done_and_not_before_the_last_move()
    {
        Assert.Equal("swap-in-future", Code(day: 1));
        Assert.Equal("swap-before-last", Code(day: -11));
        Assert.Equal("swap-before-last", Code(coming: Coming with { Since = null }, day: -31));
        Assert.Null(Code(leaving: Leaving with { Since = null }, coming: Coming with { Since = null }, day: -900));
    }

    [Fact]
    public void It_needs_a_reason_and_a_pump_that_may_run()
    {
        Assert.Equal("reason-missing", Code(reason: " "));
        Assert.Equal("reason-too-long", Code(reason: new string('x', PumpSwap.ReasonMaxLength + 1)));
        Assert.Equal("pump-out-of-service", Code(coming: Coming with { OutOfService = "Broken off." }));
        Assert.Equal("pump-stands-there", Code(coming: Coming with { At = "P-1" }));
    }
}
