using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.TestWire;
using Npgsql;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Faults;

/// <summary>
/// The checks of stock, commands and contention, run on one copy of the plant and answering in sentences what they find wrong.
/// A fault may be planted in what the product says to the server; then they must find it.
/// </summary>
sealed class Examination : IAsyncDisposable
{
    readonly FreshDatabase database;
    readonly PlantNames names;
    readonly Digest digest;
    readonly List<string> problems = [];
    Wire first;
    readonly Wire second;
    readonly Func<Exchange, Then?> fault;
    int planted;

    Examination(FreshDatabase database, PlantNames names, Digest digest, Func<Exchange, Then?> fault, bool inSecondOnly)
    {
        this.database = database;
        this.names = names;
        this.digest = digest;
        this.fault = fault;
        first = Listening(database, inSecondOnly ? _ => null : Plant);
        second = Listening(database, Plant);
    }

    /// <summary>How often the fault was put in.</summary>
    public int Planted => planted;

    /// <param name="fault">Answers what happens to an exchange in which it was planted, and null where it does not belong.</param>
    public static async Task<Examination> Of(FaultPlant plant, Func<Exchange, Then?> fault, bool inSecondOnly = false)
    {
        var database = await plant.Copy();
        return new Examination(database, plant.Names, await Digest.Of(database), fault, inSecondOnly);
    }

    /// <summary>A receipt that covers a shortage, a pick and a return: each once, whole, told, and there when it is acknowledged.</summary>
    public async Task<IReadOnlyList<string>> Commands()
    {
        foreach (var operation in new[] { "ReceiveLot.Run", "PickLines.Run", "ReturnStock.Run" })
        {
            var call = WriteCalls.All.Single(c => c.Key == operation).Value;
            var key = new CommandKey(operation, "a body of our own");
            await NothingWithoutItsCommit(operation, call, key);
            var told = await Count("select count(*) from audit");
            var said = await Run(call, key);
            StartAgain();
            if (!said.Done)
                problems.Add($"{operation} was refused: {said.Words}");
            if (await Count($"select count(*) from command where key = '{operation}' and answer is not null") != 1)
                problems.Add($"{operation} was acknowledged and is not there");
            if (await Count("select count(*) from audit") == told)
                problems.Add($"{operation} left nothing in the trail");
            var before = await digest.Whole();
            var again = await Run(call, key);
            if (again != said)
                problems.Add($"{operation} once more answered {again} and not {said}");
            if (await digest.Whole() is var after && after != before)
                problems.Add($"{operation} once more changed {Digest.Difference(before, after)}");
        }
        await Truth();
        return problems;
    }

    /// <summary>Two orders want the last piece and the first holds still with its locks taken: one gets it, the other is short.</summary>
    public async Task<IReadOnlyList<string>> LastPieceWhileTheFirstHolds()
    {
        var other = await AnotherDraft();
        var halted = Halt(first, before: false);
        var one = Open(first, names.Draft);
        await halted.Reached;
        var two = Open(second, other);
        await UntilWaiting(1, two);
        halted.GoOn();
        await OneGetsIt(await one, await two, other);
        return problems;
    }

    /// <summary>Two orders want the last piece and the second gets it between the first one's beginning and its locks.</summary>
    public async Task<IReadOnlyList<string>> LastPieceBeforeTheFirstLocks()
    {
        var other = await AnotherDraft();
        var halted = Halt(second, before: true);
        var two = Open(second, other);
        await halted.Reached;
        var one = await Open(first, names.Draft);
        halted.GoOn();
        await OneGetsIt(one, await two, other);
        return problems;
    }

    /// <summary>Two orders lock the same parts while somebody holds the last of them: they queue up and do not hold each other.</summary>
    public async Task<IReadOnlyList<string>> TwoThatLockTheSameParts()
    {
        var other = await AnotherDraft();
        await using var third = new NpgsqlConnection(database.OwnerConnectionString);
        await third.OpenAsync(Ct);
        await using var holding = await third.BeginTransactionAsync(Ct);
        await using (var hold = new NpgsqlCommand("select 1 from part_stock s join part p on p.id = s.part_id where p.number in ('K','V','B','C','S','P','E') order by part_id desc limit 1 for update of s", third))
            await hold.ExecuteNonQueryAsync(Ct);
        var two = Open(second, other);
        await UntilWaiting(1, two);
        var one = Open(first, names.Draft);
        await UntilWaiting(2, one);
        await holding.RollbackAsync(Ct);
        await OneGetsIt(await one, await two, other);
        return problems;
    }

    /// <summary>The program has gone and come again: what was on its way is lost, its connections are new.</summary>
    void StartAgain()
    {
        first.Dispose();
        first = Listening(database, Plant);
    }

    async Task<Said> Run(WriteCall call, CommandKey key)
    {
        try
        {
            return await call.Run(DeskOn(first), names, key);
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            return new Said(false, $"{e.GetType().Name}: {e.Message}");
        }
    }

    async Task NothingWithoutItsCommit(string operation, WriteCall call, CommandKey key)
    {
        var before = await digest.Whole();
        var undisturbed = first.Before;
        first.Before = async exchange => exchange.Is("COMMIT") ? Then.Cut : await undisturbed(exchange);
        _ = await Record.ExceptionAsync(() => call.Run(DeskOn(first), names, key));
        first.Before = undisturbed;
        if (await digest.Whole() is var after && after != before)
            problems.Add($"{operation} changed {Digest.Difference(before, after)} without its commit");
    }

    async Task OneGetsIt(Said one, Said two, string other)
    {
        foreach (var said in new[] { one, two }.Where(s => !s.Done))
            problems.Add($"one of two who wanted the last piece was refused: {said.Words}");
        var got = await Rows($"""
            select o.number || ' holds ' || d.reserved || ' and lacks ' || d.short from demand_line d
            join work_order o on o.id = d.order_id join part p on p.id = d.part_id where p.number = 'S' and o.number in ('{names.Draft}', '{other}')
            """);
        if (got.Count != 2 || got.Count(g => g.Contains("holds 1", StringComparison.Ordinal)) != 1)
            problems.Add($"the last piece: {string.Join(", ", got)}");
        await Truth();
    }

    async Task Truth()
    {
        var desk = new Desk(database.Contexts(), Clock);
        problems.AddRange((await new StockTruth(desk).Read(Ct)).Where(c => !c.Holds).Select(c => $"{c.Check}: {c.Broken[0]}"));
        problems.AddRange(await Rows("""
            select format('order %s waits for %s beside %s free', o.number, p.number, s.on_hand - s.reserved)
            from demand_line d join work_order o on o.id = d.order_id join part p on p.id = d.part_id
            join bin_stock s on s.part_id = d.part_id and s.on_hand > s.reserved join lot l on l.id = s.lot_id
            where d.short > 0 and d.released_by_id is null and o.state in ('open', 'staged', 'underway') and l.quarantine is null
              and l.expires_on >= coalesce(o.planned_fit_on, o.needed_by)
            """));
    }

    async Task<string> AnotherDraft() =>
        Must(await new CreateOrder(new Desk(database.Contexts(), Clock)).Run(new Call(names.Planner), new NewOrder("P-12", "CONV", Today.AddDays(10), 5), Ct));

    Task<Said> Open(Wire wire, string number) => Said.Of(new OpenOrder(DeskOn(wire)).Run(new Call(names.Planner), number, Ct));

    static Desk DeskOn(Wire wire) => new(FreshDatabase.Contexts(wire.ConnectionString), Clock);

    static Imports.StoppedClock Clock => new(new DateTimeOffset(2026, 3, 2, 12, 0, 0, TimeSpan.Zero));

    /// <summary>Holds the first exchange in which parts are locked, before the server hears of it or after it has answered.</summary>
    static (Task Reached, Action GoOn) Halt(Wire wire, bool before)
    {
        var reached = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var goOn = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var undisturbed = before ? wire.Before : wire.After;
        async Task<Then> Hold(Exchange exchange)
        {
            if (exchange.Says("part_stock") && reached.TrySetResult())
                await goOn.Task;
            return await undisturbed(exchange);
        }
        if (before)
            wire.Before = Hold;
        else
            wire.After = Hold;
        return (reached.Task, () => goOn.SetResult());
    }

    /// <summary>Until so many wait for a lock, or the one that might wait has ended without.</summary>
    async Task UntilWaiting(int many, Task<Said> mightWait)
    {
        while (!mightWait.IsCompleted && await Count("select count(*) from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock'") < many)
            await Task.Delay(5, Ct);
    }

    Wire Listening(FreshDatabase on, Func<Exchange, Then?> plant) => new(on.AppConnectionString)
    {
        Before = exchange => Task.FromResult(plant(exchange) ?? Then.Go),
        After = exchange =>
        {
            foreach (var state in exchange.Answered.Select(m => m.SqlState).OfType<string>())
                problems.Add($"the server had to say {state}");
            return Task.FromResult(Then.Go);
        },
    };

    Then? Plant(Exchange exchange)
    {
        var then = fault(exchange);
        if (then is not null)
            Interlocked.Increment(ref planted);
        return then;
    }

    async Task<long> Count(string question) => long.Parse((await Rows($"select ({question})::text"))[0], null);

    async Task<List<string>> Rows(string statement)
    {
        await using var connection = new NpgsqlConnection(database.OwnerConnectionString);
        await connection.OpenAsync(Ct);
#pragma warning disable CA2100 // Statements of our own; what stands in them was made here.
        await using var command = new NpgsqlCommand(statement, connection);
#pragma warning restore CA2100
        await using var reader = await command.ExecuteReaderAsync(Ct);
        var rows = new List<string>();
        while (await reader.ReadAsync(Ct))
            rows.Add(reader.GetString(0));
        return rows;
    }

    public async ValueTask DisposeAsync()
    {
        await digest.DisposeAsync();
        first.Dispose();
        second.Dispose();
        await database.DisposeAsync();
    }
}
