using KitOrders.Operations.People;
using KitOrders.Rules.People;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.People;

/// <summary>A plant with its first administrator, Ada, who can sign in, and a clock that the test moves.</summary>
sealed class House : IAsyncDisposable
{
    public const string Password = "four dry words here";

    public static CancellationToken Ct => TestContext.Current.CancellationToken;

    readonly FreshDatabase database;

    House(FreshDatabase database)
    {
        this.database = database;
        Desk = new Desk(database.Contexts(), Clock);
    }

    public Clock Clock { get; } = new();

    public Desk Desk { get; }

    public Actor Ada { get; private set; } = null!;

    public int AdasAccount { get; private set; }

    public static async Task<House> Empty(TestDatabase server) => new(await server.Fresh());

    public static async Task<House> WithAda(TestDatabase server)
    {
        var house = await Empty(server);
        var first = new FirstAdministrator(house.Desk);
        var secret = (await first.MakeLink(Ct)).Value;
        house.AdasAccount = (await first.Run(secret, new NewAdministrator("Ada Brandt", "a.brandt", Password), null, Ct)).Value;
        house.Ada = (await house.Person("Ada Brandt"))!;
        return house;
    }

    public async Task<Actor> Add(string name, Roles roles) =>
        new((await new AddPerson(Desk).Run(new Call(Ada), new NewPerson(name, roles), Ct)).Value, name, roles);

    /// <summary>Somebody who has set a password through a first-use link. Answers the account.</summary>
    public async Task<int> SignInFor(Actor person, string userName, string password = Password)
    {
        var link = (await new MakeSignIn(Desk).Run(new Call(Ada), new NewSignIn(person.Person, userName), Ct)).Value;
        return (await new UseSignInLink(Desk).Run(link.Secret, password, null, Ct)).Value;
    }

    public async Task<Actor?> Person(string name)
    {
        await using var db = database.Context();
        return await db.People.Where(p => p.Name == name).Select(p => new Actor(p.Id, p.Name, p.Roles, null)).SingleOrDefaultAsync(Ct);
    }

    public KitOrdersDb Db() => database.Context();

    public async Task<IReadOnlyList<string>> Trail(string operation)
    {
        await using var db = database.Context();
        return await db.Audit.Where(a => a.Operation == operation).OrderBy(a => a.Id).Select(a => a.Subject + ": " + a.Sentence).ToListAsync(Ct);
    }

    public ValueTask DisposeAsync() => database.DisposeAsync();
}

sealed class Clock : TimeProvider
{
    DateTimeOffset now = new(2027, 3, 2, 8, 0, 0, TimeSpan.Zero);

    public void Pass(TimeSpan time) => now += time;

    public override DateTimeOffset GetUtcNow() => now;
}
