using Bunit;
using KitOrders.Rules;
using KitOrders.Web.Shared;
using KitOrders.Web.Storeroom;
using Microsoft.AspNetCore.Components;
using Xunit;

namespace KitOrders.Web.Tests.Storeroom;

public sealed class StoreFieldTests : BunitContext
{
    static readonly Refusal ahead = Refusal.Field("curedOn", "cure-date-ahead", "2Q99 has not begun yet.");

    [Fact]
    public void A_refused_field_keeps_what_was_typed_and_says_under_it_why()
    {
        var form = Form(ahead);
        var cured = form.Find("input[aria-invalid]");
        Assert.Equal(("2Q99", "true"), (cured.GetAttribute("value"), cured.GetAttribute("aria-invalid")));
        Assert.Equal("2Q99 has not begun yet.", form.Find($"#{cured.GetAttribute("aria-describedby")}").TextContent);
        Assert.Equal("3", form.FindAll("input")[1].GetAttribute("value"));
        Assert.Single(form.FindAll(".wrong"));
        Assert.Contains("What you scanned is still here.", form.Find("[role=alert]").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_conflict_about_one_field_is_said_at_that_field()
    {
        var form = Form(Refusal.Conflict("count-below-reserved", "5 are reserved and 3 were counted.").At("quantity"));
        Assert.Equal("5 are reserved and 3 were counted.", form.Find("#wrong-quantity").TextContent);
        Assert.Equal("wrong-quantity", form.Find("input[aria-invalid]").GetAttribute("aria-describedby"));
    }

    [Fact]
    public void Nothing_is_said_where_nothing_is_wrong() => Assert.Empty(Form(null).FindAll("[aria-invalid], [aria-describedby], .wrong, [role=alert]"));

    [Theory]
    [InlineData("3", 3)]
    [InlineData(" 2.5000000 ", 2.5)]
    [InlineData("-1", -1)]
    [InlineData("0.0001", 0.0001)]
    public void A_number_is_read_exactly_as_written(string written, decimal number) => Assert.Equal(number, Amounts.Read(written, "quantity").Value);

    [Theory]
    [InlineData(null, "number-unreadable")]
    [InlineData("", "number-unreadable")]
    [InlineData("three", "number-unreadable")]
    [InlineData("1,5", "number-unreadable")]
    [InlineData("1.2.3", "number-unreadable")]
    [InlineData("1e5", "number-unreadable")]
    [InlineData("-", "number-unreadable")]
    [InlineData("99999999999999999999999999999999", "number-too-large")]
    [InlineData("1.00005", "number-too-fine")]
    // A number type would round it to 1 without a word.
    [InlineData("1.00000000000000000000000000000001", "number-too-fine")]
    public void What_cannot_be_read_or_kept_is_refused_at_its_field(string? written, string code)
    {
        var refusal = Amounts.Read(written, "counted").Refusal!;
        Assert.Equal((code, "counted"), (refusal.Code, refusal.Errors.Keys.Single()));
    }

    IRenderedComponent<StockForm> Form(Refusal? refusal)
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        JSInterop.SetupModule("./js/scan.js").Mode = JSRuntimeMode.Loose;
        return Render<StockForm>(p => p.Add(f => f.Refusal, refusal).Add(f => f.Title, "Receive").Add(f => f.Heading, "What came").Add(f => f.Send, "Receive").Add(f => f.NotDone, "Nothing was received.")
            .AddChildContent<StoreField>(c => c.Add(x => x.Name, "curedOn").Add(x => x.Label, "Cure date").Add(x => x.Value, "2Q99"))
            .AddChildContent<StoreField>(c => c.Add(x => x.Name, "quantity").Add(x => x.Label, "Quantity").Add(x => x.Value, "3")));
    }
}
