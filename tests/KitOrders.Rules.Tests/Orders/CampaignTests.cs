using KitOrders.Rules.Orders;
using Xunit;

namespace KitOrders.Rules.Tests.Orders;

public class CampaignTests
{
    [Theory]
    [InlineData("", CampaignState.Ended)]
    [InlineData("Draft Draft", CampaignState.Draft)]
    [InlineData("Draft Cancelled", CampaignState.Draft)]
    [InlineData("Draft Open", CampaignState.Open)]
    [InlineData("Staged Cancelled", CampaignState.Open)]
    [InlineData("Open Underway", CampaignState.Underway)]
    [InlineData("Draft Closed", CampaignState.Underway)]
    [InlineData("Finished Closed", CampaignState.Underway)]
    [InlineData("Closed Cancelled", CampaignState.Ended)]
    public void A_campaign_is_as_far_as_its_orders(string states, CampaignState state) =>
        Assert.Equal(state, Campaign.StateOf(states.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Enum.Parse<OrderState>)));

    [Fact]
    public void Pumps_are_spread_over_the_days_so_many_a_day()
    {
        var monday = new DateOnly(2027, 5, 10);
        Assert.Equal([monday, monday, monday.AddDays(1), monday.AddDays(1), monday.AddDays(2)], Campaign.Spread(5, monday, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => Campaign.Spread(5, monday, 0));
    }
}
