using KitOrders.Operations.People;
using KitOrders.Rules.People;
using Xunit;
using static KitOrders.Operations.Tests.People.House;

namespace KitOrders.Operations.Tests.People;

public sealed class PeopleListTests(TestDatabase server)
{
    [Fact]
    public async Task Everybody_is_listed_with_how_they_sign_in()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo Venn", Roles.Technician);
        await house.Add("Gone Person", Roles.Planner);
        await new ChangePerson(house.Desk).Run(new Call(house.Ada), new PersonChange((await house.Person("Gone Person"))!.Person, Roles.Planner, null, false), Ct);
        await new MakeSignIn(house.Desk).Run(new Call(house.Ada), new NewSignIn(jo.Person, "j.venn"), Ct);
        await new SetPin(house.Desk).Run(new Call(jo), "2468", Ct);

        var people = (await new PeopleList(house.Desk).Read(house.Ada, Ct)).Value.People;

        Assert.Equal(["Ada Brandt", "Jo Venn", "Gone Person"], people.Select(p => p.Name));
        Assert.Equal(("a.brandt", true, false), (people[0].UserName, people[0].HasPassword, people[0].HasPin));
        Assert.Equal(("j.venn", false, true), (people[1].UserName, people[1].HasPassword, people[1].HasPin));
        Assert.Equal(house.Clock.GetUtcNow() + SignInLink.Life, people[1].LinkUntil);
        Assert.Equal("not-allowed", (await new PeopleList(house.Desk).Read(jo, Ct)).Refusal!.Code);
    }
}

public sealed class AuditTrailTests(TestDatabase server)
{
    [Fact]
    public async Task Pages_follow_each_other_without_gap_or_repeat_while_entries_are_added()
    {
        await using var house = await House.WithAda(server);
        for (var n = 1; n <= 7; n++)
            await house.Add($"Person {n}", Roles.None);
        var trail = new AuditTrail(house.Desk);
        var filter = new AuditFilter(Operation: "AddPerson");
        List<string> seen = [];
        long? after = null;
        do
        {
            var page = (await trail.Read(house.Ada, filter, after, 3, Ct)).Value;
            seen.AddRange(page.Items.Select(r => r.Subject));
            after = page.Next;
            await house.Add($"Late {seen.Count}", Roles.None);
        }
        while (after is not null);
        Assert.Equal(Enumerable.Range(1, 7).Reverse().Select(n => $"person Person {n}"), seen);
    }

    [Fact]
    public async Task It_is_searched_by_person_and_by_words_and_read_by_administrators_alone()
    {
        await using var house = await House.WithAda(server);
        var jo = await house.Add("Jo 100% Venn", Roles.Planner);
        await new SetPin(house.Desk).Run(new Call(jo), "2468", Ct);
        var trail = new AuditTrail(house.Desk);
        Assert.Equal("SetPin", Assert.Single((await trail.Read(house.Ada, new AuditFilter(Person: "Jo 100% Venn"), null, 50, Ct)).Value.Items).Operation);
        Assert.Equal(2, (await trail.Read(house.Ada, new AuditFilter(Text: "100% v"), null, 50, Ct)).Value.Items.Count);
        Assert.Empty((await trail.Read(house.Ada, new AuditFilter(Text: "1%0"), null, 50, Ct)).Value.Items);
        Assert.Equal("not-allowed", (await trail.Read(jo, new AuditFilter(), null, 50, Ct)).Refusal!.Code);
    }
}

public sealed class ContinueAsTests(TestDatabase server)
{
    [Fact]
    public async Task Only_invented_people_can_be_continued_as()
    {
        await using var house = await House.WithAda(server);
        await using (var db = house.Db())
        {
            db.People.Add(new Person { Name = "Invented Planner", Roles = Roles.Planner, Demo = true });
            db.People.Add(new Person { Name = "Invented but gone", Roles = Roles.Planner, Demo = true, Active = false });
            await db.SaveChangesAsync(Ct);
        }
        var door = await new FrontDoor(house.Desk).Read(Ct);
        var planner = Assert.Single(door.Demo);
        var go = new ContinueAs(house.Desk);

        var account = (await go.Run(planner.Id, null, Ct)).Value;

        Assert.Equal(account, (await go.Run(planner.Id, null, Ct)).Value);
        var person = await new SignedIn(house.Desk).Read(account, Ct);
        Assert.Equal(("Invented Planner", false, true), (person!.Actor.Name, person.HasPassword, person.Demo));
        Assert.Equal("not-a-demo-person", (await go.Run(house.Ada.Person, null, Ct)).Refusal!.Code);
        Assert.Equal("not-a-demo-person", (await go.Run((await house.Person("Invented but gone"))!.Person, null, Ct)).Refusal!.Code);
        Assert.Equal(2, (await house.Trail("ContinueAs")).Count);
    }
}

public sealed class FrontDoorTests(TestDatabase server)
{
    [Fact]
    public async Task An_empty_plant_says_that_nobody_can_sign_in_yet()
    {
        await using var house = await House.Empty(server);
        Assert.True((await new FrontDoor(house.Desk).Read(Ct)).NobodyYet);
        await using var settled = await House.WithAda(server);
        var door = await new FrontDoor(settled.Desk).Read(Ct);
        Assert.False(door.NobodyYet);
        Assert.Empty(door.Demo);
    }
}
