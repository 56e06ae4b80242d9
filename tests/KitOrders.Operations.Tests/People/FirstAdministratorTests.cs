using KitOrders.Operations.People;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.People.House;

namespace KitOrders.Operations.Tests.People;

public sealed class FirstAdministratorTests(TestDatabase server)
{
    static readonly NewAdministrator ada = new("Ada Brandt", "a.brandt", House.Password);

    [Fact]
    public async Task The_link_lets_one_person_in_as_administrator_and_then_nobody()
    {
        await using var house = await House.Empty(server);
        var first = new FirstAdministrator(house.Desk);
        Assert.True(await first.IsNeeded(Ct));
        var secret = (await first.MakeLink(Ct)).Value;
        Assert.True(await first.IsGood(secret, Ct));

        var account = (await first.Run(secret, ada, null, Ct)).Value;

        var person = await new SignedIn(house.Desk).Read(account, Ct);
        Assert.Equal(("Ada Brandt", Roles.Administrator, true), (person!.Actor.Name, person.Actor.Roles, person.HasPassword));
        Assert.Equal("link-spent", (await first.Run(secret, ada with { Name = "Eve", UserName = "eve" }, null, Ct)).Refusal!.Code);
        Assert.False(await first.IsNeeded(Ct));
        Assert.Equal("administrator-stands", (await first.MakeLink(Ct)).Refusal!.Code);
        Assert.Equal("person Ada Brandt: Came in as the first administrator through the set-up link.", (await house.Trail("FirstAdministrator"))[^1]);
    }

    [Fact]
    public async Task A_newer_link_takes_the_place_of_the_one_before()
    {
        await using var house = await House.Empty(server);
        var first = new FirstAdministrator(house.Desk);
        var earlier = (await first.MakeLink(Ct)).Value;
        var later = (await first.MakeLink(Ct)).Value;
        Assert.False(await first.IsGood(earlier, Ct));
        Assert.Equal("link-spent", (await first.Run(earlier, ada, null, Ct)).Refusal!.Code);
        Assert.True((await first.Run(later, ada, null, Ct)).IsDone);
    }

    [Fact]
    public async Task Two_people_at_the_same_link_at_once_make_one_administrator()
    {
        await using var house = await House.Empty(server);
        var first = new FirstAdministrator(house.Desk);
        var secret = (await first.MakeLink(Ct)).Value;
        var both = await Task.WhenAll(
            first.Run(secret, ada, null, Ct),
            first.Run(secret, new NewAdministrator("Eve Klint", "e.klint", House.Password), null, Ct));
        Assert.Single(both, outcome => outcome.IsDone);
        Assert.Single(both, outcome => outcome.Refusal?.Code == "link-spent");
    }

    [Fact]
    public async Task The_secret_is_kept_as_a_hash_alone_and_holds_at_least_128_bits()
    {
        await using var house = await House.Empty(server);
        var secret = (await new FirstAdministrator(house.Desk).MakeLink(Ct)).Value;
        await using var db = house.Db();
        var kept = await db.SignInLinks.SingleAsync(Ct);
        Assert.DoesNotContain(secret, kept.Hash, StringComparison.Ordinal);
        Assert.True(System.Buffers.Text.Base64Url.DecodeFromChars(secret).Length * 8 >= 128);
    }

    [Fact]
    public async Task A_refused_password_leaves_the_link_good()
    {
        await using var house = await House.Empty(server);
        var first = new FirstAdministrator(house.Desk);
        var secret = (await first.MakeLink(Ct)).Value;
        Assert.Equal("password-refused", (await first.Run(secret, ada with { Password = "short" }, null, Ct)).Refusal!.Code);
        Assert.Equal("user-name-refused", (await first.Run(secret, ada with { UserName = "two words" }, null, Ct)).Refusal!.Code);
        Assert.True(await first.IsGood(secret, Ct));
    }

    [Fact]
    public async Task An_administrator_without_a_way_to_sign_in_does_not_count()
    {
        await using var house = await House.Empty(server);
        await using (var db = house.Db())
        {
            db.People.Add(new Person { Name = "Imported Boss", Roles = Roles.Administrator | Roles.Planner });
            await db.SaveChangesAsync(Ct);
        }
        Assert.True(await new FirstAdministrator(house.Desk).IsNeeded(Ct));
    }
}
