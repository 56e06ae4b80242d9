using System.Data;
using System.Diagnostics;
using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <param name="Broken">What breaks it, in words; empty when it holds. At most a hundred are named.</param>
public sealed record TruthCheck(string Check, bool Holds, IReadOnlyList<string> Broken);

/// <summary>A row that breaks a check, in words, and what it is about where that has a page of its own.</summary>
public sealed record BrokenRow(string Sentence, string? Part, string? Bin, string? Order);

/// <param name="Compared">How many rows were looked at.</param>
/// <param name="BrokenRows">How many of them break it.</param>
/// <param name="Broken">Those that are named, at most a hundred.</param>
public sealed record TruthFinding(string Check, long Compared, long BrokenRows, IReadOnlyList<BrokenRow> Broken, TimeSpan Took)
{
    public bool Holds => BrokenRows == 0;
}

/// <summary>
/// What must be true of stock at every commit, asked of the rows themselves. All checks see one moment: they run in one
/// transaction that can only read and holds up nobody.
/// </summary>
public sealed class StockTruth(Desk desk)
{
    public const int MostNamed = 100;

    /// <summary>For stock of any size; whoever asked may stop it before.</summary>
    static readonly TimeSpan longest = TimeSpan.FromMinutes(30);

    /// <summary>The checks by name, in the order in which they run.</summary>
    public static IReadOnlyList<string> Checks { get; } = [.. TruthQueries.All.Select(q => q.Check)];

    public Task<IReadOnlyList<TruthCheck>> Read(CancellationToken ct) => desk.Read<IReadOnlyList<TruthCheck>>(async reading =>
    {
        var found = new List<TruthCheck>();
        await Run(reading.Db, finding =>
        {
            found.Add(new TruthCheck(finding.Check, finding.Holds, [.. finding.Broken.Select(b => b.Sentence)]));
            return Task.CompletedTask;
        }, ct);
        return found;
    }, ct);

    /// <summary>Runs every check and tells of each as soon as it has ended. Cancelling stops the statement that runs.</summary>
    /// <returns>How many rows break something; refused to all but administrators.</returns>
    public Task<Outcome<long>> Examine(Actor actor, Func<TruthFinding, Task> found, CancellationToken ct) =>
        desk.Read<long>(actor, Roles.Administrator, async reading =>
        {
            var broken = 0L;
            await Run(reading.Db, async finding =>
            {
                broken += finding.BrokenRows;
                await found(finding);
            }, ct);
            return broken;
        }, ct);

    static async Task Run(KitOrdersDb db, Func<TruthFinding, Task> found, CancellationToken ct)
    {
        db.Database.SetCommandTimeout(longest);
        await using var transaction = await db.Database.BeginTransactionAsync(IsolationLevel.RepeatableRead, ct);
        await db.Database.ExecuteSqlAsync($"set transaction read only", ct);
        foreach (var query in TruthQueries.All)
        {
            var begun = Stopwatch.GetTimestamp();
            var counted = await db.Database.SqlQueryRaw<Counted>(query.Count).SingleAsync(ct);
            IReadOnlyList<BrokenRow> named = counted.Broken == 0 ? [] : await db.Database.SqlQueryRaw<BrokenRow>(query.Name(MostNamed)).ToListAsync(ct);
            await found(new TruthFinding(query.Check, counted.Compared, counted.Broken, named, Stopwatch.GetElapsedTime(begun)));
        }
    }

    sealed record Counted(long Compared, long Broken);
}
