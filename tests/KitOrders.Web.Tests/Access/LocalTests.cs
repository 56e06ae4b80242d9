using KitOrders.Web.Access;
using Xunit;

namespace KitOrders.Web.Tests.Access;

public sealed class LocalTests
{
    [Theory]
    [InlineData("/", "/")]
    [InlineData("/orders/10482?tab=steps", "/orders/10482?tab=steps")]
    [InlineData(null, "/")]
    [InlineData("", "/")]
    [InlineData("orders", "/")]
    [InlineData("//elsewhere.example", "/")]
    [InlineData("/\\elsewhere.example", "/")]
    [InlineData("/\t/elsewhere.example", "/")]
    [InlineData("/\n/elsewhere.example", "/")]
    [InlineData("https://elsewhere.example/", "/")]
    [InlineData("javascript:alert(1)", "/")]
    public void The_way_back_leads_to_a_page_of_ours_or_to_today(string? asked, string taken) => Assert.Equal(taken, Local.OrToday(asked));
}
