using Bunit;
using KitOrders.Rules;
using KitOrders.Web.Shared;
using Xunit;

namespace KitOrders.Web.Tests.Shared;

public sealed class AmountInputTests : BunitContext
{
    [Fact]
    public void What_cannot_be_read_stays_as_typed_and_the_number_before_it_counts_until_it_is_put_right()
    {
        var (value, said) = (2m, (Refusal?)null);
        var input = Render<AmountInput>(p => p.Add(i => i.Value, value).Add(i => i.ValueChanged, v => value = v).Add(i => i.Unreadable, r => said = r));
        Assert.Equal("2", input.Find("input").GetAttribute("value"));

        input.Find("input").Change("99999999999999999999999999999999");
        Assert.Equal((2m, "number-too-large"), (value, said?.Code));
        Assert.Equal("99999999999999999999999999999999", input.Find("input").GetAttribute("value"));
        Assert.Equal(("true", said!.Sentence), (input.Find("input").GetAttribute("aria-invalid"), input.Find(".wrong").TextContent));

        input.Find("input").Change("1.5");
        Assert.Equal((1.5m, (Refusal?)null), (value, said));
        Assert.Empty(input.FindAll(".wrong"));
    }

    [Fact]
    public void A_number_that_changes_from_outside_is_shown()
    {
        var input = Render<AmountInput>(p => p.Add(i => i.Value, 2m));
        input.Render(p => p.Add(i => i.Value, 3.25m));
        Assert.Equal("3.25", input.Find("input").GetAttribute("value"));
    }
}
