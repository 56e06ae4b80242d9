using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Rules.Tests.Stock;

public sealed class TakeOverOffersTests
{
    static readonly PartId plug = new(1), seal = new(2);
    static readonly DateOnly soon = new(2026, 3, 10), window = new(2026, 3, 16);

    static ReceiptOrder Order(int id, int criticality, decimal gained, DateOnly neededBy, params (PartId Part, decimal Short)[] lacks) =>
        new(new OrderId(id), new Priority($"{id}", criticality, 5, neededBy, DateTimeOffset.UnixEpoch), neededBy, lacks.ToDictionary(s => s.Part, s => s.Short), gained);

    static IReadOnlyList<Offer> Offers(params ReceiptOrder[] orders) => TakeOverOffers.Of(plug, orders, window, null);

    [Fact]
    public void An_order_that_only_lacks_the_part_is_offered_beside_the_higher_one_that_lacks_more()
    {
        var offer = Assert.Single(Offers(Order(1, 9, 2, soon, (seal, 1)), Order(2, 3, 0, soon, (plug, 2))));
        Assert.Equal((new OrderId(2), 2m), (offer.Order, offer.Quantity));
        Assert.Equal([new OfferSource(new OrderId(1), 2)], offer.From);
    }

    [Fact]
    public void A_higher_order_that_is_finished_by_it_gives_nothing_up() =>
        Assert.Empty(Offers(Order(1, 9, 2, soon), Order(2, 3, 0, soon, (plug, 2))));

    [Fact]
    public void One_that_lacks_something_else_as_well_would_not_be_finished() =>
        Assert.Empty(Offers(Order(1, 9, 2, soon, (seal, 1)), Order(2, 3, 0, soon, (plug, 2), (seal, 1))));

    [Fact]
    public void It_has_to_be_enough() =>
        Assert.Empty(Offers(Order(1, 9, 1, soon, (seal, 1)), Order(2, 3, 0, soon, (plug, 2))));

    [Fact]
    public void Two_higher_orders_may_make_it_up_together() =>
        Assert.Equal(2, Assert.Single(Offers(Order(1, 9, 1, soon, (seal, 1)), Order(2, 8, 1, soon, (seal, 1)), Order(3, 3, 0, soon, (plug, 2)))).From.Count);

    [Fact]
    public void The_last_day_of_the_window_counts_and_the_day_after_does_not()
    {
        Assert.Single(Offers(Order(1, 9, 1, soon, (seal, 1)), Order(2, 3, 0, window, (plug, 1))));
        Assert.Empty(Offers(Order(1, 9, 1, soon, (seal, 1)), Order(2, 3, 0, window.AddDays(1), (plug, 1))));
    }

    [Fact]
    public void A_lot_that_does_not_live_to_the_fit_date_is_not_offered() =>
        Assert.Empty(TakeOverOffers.Of(plug, [Order(1, 9, 1, soon, (seal, 1)), Order(2, 3, 0, soon, (plug, 1))], window, soon.AddDays(-1)));

    [Fact]
    public void A_lower_order_is_never_asked_to_give_up_to_a_higher_one_here() =>
        Assert.Empty(Offers(Order(1, 2, 1, soon, (seal, 1)), Order(2, 9, 0, soon, (plug, 1))));
}
