using KitOrders.Operations.People;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.People.House;

namespace KitOrders.Operations.Tests.People;

public sealed class MakeTokenTests(TestDatabase server)
{
    [Fact]
    public async Task A_token_acts_as_its_person_with_the_roles_of_the_moment()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Planner);
        var token = (await new MakeToken(house.Desk).Run(new Call(house.Ada), new NewToken(jo.Person, "nightly import"), Ct)).Value;
        var holders = new TokenHolder(house.Desk);
        Assert.Equal(("Jo Venn", Roles.Planner), await Who());
        await new ChangePerson(house.Desk).Run(new Call(house.Ada), new PersonChange(jo.Person, Roles.Manager, null, true), Ct);
        Assert.Equal(("Jo Venn", Roles.Manager), await Who());
        Assert.Null(await holders.Read(token.Token + "x", Ct));

        async Task<(string, Roles)> Who() => await holders.Read(token.Token, Ct) is { } actor ? (actor.Name, actor.Roles) : default;
    }

    [Fact]
    public async Task Only_the_hash_of_a_token_is_kept()
    {
        await using var house = await House.WithAda(server);
        var token = (await new MakeToken(house.Desk).Run(new Call(house.Ada), new NewToken(house.Ada.Person, "mine"), Ct)).Value;
        await using var db = house.Db();
        Assert.DoesNotContain(token.Token[3..], (await db.ApiTokens.SingleAsync(Ct)).Hash, StringComparison.Ordinal);
        Assert.DoesNotContain((await house.Trail("MakeToken")).Single(), token.Token, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_token_needs_a_purpose_and_a_person_on_the_list()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Planner);
        await new ChangePerson(house.Desk).Run(new Call(house.Ada), new PersonChange(jo.Person, Roles.Planner, null, false), Ct);
        var make = new MakeToken(house.Desk);
        Assert.Equal("person-inactive", (await make.Run(new Call(house.Ada), new NewToken(jo.Person, "import"), Ct)).Refusal!.Code);
        Assert.Equal("label-refused", (await make.Run(new Call(house.Ada), new NewToken(house.Ada.Person, " "), Ct)).Refusal!.Code);
        Assert.Equal("person-unknown", (await make.Run(new Call(house.Ada), new NewToken(new PersonId(999), "import"), Ct)).Refusal!.Code);
    }
}

public sealed class RevokeTokenTests(TestDatabase server)
{
    [Fact]
    public async Task A_revoked_token_stands_for_nobody_and_stays_on_the_list()
    {
        await using var house = await House.WithAda(server);
        var token = (await new MakeToken(house.Desk).Run(new Call(house.Ada), new NewToken(house.Ada.Person, "mine"), Ct)).Value;
        Assert.True((await new RevokeToken(house.Desk).Run(new Call(house.Ada), token.Id, Ct)).IsDone);
        Assert.Null(await new TokenHolder(house.Desk).Read(token.Token, Ct));
        var row = Assert.Single((await new TokensList(house.Desk).Read(house.Ada, Ct)).Value);
        Assert.Equal(house.Clock.GetUtcNow(), row.RevokedAt);
        Assert.Equal("token-unknown", (await new RevokeToken(house.Desk).Run(new Call(house.Ada), 999, Ct)).Refusal!.Code);
        Assert.Equal(["token 'mine' of Ada Brandt: Revoked."], await house.Trail("RevokeToken"));
    }
}

public sealed class EnsureBootstrapTests(TestDatabase server)
{
    [Fact]
    public async Task Bootstrap_holds_all_five_roles_and_is_made_once()
    {
        await using var house = await House.Empty(server);
        Assert.Null(await new TokenHolder(house.Desk).ReadBootstrap(Ct));
        var ensure = new EnsureBootstrap(house.Desk);
        var both = await Task.WhenAll(ensure.Run(Ct), ensure.Run(Ct));
        Assert.Equal(both[0].Value, both[1].Value);
        var actor = await new TokenHolder(house.Desk).ReadBootstrap(Ct);
        Assert.Equal(new Actor(both[0].Value, "bootstrap", Roles.All, "token"), actor);
        // It is no person who could look after others, so the first administrator is still wanted.
        Assert.True(await new FirstAdministrator(house.Desk).IsNeeded(Ct));
    }

    [Fact]
    public async Task Bootstrap_is_neither_changed_nor_given_a_sign_in_or_token()
    {
        await using var house = await House.WithAda(server);
        var id = (await new EnsureBootstrap(house.Desk).Run(Ct)).Value;
        var call = new Call(house.Ada);
        Assert.Equal("person-reserved", (await new ChangePerson(house.Desk).Run(call, new PersonChange(id, Roles.None, null, false), Ct)).Refusal!.Code);
        Assert.Equal("person-reserved", (await new MakeSignIn(house.Desk).Run(call, new NewSignIn(id, "boot"), Ct)).Refusal!.Code);
        Assert.Equal("person-reserved", (await new MakeToken(house.Desk).Run(call, new NewToken(id, "boot"), Ct)).Refusal!.Code);
        Assert.DoesNotContain((await new PeopleList(house.Desk).Read(house.Ada, Ct)).Value.People, p => p.Id == id);
    }
}
