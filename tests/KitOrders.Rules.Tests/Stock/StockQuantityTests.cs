using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Rules.Tests.Stock;

public sealed class StockQuantityTests
{
    [Theory]
    [InlineData(1, Unit.Each)]
    [InlineData(99_999_999, Unit.Roll)]
    [InlineData(0.0001, Unit.M)]
    public void What_can_be_is_taken(double quantity, Unit unit) => Assert.Null(StockQuantity.Refuse((decimal)quantity, unit));

    [Theory]
    [InlineData(0, Unit.Each, "quantity-not-positive")]
    [InlineData(-1, Unit.M, "quantity-not-positive")]
    [InlineData(0.5, Unit.Pair, "quantity-not-whole")]
    [InlineData(0.00005, Unit.Kg, "quantity-too-fine")]
    [InlineData(100_000_000, Unit.Each, "quantity-too-large")]
    public void What_cannot_be_is_refused_at_its_field(double quantity, Unit unit, string code)
    {
        var refusal = StockQuantity.Refuse((decimal)quantity, unit, "counted");
        Assert.Equal(code, refusal!.Code);
        Assert.True(refusal.Errors.ContainsKey("counted"));
    }

    [Fact]
    public void A_count_may_be_nothing() => Assert.Null(StockQuantity.Refuse(0, Unit.Each, "counted", zeroAllowed: true));

    [Theory]
    [InlineData(0, true)]
    [InlineData(12.3456, true)]
    [InlineData(-0.01, false)]
    [InlineData(0.00001, false)]
    public void A_cost_is_nothing_or_more(double cost, bool taken) => Assert.Equal(taken, StockQuantity.RefuseCost((decimal)cost) is null);

    [Fact]
    public void A_cost_may_be_left_out() => Assert.Null(StockQuantity.RefuseCost(null));
}
