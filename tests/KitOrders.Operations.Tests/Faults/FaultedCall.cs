using KitOrders.Storage;
using KitOrders.TestWire;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Faults;

/// <summary>How a command fails.</summary>
enum Fault
{
    /// <summary>The server refuses the statement, and with it all that the transaction did before.</summary>
    Refused,

    /// <summary>The server does it and the client hears that it failed.</summary>
    FailedAfter,

    /// <summary>The connection breaks before the server hears of it.</summary>
    CutBefore,

    /// <summary>The server does it and the connection breaks before the client hears so.</summary>
    CutAfter,
}

/// <summary>One database of a plant with the wire before it: calls a write and lets one of its commands fail.</summary>
sealed class FaultedCall : IAsyncDisposable
{
    readonly FreshDatabase database;
    readonly Wire wire;
    readonly WriteCall call;
    readonly PlantNames names;
    readonly IDbContextFactory<KitOrdersDb> contexts;

    FaultedCall(FreshDatabase database, WriteCall call, PlantNames names)
    {
        this.database = database;
        this.call = call;
        this.names = names;
        wire = new Wire(database.AppConnectionString);
        contexts = FreshDatabase.Contexts(wire.ConnectionString);
    }

    public Digest Digest { get; private init; } = null!;

    public Desk Desk => new(contexts, new Imports.StoppedClock(new DateTimeOffset(2026, 3, 2, 12, 0, 0, TimeSpan.Zero)));

    static readonly CommandKey key = new("a key of our own", "a body of our own");

    public static async Task<FaultedCall> On(FaultPlant plant, WriteCall call)
    {
        var database = await plant.Copy(call.OnEmpty);
        var made = new FaultedCall(database, call, plant.Names) { Digest = await Digest.Of(database) };
        // The driver asks once what types there are; that belongs to no call.
        await using var db = await made.contexts.CreateDbContextAsync(Ct);
        await db.Database.OpenConnectionAsync(Ct);
        return made;
    }

    public Task<Said> Run() => call.Run(Desk, names, call.Keyed ? key : null);

    /// <summary>Runs it undisturbed and answers how many statements each of its exchanges has, the last being the commit.</summary>
    public async Task<(Said Said, IReadOnlyList<int> Exchanges)> Count()
    {
        var counted = new List<int>();
        var commits = new List<int>();
        wire.Before = exchange =>
        {
            if (!exchange.IsAside)
            {
                counted.Add(exchange.Statements.Count);
                if (exchange.Statements.Any(s => s.StartsWith("COMMIT", StringComparison.OrdinalIgnoreCase)))
                    commits.Add(counted.Count);
            }
            return Task.FromResult(Then.Go);
        };
        var said = await Run();
        wire.Before = Undisturbed;
        Assert.True(commits is [var last] && last == counted.Count, "A write is one transaction that ends with its commit.");
        return (said, counted);
    }

    /// <summary>Lets the statement of the exchange fail; the call must not say that it is done.</summary>
    public async Task Fail(Fault fault, int exchange, int statement = 0)
    {
        var seen = 0;
        Exchange? hit = null;
        wire.Before = asked =>
        {
            if (asked.IsAside || seen++ != exchange)
                return Task.FromResult(Then.Go);
            hit = asked;
            if (fault == Fault.Refused)
            {
                // No server refuses to begin a transaction and does what follows; where it cannot begin, the connection is gone.
                if (asked.Is("BEGIN"))
                    return Task.FromResult(Then.Cut);
                var n = 0;
                Assert.True(asked.Rewrite(s => n++ == statement ? "this is refused" : s));
            }
            return Task.FromResult(fault == Fault.CutBefore ? Then.Cut : Then.Go);
        };
        wire.After = answered => Task.FromResult(answered != hit ? Then.Go
            : fault switch { Fault.CutAfter => Then.Cut, Fault.FailedAfter => Then.Fail, _ => Then.Go });
        var failed = await Record.ExceptionAsync(Run);
        wire.Before = wire.After = Undisturbed;
        Assert.True(hit is not null, $"There was no exchange {exchange}.");
        Assert.True(IsOfTheDatabase(failed), $"{fault} at exchange {exchange}, statement {statement}: {failed?.ToString() ?? "it was said to be done"}");
    }

    static bool IsOfTheDatabase(Exception? e) => e is NpgsqlException || e?.InnerException is { } inner && IsOfTheDatabase(inner);

    static Task<Then> Undisturbed(Exchange exchange) => Task.FromResult(Then.Go);

    public async ValueTask DisposeAsync()
    {
        await Digest.DisposeAsync();
        wire.Dispose();
        await database.DisposeAsync();
    }
}
