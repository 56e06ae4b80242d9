using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Planning;
using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Rules.Tests.Planning;

public class ReadinessTests
{
    static readonly DateOnly AsOf = new(2026, 3, 2);
    static readonly PartId Ball = new(1);
    static readonly PartId Seat = new(2);
    static readonly PartId Coil = new(3);

    static DateOnly In(int days) => AsOf.AddDays(days);

    static LineFact Line(PartId part, decimal required, decimal reserved = 0, decimal picked = 0) => new(new DemandLineId(part.Value), part, required, picked, reserved);

    static OrderFact Order(int id, params LineFact[] lines) => new(new OrderId(id), In(30), lines);

    static LotBalance Free(PartId part, decimal quantity, int? expiresIn = null, bool quarantined = false) => new(
        part, new LotId(part.Value), "L1", new BinId(1), 1, In(-100), expiresIn is { } days ? In(days) : null, quarantined, quantity, 0);

    static IncomingFact Coming(PartId part, decimal quantity, int? promisedIn, string reference = "PO-1") =>
        new(part, reference, promisedIn is { } days ? In(days) : null, quantity);

    static IReadOnlyList<OrderReadiness> Ready(
        OrderFact[] orders, LotBalance[]? lots = null, IncomingFact[]? incoming = null, int? ballDays = 10, int? seatDays = 20, int? coilDays = 40) => Readiness.Of(new ReadinessFacts(
            new PromiseRule(AsOf, 7),
            orders,
            lots ?? [],
            incoming ?? [],
            new Dictionary<PartId, LeadFact>
            {
                [Ball] = new LeadFact(Ball, "BALL", ballDays),
                [Seat] = new LeadFact(Seat, "SEAT", seatDays),
                [Coil] = new LeadFact(Coil, "COIL", coilDays),
            }));

    static OrderReadiness One(OrderFact order, LotBalance[]? lots = null, IncomingFact[]? incoming = null, int? ballDays = 10, int? seatDays = 20, int? coilDays = 40) =>
        Assert.Single(Ready([order], lots, incoming, ballDays, seatDays, coilDays));

    [Fact]
    public void What_is_reserved_picked_or_free_is_ready_as_of_today_and_nothing_binds()
    {
        var ready = One(Order(1, Line(Ball, 4, reserved: 3, picked: 1), Line(Seat, 2)), [Free(Seat, 2)]);

        Assert.Equal((AsOf, AsOf, null), (ready.ReadyOn, ready.ReadyIfBoughtToday, ready.BindingPart));
        Assert.Empty(ready.Waiting);
        Assert.Equal(AsOf, One(Order(1)).ReadyOn);
    }

    [Fact]
    public void A_free_lot_counts_only_when_it_is_usable_on_the_fit_date()
    {
        Assert.Equal(AsOf, One(Order(1, Line(Ball, 1)), [Free(Ball, 1, expiresIn: 30)]).ReadyOn);
        Assert.Null(One(Order(1, Line(Ball, 1)), [Free(Ball, 1, expiresIn: 29)]).ReadyOn);
        Assert.Null(One(Order(1, Line(Ball, 1)), [Free(Ball, 1, quarantined: true)]).ReadyOn);
    }

    [Fact]
    public void The_day_of_an_order_is_that_of_its_latest_line_and_that_line_binds()
    {
        var ready = One(Order(1, Line(Ball, 1), Line(Seat, 1), Line(Coil, 1)), [Free(Ball, 1)], [Coming(Seat, 1, 9), Coming(Coil, 1, 4)]);

        Assert.Equal((In(9), In(9), Seat), (ready.ReadyOn, ready.ReadyIfBoughtToday, ready.BindingPart));
    }

    [Fact]
    public void A_promise_counts_the_same_day() => Assert.Equal(AsOf, One(Order(1, Line(Ball, 1)), incoming: [Coming(Ball, 1, 0)]).ReadyOn);

    [Fact]
    public void A_promise_that_has_passed_counts_seven_days_from_now_and_is_marked()
    {
        var ready = One(Order(1, Line(Ball, 2)), incoming: [Coming(Ball, 1, -1, "PO-9"), Coming(Ball, 1, 3)]);

        Assert.Equal(In(7), ready.ReadyOn);
        Assert.Equal([new Promise("PO-9", In(7), true, 1), new Promise("PO-1", In(3), false, 1)], ready.Waiting[0].Promises);
    }

    [Fact]
    public void The_oldest_promise_is_taken_first_then_by_reference()
    {
        var ready = Ready([Order(1, Line(Ball, 1)), Order(2, Line(Ball, 1)), Order(3, Line(Ball, 1))], incoming: [Coming(Ball, 1, 8, "A"), Coming(Ball, 1, 5, "C"), Coming(Ball, 1, 5, "B")]);

        Assert.Equal(["B", "C", "A"], ready.Select(r => r.Waiting[0].Promises[0].Reference));
    }

    [Fact]
    public void A_higher_order_keeps_what_it_took_even_if_it_stays_uncovered()
    {
        var ready = Ready([Order(1, Line(Ball, 5)), Order(2, Line(Ball, 1))], [Free(Ball, 2)], [Coming(Ball, 2, 3)]);

        Assert.Null(ready[0].ReadyOn);
        Assert.Equal([new Uncovered(Ball, 1)], ready[0].Uncovered);
        Assert.Equal([new Uncovered(Ball, 1)], ready[1].Uncovered);
    }

    [Theory]
    [InlineData(10, 12, 12)] // what is covered comes later than what is bought
    [InlineData(10, 5, 10)]
    [InlineData(null, 5, null)] // a lead time that is needed is not recorded
    public void If_bought_today_the_latest_of_promises_and_lead_times_counts(int? leadDays, int promisedIn, int? readyIn)
    {
        var ready = One(Order(1, Line(Ball, 1), Line(Seat, 1)), incoming: [Coming(Seat, 1, promisedIn)], ballDays: leadDays);

        Assert.Null(ready.ReadyOn);
        Assert.Equal(readyIn is { } days ? In(days) : null, ready.ReadyIfBoughtToday);
        Assert.Equal(Ball, ready.BindingPart);
    }

    [Fact]
    public void The_part_of_an_uncovered_line_that_is_promised_counts_too() =>
        Assert.Equal(In(15), One(Order(1, Line(Ball, 2)), incoming: [Coming(Ball, 1, 15)]).ReadyIfBoughtToday);

    [Fact]
    public void A_lead_time_that_is_not_needed_need_not_be_recorded() =>
        Assert.Equal(In(4), One(Order(1, Line(Ball, 1)), incoming: [Coming(Ball, 1, 4)], ballDays: null).ReadyIfBoughtToday);

    [Fact]
    public void The_uncovered_line_with_the_longest_lead_time_binds_and_an_unknown_one_before_all()
    {
        var order = Order(1, Line(Ball, 1), Line(Coil, 1), Line(Seat, 1));

        Assert.Equal(Coil, One(order).BindingPart);
        Assert.Equal(In(40), One(order).ReadyIfBoughtToday);
        Assert.Equal(Ball, One(order, ballDays: null).BindingPart);
        Assert.Equal(Coil, One(order, seatDays: 40).BindingPart); // COIL before SEAT
    }

    [Fact]
    public void A_purchase_line_without_a_promise_makes_nothing_ready()
    {
        var ready = One(Order(1, Line(Ball, 1)), incoming: [Coming(Ball, 1, null)]);

        Assert.Equal((null, In(10)), (ready.ReadyOn, ready.ReadyIfBoughtToday));
        Assert.Equal([new Uncovered(Ball, 1)], ready.Uncovered);
    }

    [Fact]
    public void Two_lines_of_one_part_share_what_there_is_and_are_reported_as_one_part()
    {
        var ready = One(Order(1, Line(Ball, 2), Line(Ball, 2)), [Free(Ball, 1)], [Coming(Ball, 1, 3)]);

        Assert.Equal([new Uncovered(Ball, 2)], ready.Uncovered);
        Assert.Equal([(In(3), 0m), ((DateOnly?)null, 2m)], ready.Waiting.Select(w => (w.ReadyOn, w.Uncovered)));
    }
}
