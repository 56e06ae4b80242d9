using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Rules.Tests.Stock;

public sealed class MovingAverageTests
{
    [Theory]
    [InlineData(10, 2.0, 30, 4.0, 3.5)]
    [InlineData(0, 2.0, 5, 4.0, 4.0)] // Nothing left of what cost 2.
    [InlineData(1, 1.0, 2, 2.0, 1.6667)]
    [InlineData(100, 5.0, 1, 0.0, 4.9505)] // Free of charge is a price.
    public void A_priced_receipt_weighs_in_by_its_quantity(decimal onHand, decimal average, decimal received, decimal price, decimal after) =>
        Assert.Equal(after, MovingAverage.After(onHand, average, received, price));

    [Fact]
    public void A_receipt_without_a_price_leaves_the_average()
    {
        Assert.Equal(2m, MovingAverage.After(10, 2, 90, null));
        Assert.Null(MovingAverage.After(10, null, 90, null));
    }

    [Fact]
    public void The_first_price_is_the_average_of_stock_that_had_none() => Assert.Equal(3m, MovingAverage.After(10, null, 1, 3));

    [Fact]
    public void What_comes_and_is_taken_back_leaves_the_average_as_it_was()
    {
        var after = MovingAverage.After(10, 2, 30, 4);
        Assert.Equal(2m, MovingAverage.Without(40, after, 30, 4));
    }

    [Theory]
    [InlineData(5, 2.0, 5, 2.0, 2.0)] // Nothing is left to have a cost.
    [InlineData(10, 1.0, 5, 4.0, 1.0)] // The rest would cost less than nothing.
    public void An_average_that_cannot_be_worked_out_stays(decimal onHand, decimal average, decimal received, decimal price, decimal without) =>
        Assert.Equal(without, MovingAverage.Without(onHand, average, received, price));

    [Fact]
    public void A_receipt_of_nothing_is_a_bug() => Assert.Throws<ArgumentOutOfRangeException>(() => MovingAverage.After(1, 1, 0, 1));
}
