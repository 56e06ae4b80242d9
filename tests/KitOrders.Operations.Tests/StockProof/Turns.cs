using System.Data.Common;
using System.Text.RegularExpressions;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Npgsql;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>
/// Two operations on two real connections, of which only one may take its next step: a command to the database, or the commit.
/// Who goes on is said by a schedule, so that a run can be repeated and every order of the steps be tried. Whoever waits for a
/// lock of the other is out until the other has let it go; the server is asked, no clock.
/// </summary>
sealed partial class Turns(NpgsqlConnection watch, Side one, Side other)
{
    const int PollMilliseconds = 2;

    readonly Side[] sides = [one, other];

    /// <summary>Who went on wherever both could, and whether another schedule may choose differently there.</summary>
    public List<int> Choices { get; } = [];

    /// <summary>How often somebody who could have gone on was made to wait, up to each choice.</summary>
    public List<int> Interruptions { get; } = [];

    /// <summary>Whether one had to wait for a lock of the other.</summary>
    public bool Waited { get; private set; }

    /// <param name="schedule">Who goes on at the first choices; after them whoever went on goes on.</param>
    /// <param name="matters">Whether a step has to do with anything that either side writes. Others are taken at once: where they stand makes no difference.</param>
    public async Task Run(IReadOnlyList<int> schedule, Func<string, bool> matters)
    {
        await Settle(0);
        await Settle(1);
        var last = 0;
        var interruptions = 0;
        while (!sides.All(s => s.Finished))
        {
            var ready = new[] { 0, 1 }.Where(n => sides[n].Next is not null).ToList();
            if (ready.Count == 0)
            {
                if (await Blocked(0) && await Blocked(1))
                    throw new InvalidOperationException("Deadlock: each waits for the other.");
                await Settle(0);
                await Settle(1);
                continue;
            }
            var idle = ready.Where(n => !matters(sides[n].Next!)).ToList();
            var turn = idle.Count > 0 ? idle[0] : ready[0];
            if (idle.Count == 0 && ready.Count == 2)
            {
                turn = Choices.Count < schedule.Count ? schedule[Choices.Count] : last;
                interruptions += turn == last || Choices.Count == 0 ? 0 : 1;
                Choices.Add(turn);
                Interruptions.Add(interruptions);
            }
            if (idle.Count == 0)
                last = turn;
            sides[turn].Go();
            await Settle(turn);
            await Settle(1 - turn);
        }
    }

    /// <summary>Waits until the side stands before its next step, has ended, or waits for a lock of the other.</summary>
    async Task Settle(int n)
    {
        var side = sides[n];
        while (side is { Next: null, Finished: false })
        {
            if (await Task.WhenAny(side.Arrival, Task.Delay(PollMilliseconds)) != side.Arrival && await Blocked(n))
            {
                Waited = true;
                return;
            }
        }
    }

    async Task<bool> Blocked(int n)
    {
        if (sides[n] is not { Pid: { } pid, Next: null, Finished: false } || sides[1 - n].Pid is not { } otherPid)
            return false;
        await using var command = new NpgsqlCommand("select $2 = any(pg_blocking_pids($1))", watch)
        {
            Parameters = { new() { Value = pid }, new() { Value = otherPid } },
        };
        return await command.ExecuteScalarAsync() is true;
    }

    /// <summary>The tables that a side writes or locks, the trail of what people did apart: it is only ever added to.</summary>
    public static IEnumerable<string> Written(IEnumerable<string> steps) =>
        steps.SelectMany(s => Writes().Matches(s).Select(m => m.Groups["table"].Value))
            .Concat(steps.SelectMany(s => Locks().Matches(s).Select(m => m.Groups["table"].Value)))
            .Where(t => t is not "audit_entry" and not "audit").Distinct();

    [GeneratedRegex(@"\b(?:insert into|update|delete from) ""?(?<table>[a-z_]+)", RegexOptions.IgnoreCase)]
    private static partial Regex Writes();

    [GeneratedRegex(@"\bfrom ""?(?<table>[a-z_]+)""?(?:(?!\bfrom\b).)*\bfor (?:no key )?update", RegexOptions.IgnoreCase | RegexOptions.Singleline)]
    private static partial Regex Locks();
}

/// <summary>One of the two: it stops before every step until it is told to go.</summary>
sealed class Side : IDbCommandInterceptor
{
    /// <summary>The last step of a write, which commits as well.</summary>
    public static bool Commits(string step) => step.TrimEnd().EndsWith("commit;", StringComparison.Ordinal);

    readonly Lock gate = new();
    TaskCompletionSource arrival = New();
    TaskCompletionSource? go;

    public string? Next { get; private set; }
    public int? Pid { get; private set; }
    public bool Finished { get; private set; }
    public List<string> Steps { get; } = [];

    /// <summary>Ends when the side stands before a step or has ended.</summary>
    public Task Arrival
    {
        get
        {
            lock (gate)
                return arrival.Task;
        }
    }

    public void Go()
    {
        TaskCompletionSource waiting;
        lock (gate)
        {
            waiting = go!;
            Steps.Add(Next!);
            Next = null;
            arrival = New();
        }
        waiting.SetResult();
    }

    /// <summary>Lets the side go on alone until it stands before such a step, or has ended.</summary>
    public async Task GoUntil(Func<string, bool> before)
    {
        while (true)
        {
            await Arrival;
            if (Finished || before(Next!))
                return;
            Go();
        }
    }

    public async Task<T> Run<T>(Func<Task<T>> operation)
    {
        try
        {
            return await Task.Run(operation);
        }
        finally
        {
            lock (gate)
            {
                Finished = true;
                Next = null;
                arrival.TrySetResult();
            }
        }
    }

    static TaskCompletionSource New() => new(TaskCreationOptions.RunContinuationsAsynchronously);

    Task Wait(string step, DbConnection? connection)
    {
        lock (gate)
        {
            Pid = (connection as NpgsqlConnection)?.ProcessID;
            Next = step;
            go = New();
            arrival.TrySetResult();
            return go.Task;
        }
    }

    public async ValueTask<InterceptionResult<DbDataReader>> ReaderExecutingAsync(DbCommand command, CommandEventData eventData, InterceptionResult<DbDataReader> result, CancellationToken cancellationToken = default)
    {
        await Wait(command.CommandText, command.Connection);
        return result;
    }

    public async ValueTask<InterceptionResult<int>> NonQueryExecutingAsync(DbCommand command, CommandEventData eventData, InterceptionResult<int> result, CancellationToken cancellationToken = default)
    {
        await Wait(command.CommandText, command.Connection);
        return result;
    }

    public async ValueTask<InterceptionResult<object>> ScalarExecutingAsync(DbCommand command, CommandEventData eventData, InterceptionResult<object> result, CancellationToken cancellationToken = default)
    {
        await Wait(command.CommandText, command.Connection);
        return result;
    }
}

/// <summary>Contexts as the app has them, except that each step waits for its turn.</summary>
sealed class TakingTurns(string connectionString, Side side) : IDbContextFactory<KitOrdersDb>
{
    public KitOrdersDb CreateDbContext()
    {
        var options = new DbContextOptionsBuilder<KitOrdersDb>();
        DbSetup.Use(options, connectionString);
        options.AddInterceptors(side);
        return new KitOrdersDb(options.Options);
    }}
