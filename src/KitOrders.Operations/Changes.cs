using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Npgsql;

namespace KitOrders.Operations;

/// <summary>
/// Hears what was committed, by whichever instance, and tells whoever looks at it: "order:10001", "part:30-11". One
/// connection waits for all screens of this instance. After a broken line it says <see cref="Everything"/>, because what was
/// said meanwhile is lost.
/// </summary>
public sealed partial class Changes(IServiceProvider services, ILogger<Changes> log) : BackgroundService
{
    /// <summary>Stands for any change at all.</summary>
    public const string Everything = "*";

    static readonly TimeSpan pause = TimeSpan.FromSeconds(2);

    readonly Lock gate = new();
    readonly List<Action<IReadOnlyList<string>>> listeners = [];

    /// <summary>Tells the listener of every change until it is disposed of. Called on another thread than the screen's.</summary>
    public IDisposable Hear(Action<IReadOnlyList<string>> listener)
    {
        lock (gate)
            listeners.Add(listener);
        return new Leave(this, listener);
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var again = false;
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await Listen(again, stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (Exception e) when (e is NpgsqlException or InvalidOperationException or System.Net.Sockets.SocketException or System.IO.IOException)
            {
                LineLost(log, e.Message);
                again = true;
                await Task.Delay(pause, stoppingToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
        }
    }

    async Task Listen(bool again, CancellationToken ct)
    {
        var factory = (IDbContextFactory<KitOrdersDb>)services.GetService(typeof(IDbContextFactory<KitOrdersDb>))!;
        await using var db = await factory.CreateDbContextAsync(ct);
        await db.Database.OpenConnectionAsync(ct);
        var connection = (NpgsqlConnection)db.Database.GetDbConnection();
        connection.Notification += (_, e) => Tell(e.Payload.Split('\n', StringSplitOptions.RemoveEmptyEntries));
        await db.Database.ExecuteSqlRawAsync("listen kitorders", ct);
        if (again)
            Tell([Everything]);
        while (true)
            await connection.WaitAsync(ct);
    }

    internal void Tell(IReadOnlyList<string> changed)
    {
        Action<IReadOnlyList<string>>[] now;
        lock (gate)
            now = [.. listeners];
        foreach (var listener in now)
        {
            try
            {
                listener(changed);
            }
#pragma warning disable CA1031 // One screen that fails must not keep the others from hearing.
            catch (Exception e)
#pragma warning restore CA1031
            {
                ListenerFailed(log, e);
            }
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "The line on which changes are heard broke ({Why}); it is taken up again.")]
    static partial void LineLost(ILogger log, string why);

    [LoggerMessage(Level = LogLevel.Error, Message = "A screen failed while it was told of a change")]
    static partial void ListenerFailed(ILogger log, Exception e);

    sealed class Leave(Changes changes, Action<IReadOnlyList<string>> listener) : IDisposable
    {
        public void Dispose()
        {
            lock (changes.gate)
                changes.listeners.Remove(listener);
        }
    }
}
