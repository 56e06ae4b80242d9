using KitOrders.Operations.People;
using KitOrders.Rules.People;
using Xunit;
using static KitOrders.Operations.Tests.People.House;

namespace KitOrders.Operations.Tests.People;

public sealed class AddPersonTests(TestDatabase server)
{
    [Fact]
    public async Task A_name_stands_once_whatever_its_case_and_bootstrap_is_nobodys()
    {
        await using var house = await House.WithAda(server);
        await house.Add("Ines_Valdorf", Roles.Planner);
        var add = new AddPerson(house.Desk);
        Assert.Equal("name-taken", (await add.Run(new Call(house.Ada), new NewPerson(" ines_valdorf ", Roles.None), Ct)).Refusal!.Code);
        Assert.Equal("person-reserved", (await add.Run(new Call(house.Ada), new NewPerson("Bootstrap", Roles.All), Ct)).Refusal!.Code);
        Assert.Equal("crew-unknown", (await add.Run(new Call(house.Ada), new NewPerson("Jo", Roles.None, "night"), Ct)).Refusal!.Code);
        Assert.True((await add.Run(new Call(house.Ada), new NewPerson("InesXValdorf", Roles.None), Ct)).IsDone);
        Assert.Equal(["person Ines_Valdorf: Added with planner.", "person InesXValdorf: Added with no role."], await house.Trail("AddPerson"));
    }

    [Theory]
    [InlineData(Roles.Planner | Roles.Storeroom | Roles.Technician | Roles.Manager)]
    [InlineData(Roles.None)]
    public async Task Nobody_but_an_administrator_adds_people(Roles roles)
    {
        await using var house = await House.WithAda(server);
        var other = await house.Add("Jo Venn", roles);
        Assert.Equal("not-allowed", (await new AddPerson(house.Desk).Run(new Call(other), new NewPerson("X", Roles.All), Ct)).Refusal!.Code);
    }
}

public sealed class ChangePersonTests(TestDatabase server)
{
    [Fact]
    public async Task Whoever_is_put_off_the_list_is_out_at_once()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Administrator);
        var account = await house.SignInFor(jo, "j.venn");
        var token = (await new MakeToken(house.Desk).Run(new Call(house.Ada), new NewToken(jo.Person, "import"), Ct)).Value;
        var before = await new SignedIn(house.Desk).Read(account, Ct);

        Assert.True((await new ChangePerson(house.Desk).Run(new Call(house.Ada), new PersonChange(jo.Person, jo.Roles, null, Active: false), Ct)).IsDone);

        var after = await new SignedIn(house.Desk).Read(account, Ct);
        Assert.NotEqual(before!.Stamp, after!.Stamp);
        Assert.False(after.Active);
        Assert.Null(await new TokenHolder(house.Desk).Read(token.Token, Ct));
        Assert.Equal("not-allowed", (await new AddPerson(house.Desk).Run(new Call(jo), new NewPerson("X", Roles.None), Ct)).Refusal!.Code);
        Assert.Contains("sessions ended, tokens revoked", (await house.Trail("ChangePerson"))[^1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_token_revoked_by_leaving_stays_revoked_after_coming_back()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Planner);
        var token = (await new MakeToken(house.Desk).Run(new Call(house.Ada), new NewToken(jo.Person, "import"), Ct)).Value;
        foreach (var active in new[] { false, true })
            await new ChangePerson(house.Desk).Run(new Call(house.Ada), new PersonChange(jo.Person, jo.Roles, null, active), Ct);
        Assert.Null(await new TokenHolder(house.Desk).Read(token.Token, Ct));
    }

    [Theory]
    [InlineData(Roles.Planner, true)]
    [InlineData(Roles.Administrator, false)]
    public async Task The_last_administrator_who_can_sign_in_stays(Roles roles, bool active)
    {
        await using var house = await House.WithAda(server);
        // Has the role, but no way to sign in.
        await house.Add("Jo Venn", Roles.Administrator);
        var refused = await new ChangePerson(house.Desk).Run(new Call(house.Ada), new PersonChange(house.Ada.Person, roles, null, active), Ct);
        Assert.Equal("last-administrator", refused.Refusal!.Code);
    }

    [Fact]
    public async Task Two_administrators_who_put_each_other_off_at_once_leave_one()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Administrator);
        await house.SignInFor(jo, "j.venn");
        var change = new ChangePerson(house.Desk);
        await Task.WhenAll(
            change.Run(new Call(house.Ada), new PersonChange(jo.Person, Roles.None, null, true), Ct),
            change.Run(new Call(jo), new PersonChange(house.Ada.Person, Roles.None, null, true), Ct));
        Assert.False(await new FirstAdministrator(house.Desk).IsNeeded(Ct));
    }

    [Fact]
    public async Task Roles_hold_from_the_next_thing_done()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Administrator);
        await new ChangePerson(house.Desk).Run(new Call(house.Ada), new PersonChange(jo.Person, Roles.Planner, null, true), Ct);
        // The sign-in still says administrator; the record decides.
        Assert.Equal("not-allowed", (await new AddPerson(house.Desk).Run(new Call(jo), new NewPerson("X", Roles.None), Ct)).Refusal!.Code);
        Assert.Equal("person Jo Venn: Roles administrator became planner.", (await house.Trail("ChangePerson")).Single());
    }
}

public sealed class EndSessionsTests(TestDatabase server)
{
    [Fact]
    public async Task A_person_ends_their_own_sessions_and_an_administrator_anybodys()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Technician);
        var account = await house.SignInFor(jo, "j.venn");
        var people = new SignedIn(house.Desk);
        var sessions = new EndSessions(house.Desk);
        var first = (await people.Read(account, Ct))!.Stamp;
        Assert.True((await sessions.Run(new Call(jo), jo.Person, Ct)).IsDone);
        var second = (await people.Read(account, Ct))!.Stamp;
        Assert.True((await sessions.Run(new Call(house.Ada), jo.Person, Ct)).IsDone);
        var third = (await people.Read(account, Ct))!.Stamp;
        Assert.Equal(3, new[] { first, second, third }.Distinct().Count());
        Assert.Equal("not-allowed", (await sessions.Run(new Call(jo), house.Ada.Person, Ct)).Refusal!.Code);
        Assert.Equal(2, (await house.Trail("EndSessions")).Count);
    }
}

public sealed class ChangePasswordTests(TestDatabase server)
{
    [Fact]
    public async Task The_old_password_is_asked_for_and_other_sessions_end()
    {
        await using var house = await House.WithAda(server);
        var change = new ChangePassword(house.Desk);
        var before = (await new SignedIn(house.Desk).Read(house.AdasAccount, Ct))!.Stamp;
        Assert.Equal("password-wrong", (await change.Run(new Call(house.Ada), "not this", "a new row of words", Ct)).Refusal!.Code);
        Assert.Equal("password-refused", (await change.Run(new Call(house.Ada), House.Password, "7 signs", Ct)).Refusal!.Code);
        Assert.Equal(before, (await new SignedIn(house.Desk).Read(house.AdasAccount, Ct))!.Stamp);
        Assert.True((await change.Run(new Call(house.Ada), House.Password, "a new row of words", Ct)).IsDone);
        Assert.NotEqual(before, (await new SignedIn(house.Desk).Read(house.AdasAccount, Ct))!.Stamp);
    }
}
