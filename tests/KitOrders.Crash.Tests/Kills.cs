using System.Globalization;
using System.Text.Json.Nodes;
using KitOrders.FaultHost;
using Xunit;

namespace KitOrders.Crash.Tests;

/// <summary>What is killed, and when.</summary>
enum Kill
{
    /// <summary>The program, at a moment drawn at random.</summary>
    Program,
    AfterBegin,
    AfterEffect,
    BeforeCommit,
    AfterCommit,

    /// <summary>The first process of the database server.</summary>
    Server,

    /// <summary>One of the server's sessions with the program.</summary>
    Session,
}

/// <summary>Clients at work on one plant, and one kill after another.</summary>
sealed class Kills : IAsyncDisposable
{
    const int Clients = 4;

    readonly KilledApp app;
    readonly Book book = new();
    readonly Random random;
    readonly int seed;
    int round;

    Kills(KilledApp app, int seed)
    {
        this.app = app;
        this.seed = seed;
        random = new Random(seed);
    }

    /// <summary>Given by KITORDERS_SEED to draw the same once more; the machine's own timing is drawn by nobody.</summary>
    public static int Seed => int.TryParse(Environment.GetEnvironmentVariable("KITORDERS_SEED"), NumberStyles.Integer, CultureInfo.InvariantCulture, out var given)
        ? given : Random.Shared.Next(1_000_000);

    public static async Task<Kills> Begin(int seed, Kill first)
    {
        Console.WriteLine($"  kills: seed {seed}");
        var app = await KilledApp.Start(ProgramFor(first));
        using var http = app.Client();
        foreach (var (file, csv) in CrashPlant.Files)
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, $"/api/imports/{file}") { Content = new StringContent(csv) };
            request.Headers.Add("Idempotency-Key", $"import {file}");
            using var answer = await http.SendAsync(request);
            var text = await answer.Content.ReadAsStringAsync();
            Assert.True(answer.IsSuccessStatusCode && text.Contains("\"errors\":[]", StringComparison.Ordinal), $"{file}: {text}");
        }
        return new Kills(app, seed);
    }

    /// <summary>Lets the clients work, kills, starts again where needed, and answers what is wrong afterwards.</summary>
    /// <param name="next">The kill that comes after it, for which the program has to be the right one.</param>
    public async Task<IReadOnlyList<string>> Round(Kill kill, Kill? next)
    {
        round++;
        var before = book.Sent.Count;
        using var stop = new CancellationTokenSource();
        var named = PointOf(kill);
        // The kill before was of the server: the program that ran goes on, and may be the one without the points.
        if (app.Program != ProgramFor(kill) && named is not null)
            await StartAgain(kill);
        if (named is not null)
            await Arm(named, kill is Kill.AfterEffect ? random.Next(1, 40) : random.Next(1, 15));
        var work = Task.WhenAll(Enumerable.Range(1, Clients).Select(n => new Client($"r{round}c{n}", (seed * 1000) + (round * 10) + n, app, book).Work(stop.Token)));
        if (named is null)
            await Sending(before + random.Next(10, 60));
        switch (kill)
        {
            case Kill.Server:
                await app.KillServer();
                break;
            case Kill.Session:
                await app.KillSession(random);
                break;
            case Kill.Program:
                await app.Kill();
                break;
            default:
                await app.HasEnded();
                break;
        }
        await stop.CancelAsync();
        await work;
        if (kill is not (Kill.Server or Kill.Session))
            await Launch(next ?? kill);
        var problems = await book.Problems(app);
        problems.AddRange(await book.Repeat(app, book.Sent.Skip(before)));
        problems.AddRange(await book.Problems(app));
        return [.. problems.Distinct().Select(p => $"seed {seed}, kill {round} ({kill}): {p}")];
    }

    async Task StartAgain(Kill kill)
    {
        await app.Kill();
        await Launch(kill);
    }

    async Task Launch(Kill kill)
    {
        var killedAt = DateTimeOffset.UtcNow;
        await app.Launch(ProgramFor(kill));
        await app.LeftoversHaveEnded(killedAt);
    }

    /// <summary>All kills one after another.</summary>
    public async Task Survive(IReadOnlyList<Kill> kills)
    {
        for (var n = 0; n < kills.Count; n++)
            Assert.Empty(await Round(kills[n], n + 1 < kills.Count ? kills[n + 1] : null));
        Assert.Empty(await book.Repeat(app, book.Sent.Where(c => c.Answer is { Done: true }).OrderBy(_ => random.Next()).Take(200).ToList()));
        Assert.Empty(await book.Problems(app));
        var done = book.Sent.Where(c => c.Answer is { Done: true }).CountBy(c => c.Operation).ToList();
        Console.WriteLine($"  kills: {kills.Count} survived, {done.Sum(d => d.Value)} commands done: {string.Join(", ", done.Select(d => $"{d.Key} {d.Value}"))}");
        Assert.True(done.Count >= 5, "The clients did too little for the kills to mean anything.");
    }

    /// <summary>Until so many commands were sent, and a moment more.</summary>
    async Task Sending(int commands)
    {
        using var hang = new CancellationTokenSource(TimeSpan.FromMinutes(3));
        while (book.Sent.Count < commands)
            await Task.Delay(2, hang.Token);
        await Task.Delay(random.Next(12), CancellationToken.None);
    }

    /// <summary>One command more, beside those of the clients; it must be acknowledged.</summary>
    public async Task Receive(string key)
    {
        var command = new Sent(key, "receive-lot", "/api/receipts", new JsonObject { ["part"] = "PLUG", ["quantity"] = 3, ["bin"] = "A-01", ["lot"] = key })
        {
            Changes = [("PLUG", 3)],
        };
        using var http = app.Client();
        command.Answer = await command.Send(http);
        Assert.True(command.Answer.Done, $"{command.Answer}");
        book.Sent.Enqueue(command);
    }

    public async Task Arm(string point, int times)
    {
        using var http = app.Client();
        using var armed = await http.PostAsync(new Uri($"/fault/{point}/{times}", UriKind.Relative), null);
        armed.EnsureSuccessStatusCode();
    }

    public ValueTask DisposeAsync() => app.DisposeAsync();

    static string ProgramFor(Kill kill) => PointOf(kill) is null ? KilledApp.AsShipped : KilledApp.WithPoints;

    static string? PointOf(Kill kill) => kill switch
    {
        Kill.AfterBegin => FaultPoints.AfterBegin,
        Kill.AfterEffect => FaultPoints.AfterEffect,
        Kill.BeforeCommit => FaultPoints.BeforeCommit,
        Kill.AfterCommit => FaultPoints.AfterCommit,
        _ => null,
    };
}
