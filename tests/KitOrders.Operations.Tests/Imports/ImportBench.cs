using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Storage;
using Xunit;

namespace KitOrders.Operations.Tests.Imports;

/// <summary>An empty plant in a database of its own, with one person who may import, on Monday 2 March 2026.</summary>
public sealed class ImportBench : IAsyncDisposable
{
    readonly FreshDatabase database;

    ImportBench(FreshDatabase database) => this.database = database;

    internal StoppedClock Clock { get; } = new(new DateTimeOffset(2026, 3, 2, 12, 0, 0, TimeSpan.Zero));
    internal Desk Desk => new(database.Contexts(), Clock);
    public Actor Actor { get; private set; } = null!;
    internal FreshDatabase Database => database;

    /// <summary>With nobody in it.</summary>
    public static async Task<ImportBench> Bare(TestDatabase databases) => new(await databases.Fresh());

    public static async Task<ImportBench> New(TestDatabase databases)
    {
        var bench = new ImportBench(await databases.Fresh());
        bench.Actor = await bench.Add("Iris Imports", Roles.All);
        return bench;
    }

    public async Task<Actor> Add(string name, Roles roles)
    {
        await using var db = Db();
        var person = new Person { Name = name, Roles = roles };
        db.People.Add(person);
        await db.SaveChangesAsync();
        return new Actor(person.Id, person.Name, person.Roles);
    }

    internal KitOrdersDb Db() => database.Context();

    internal Task<Outcome<ImportReport>> Run(string file, string csv, bool dryRun = false, Actor? actor = null) =>
        new ImportFile(Desk).Run(new Call(actor ?? Actor), file, csv, dryRun, null, CancellationToken.None);

    /// <summary>Imports what has to be right for the test to mean anything.</summary>
    internal async Task<ImportReport> Good(string file, string csv)
    {
        var outcome = await Run(file, csv);
        Assert.True(outcome.IsDone, outcome.Refusal?.Sentence);
        Assert.True(outcome.Value.Errors.Count == 0, string.Join("\n", outcome.Value.Errors.Take(40).Select(e => $"{file} row {e.Row}, {e.Column}: {e.Message}")));
        Assert.Equal(outcome.Value.Rows, outcome.Value.Written);
        return outcome.Value;
    }

    /// <summary>Imports what has to be refused for one cell, and answers the sentence.</summary>
    internal async Task<string> BadCell(string file, string csv, int row, string column)
    {
        var errors = await Bad(file, csv);
        var error = Assert.Single(errors);
        Assert.Equal((row, column), (error.Row, error.Column));
        return error.Message;
    }

    /// <summary>Imports what has to be refused, and answers its errors.</summary>
    internal async Task<IReadOnlyList<ImportError>> Bad(string file, string csv)
    {
        var outcome = await Run(file, csv);
        Assert.True(outcome.IsDone, outcome.Refusal?.Sentence);
        Assert.True(outcome.Value.Refused);
        Assert.Equal(0, outcome.Value.Written);
        return outcome.Value.Errors;
    }

    public ValueTask DisposeAsync() => database.DisposeAsync();
}

/// <summary>A clock that stands where it is put.</summary>
sealed class StoppedClock(DateTimeOffset at) : TimeProvider
{
    public DateTimeOffset Now { get; set; } = at;

    public override DateTimeOffset GetUtcNow() => Now;
}
