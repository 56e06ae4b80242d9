using KitOrders.Operations.People;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.People.House;

namespace KitOrders.Operations.Tests.People;

public sealed class SetPinTests(TestDatabase server)
{
    [Theory]
    [InlineData("123", false)]
    [InlineData("1234", false)]
    [InlineData("4321", false)]
    [InlineData("7777", false)]
    [InlineData("12a4", false)]
    [InlineData("١٢٣٥", false)]
    [InlineData("123456789", false)]
    [InlineData("2468", true)]
    [InlineData("27182818", true)]
    public async Task A_pin_has_four_to_eight_digits_that_are_not_the_first_to_guess(string pin, bool taken)
    {
        await using var house = await House.WithAda(server);
        Assert.Equal(taken ? null : "pin-refused", (await new SetPin(house.Desk).Run(new Call(house.Ada), pin, Ct)).Refusal?.Code);
    }

    [Fact]
    public async Task A_pin_is_kept_as_a_hash()
    {
        await using var house = await House.WithAda(server);
        await new SetPin(house.Desk).Run(new Call(house.Ada), "2468", Ct);
        await using var db = house.Db();
        var hash = (await db.People.SingleAsync(p => p.Name == "Ada Brandt", Ct)).PinHash!;
        Assert.DoesNotContain("2468", hash, StringComparison.Ordinal);
        Assert.True(Passwords.Matches(hash, "2468"));
    }
}

public sealed class ResetPinTests(TestDatabase server)
{
    [Fact]
    public async Task An_administrator_takes_a_pin_away_and_cannot_set_one()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Technician);
        await new SetPin(house.Desk).Run(new Call(jo), "2468", Ct);
        Assert.Equal("not-allowed", (await new ResetPin(house.Desk).Run(new Call(jo), jo.Person, Ct)).Refusal!.Code);
        Assert.True((await new ResetPin(house.Desk).Run(new Call(house.Ada), jo.Person, Ct)).IsDone);
        Assert.Equal("pin-missing", (await new CheckPin(house.Desk).Run(new Call(house.Ada), "Jo Venn", "2468", Ct)).Refusal!.Code);
    }
}

public sealed class CheckPinTests(TestDatabase server)
{
    [Fact]
    public async Task The_right_pin_answers_the_person_with_their_roles()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Technician);
        await new SetPin(house.Desk).Run(new Call(jo), "2468", Ct);
        var witness = await new CheckPin(house.Desk).Run(new Call(house.Ada), "Jo Venn", "2468", Ct);
        Assert.Equal(jo, witness.Value);
        Assert.Equal("person-unknown", (await new CheckPin(house.Desk).Run(new Call(house.Ada), "Nobody", "2468", Ct)).Refusal!.Code);
        Assert.Equal("pin-missing", (await new CheckPin(house.Desk).Run(new Call(jo), "Ada Brandt", null, Ct)).Refusal!.Code);
    }

    [Fact]
    public async Task Five_wrong_pins_in_a_row_block_even_the_right_one_for_a_quarter_of_an_hour()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Technician);
        await new SetPin(house.Desk).Run(new Call(jo), "2468", Ct);
        var check = new CheckPin(house.Desk);
        Task<Rules.Outcome<Actor>> Try(string pin) => check.Run(new Call(house.Ada), "Jo Venn", pin, Ct);

        for (var wrong = 1; wrong <= 4; wrong++)
            Assert.Equal("pin-wrong", (await Try("1357")).Refusal!.Code);
        Assert.Equal("pin-blocked", (await Try("1357")).Refusal!.Code);
        Assert.Equal("pin-blocked", (await Try("2468")).Refusal!.Code);
        house.Clock.Pass(TimeSpan.FromMinutes(15));
        Assert.True((await Try("2468")).IsDone);
        Assert.Equal(5, (await house.Trail("CheckPin")).Count(said => said.EndsWith("A wrong pin was given.", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task Guessing_in_parallel_gains_nothing()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Technician);
        await new SetPin(house.Desk).Run(new Call(jo), "2468", Ct);
        var check = new CheckPin(house.Desk);
        var tries = await Task.WhenAll(Enumerable.Range(0, 12).Select(n => check.Run(new Call(house.Ada), "Jo Venn", $"90{n + 10}", Ct)));
        Assert.Equal(4, tries.Count(t => t.Refusal?.Code == "pin-wrong"));
        Assert.Equal(8, tries.Count(t => t.Refusal?.Code == "pin-blocked"));
    }

    [Fact]
    public async Task Bootstrap_needs_no_pin_for_itself_and_nobody_else_can_speak_for_it()
    {
        await using var house = await House.WithAda(server);
        await new EnsureBootstrap(house.Desk).Run(Ct);
        var bootstrap = (await house.Person("bootstrap"))!;
        var check = new CheckPin(house.Desk);
        Assert.Equal(bootstrap, (await check.Run(new Call(bootstrap), "bootstrap", null, Ct)).Value);
        Assert.Equal("pin-missing", (await check.Run(new Call(house.Ada), "bootstrap", "2468", Ct)).Refusal!.Code);
    }
}
