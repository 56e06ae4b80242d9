using KitOrders.Operations.Orders;
using KitOrders.Rules.Orders;
using KitOrders.Web.Planner;
using KitOrders.Web.Shared;
using Xunit;

namespace KitOrders.Web.Tests.Planner;

public sealed class AddressTests
{
    [Theory]
    [InlineData("")]
    [InlineData("state=open,staged&late=true&short=false&before=2027-04-01&class=7&q=GP%20204%26&sort=fitOn")]
    [InlineData("state=draft")]
    public void A_list_is_found_again_by_its_address(string text)
    {
        var values = text.Split('&', StringSplitOptions.RemoveEmptyEntries).Select(p => p.Split('=', 2)).ToDictionary(p => p[0], p => Uri.UnescapeDataString(p[1]));
        Assert.Equal(text, OrderQuery.Of(name => values.GetValueOrDefault(name)).Text());
    }

    [Fact]
    public void What_cannot_be_read_in_an_address_narrows_nothing()
    {
        var query = OrderQuery.Of(name => name switch { "state" => "opne", "before" => "1 April", "class" => "x", "sort" => "colour", _ => null });
        Assert.Equal(new OrderFilter().Sort, query.Filter.Sort);
        Assert.Equal("/orders", query.Address());
    }

    [Theory]
    [InlineData("plain", "plain")]
    [InlineData("a,b", "\"a,b\"")]
    [InlineData("say \"so\"", "\"say \"\"so\"\"\"")]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("-5", "'-5")]
    public void A_cell_of_a_file_is_quoted_and_never_a_formula(string text, string cell) => Assert.Equal(cell, Csv.Cell(text));

    [Fact]
    public void Numbers_and_days_stay_what_they_are()
    {
        Assert.Equal("-1.5", Csv.Cell(-1.50m));
        Assert.Equal("2027-03-02", Csv.Cell(new DateOnly(2027, 3, 2)));
    }
}
