using KitOrders.Rules.People;
using Xunit;

namespace KitOrders.Rules.Tests.Planning;

public sealed class PlantDaysTests
{
    /// <summary>Two zones whose clocks change at night, one whose clocks left midnight out, one far ahead, one far behind.</summary>
    [Theory]
    [InlineData("UTC")]
    [InlineData("Europe/Vienna")]
    [InlineData("America/New_York")]
    [InlineData("America/Santiago")]
    [InlineData("Pacific/Auckland")]
    [InlineData("Pacific/Honolulu")]
    public void A_day_begins_where_the_day_before_ends(string zone)
    {
        var plant = new PlantSettings { TimeZone = zone };
        for (var day = new DateOnly(2025, 1, 1); day.Year < 2027; day = day.AddDays(1))
        {
            Assert.Equal(day, plant.DayOf(plant.BeginOf(day)));
            Assert.Equal(day.AddDays(-1), plant.DayOf(plant.BeginOf(day).AddTicks(-1)));
        }
    }
}
