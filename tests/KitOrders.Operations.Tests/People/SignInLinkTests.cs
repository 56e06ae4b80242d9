using KitOrders.Operations.People;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.People.House;

namespace KitOrders.Operations.Tests.People;

public sealed class MakeSignInTests(TestDatabase server)
{
    [Fact]
    public async Task A_person_sets_their_own_password_through_a_link_that_works_once()
    {
        await using var house = await House.WithAda(server);
        var ines = await house.Add("Ines Valdorf", Roles.Planner);
        var link = (await new MakeSignIn(house.Desk).Run(new Call(house.Ada), new NewSignIn(ines.Person, "i.valdorf"), Ct)).Value;
        var use = new UseSignInLink(house.Desk);
        Assert.Equal(new LinkHolder("Ines Valdorf", "i.valdorf"), (await use.Holder(link.Secret, Ct)).Value);

        Assert.True((await use.Run(link.Secret, "kelp and cold coffee", null, Ct)).IsDone);

        Assert.Equal("link-spent", (await use.Run(link.Secret, "something else entirely", null, Ct)).Refusal!.Code);
        Assert.Equal("link-spent", (await use.Holder(link.Secret, Ct)).Refusal!.Code);
        await using var db = house.Db();
        var account = await db.Users.SingleAsync(a => a.PersonId == ines.Person, Ct);
        Assert.True(Passwords.Matches(account.PasswordHash, "kelp and cold coffee"));
    }

    [Fact]
    public async Task A_link_ends_by_itself_after_three_days()
    {
        await using var house = await House.WithAda(server);
        var ines = await house.Add("Ines Valdorf", Roles.Planner);
        var link = (await new MakeSignIn(house.Desk).Run(new Call(house.Ada), new NewSignIn(ines.Person, "i.valdorf"), Ct)).Value;
        house.Clock.Pass(TimeSpan.FromHours(72));
        Assert.Equal("link-spent", (await new UseSignInLink(house.Desk).Run(link.Secret, House.Password, null, Ct)).Refusal!.Code);
    }

    [Fact]
    public async Task A_new_password_ends_the_sessions_begun_with_the_old_one_and_until_then_it_holds()
    {
        await using var house = await House.WithAda(server);
        var ines = await house.Add("Ines Valdorf", Roles.Planner);
        var account = await house.SignInFor(ines, "i.valdorf");
        var before = await new SignedIn(house.Desk).Read(account, Ct);

        var link = (await new MakeSignIn(house.Desk).Run(new Call(house.Ada), new NewSignIn(ines.Person, "i.valdorf"), Ct)).Value;
        Assert.Equal(before!.Stamp, (await new SignedIn(house.Desk).Read(account, Ct))!.Stamp);
        await new UseSignInLink(house.Desk).Run(link.Secret, "another set of words", null, Ct);
        Assert.NotEqual(before.Stamp, (await new SignedIn(house.Desk).Read(account, Ct))!.Stamp);
    }

    [Fact]
    public async Task A_user_name_belongs_to_one_person_whatever_its_case()
    {
        await using var house = await House.WithAda(server);
        var ines = await house.Add("Ines Valdorf", Roles.Planner);
        var refused = await new MakeSignIn(house.Desk).Run(new Call(house.Ada), new NewSignIn(ines.Person, "A.BRANDT"), Ct);
        Assert.Equal("user-name-taken", refused.Refusal!.Code);
    }

    [Fact]
    public async Task Only_an_administrator_makes_sign_ins()
    {
        await using var house = await House.WithAda(server);
        var ines = await house.Add("Ines Valdorf", Roles.Planner | Roles.Manager);
        var refused = await new MakeSignIn(house.Desk).Run(new Call(ines), new NewSignIn(house.Ada.Person, "mine"), Ct);
        Assert.Equal("not-allowed", refused.Refusal!.Code);
    }

    [Fact]
    public async Task The_secret_is_not_kept_for_a_repeated_call()
    {
        await using var house = await House.WithAda(server);
        var ines = await house.Add("Ines Valdorf", Roles.Planner);
        await new MakeSignIn(house.Desk).Run(new Call(house.Ada, new CommandKey("k1", "hash")), new NewSignIn(ines.Person, "i.valdorf"), Ct);
        await new MakeToken(house.Desk).Run(new Call(house.Ada, new CommandKey("k2", "hash")), new NewToken(ines.Person, "import"), Ct);
        await using var db = house.Db();
        Assert.Empty(await db.Commands.ToListAsync(Ct));
    }
}

public sealed class UseSignInLinkTests(TestDatabase server)
{
    [Fact]
    public async Task A_link_opens_nothing_for_somebody_put_off_the_list()
    {
        await using var house = await House.WithAda(server);
        var ines = await house.Add("Ines Valdorf", Roles.Planner);
        var link = (await new MakeSignIn(house.Desk).Run(new Call(house.Ada), new NewSignIn(ines.Person, "i.valdorf"), Ct)).Value;
        await new ChangePerson(house.Desk).Run(new Call(house.Ada), new PersonChange(ines.Person, Roles.Planner, null, Active: false), Ct);
        Assert.Equal("link-spent", (await new UseSignInLink(house.Desk).Run(link.Secret, House.Password, null, Ct)).Refusal!.Code);
    }

    [Fact]
    public async Task What_is_done_at_the_link_is_written_down_under_the_persons_own_name()
    {
        await using var house = await House.WithAda(server);
        var ines = await house.Add("Ines Valdorf", Roles.Planner);
        await house.SignInFor(ines, "i.valdorf");
        await using var db = house.Db();
        Assert.Equal(ines.Person, (await db.Audit.SingleAsync(a => a.Operation == "UseSignInLink", Ct)).PersonId);
    }
}
