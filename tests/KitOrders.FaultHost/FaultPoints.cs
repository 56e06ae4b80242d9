using System.Diagnostics;
using System.Text.RegularExpressions;
using KitOrders.TestWire;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;

namespace KitOrders.FaultHost;

/// <summary>
/// The points at which the program ends itself as kill -9 would, and a planted fault. A test arms one over HTTP when the
/// program is ready: POST /fault/{point}/{n} means the n-th time from now.
/// </summary>
sealed partial class FaultPoints : IDisposable
{
    public const string AfterBegin = "after-begin", AfterEffect = "after-effect", BeforeCommit = "before-commit", AfterCommit = "after-commit";

    /// <summary>Not an end: from then on the program is told that it has committed and the server never hears of it.</summary>
    public const string CommitNever = "commit-never";

    static readonly string[] known = [AfterBegin, AfterEffect, BeforeCommit, AfterCommit, CommitNever];

    readonly Lock gate = new();
    Wire? wire;
    string? armed;
    int left;

    public string Through(string connectionString)
    {
        wire = new Wire(connectionString) { Before = Before, After = After };
        return wire.ConnectionString;
    }

    public void Map(WebApplication app) => app.MapPost("/fault/{point}/{times:int}", (string point, int times) =>
    {
        if (!known.Contains(point) || times < 1)
            return Results.BadRequest($"There are {string.Join(", ", known)}.");
        lock (gate)
            (armed, left) = (point, times);
        return Results.Ok();
    }).AllowAnonymous();

    public void Dispose() => wire?.Dispose();

    Task<Then> Before(Exchange exchange)
    {
        if (!exchange.Is("COMMIT"))
            return Task.FromResult(Then.Go);
        if (armed == CommitNever && !exchange.Rewrite(_ => "ROLLBACK"))
            throw new InvalidOperationException("There was no commit to plant the fault in.");
        return IsTime(BeforeCommit) ? End() : Task.FromResult(Then.Go);
    }

    Task<Then> After(Exchange exchange) =>
        exchange.Is("BEGIN") && IsTime(AfterBegin)
        || exchange.Statements.Any(s => Effect().IsMatch(s)) && IsTime(AfterEffect)
        || exchange.Is("COMMIT") && IsTime(AfterCommit) ? End() : Task.FromResult(Then.Go);

    bool IsTime(string point)
    {
        lock (gate)
            return armed == point && --left == 0;
    }

    /// <summary>Nothing is said to anybody any more.</summary>
    static async Task<Then> End()
    {
        using var self = Process.GetCurrentProcess();
        self.Kill();
        await Task.Delay(Timeout.Infinite);
        return Then.Cut;
    }

    /// <summary>A statement that changes what the command is about; the note of the command itself is none.</summary>
    [GeneratedRegex(@"\b(insert\s+into|update)\s+""?(bin_stock|reservation|demand_line|movement|work_order|lot|audit)\b", RegexOptions.IgnoreCase)]
    private static partial Regex Effect();
}
