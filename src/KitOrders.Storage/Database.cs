using KitOrders.Storage.Private;
using Microsoft.Extensions.Logging;
using Npgsql;

namespace KitOrders.Storage;

/// <summary>A database that is ready, and its private server's life where it has one.</summary>
public sealed class Database : IAsyncDisposable
{
    static readonly TimeSpan Glance = TimeSpan.FromSeconds(1);
    static readonly TimeSpan AfterFailure = TimeSpan.FromSeconds(10);

    readonly PrivateCluster? cluster;
    readonly CancellationTokenSource stopping = new();
    readonly Task watch = Task.CompletedTask;
    bool stopped;

    internal Database(string ownerConnectionString, string appConnectionString)
    {
        OwnerConnectionString = ownerConnectionString;
        AppConnectionString = appConnectionString;
    }

    internal Database(string ownerConnectionString, string appConnectionString, PrivateCluster cluster, ILogger log)
        : this(ownerConnectionString, appConnectionString)
    {
        this.cluster = cluster;
        watch = Task.Run(() => KeepAlive(cluster, log, stopping.Token));
    }

    /// <summary>For migrations and backup; not pooled.</summary>
    public string OwnerConnectionString { get; }

    /// <summary>For everything the app does.</summary>
    public string AppConnectionString { get; }

    public bool IsPrivate => cluster is not null;

    /// <summary>The private server's folder: data, log, what was set aside.</summary>
    public string? Folder => cluster?.Home.Folder;

    /// <summary>The folder of PostgreSQL's programs that fit the private server (pg_dump, pg_restore).</summary>
    public string? ProgramsFolder => cluster?.Programs.Folder;

    /// <summary>Where a fresh start put the earlier data.</summary>
    public string? SetAside { get; init; }

    /// <summary>Whether the app's role can ask it something now.</summary>
    public async Task<bool> Answers(CancellationToken cancel)
    {
        try
        {
            // Not from the pool: the question is whether a newcomer gets in.
            var newcomer = new NpgsqlConnectionStringBuilder(AppConnectionString) { Pooling = false, Timeout = 5 };
            await using var connection = new NpgsqlConnection(newcomer.ConnectionString);
            await connection.OpenAsync(cancel);
            await using var command = new NpgsqlCommand("SELECT 1", connection);
            return await command.ExecuteScalarAsync(cancel) is 1;
        }
        catch (NpgsqlException)
        {
            return false;
        }
    }

    /// <summary>Leaves the address where a second app on the same data finds it.</summary>
    public Task Announce(string address, CancellationToken cancel) => cluster?.Announce(address, cancel) ?? Task.CompletedTask;

    /// <summary>Stops the private server. Dispose of every data source first: the server cuts what is still open.</summary>
    public async Task Stop()
    {
        if (stopped)
        {
            return;
        }

        stopped = true;
        await stopping.CancelAsync();
        await watch;
        if (cluster is not null)
        {
            NpgsqlConnection.ClearAllPools();
            await cluster.Stop();
        }
    }

    public async ValueTask DisposeAsync()
    {
        await Stop();
        stopping.Dispose();
    }

    /// <summary>Starts the private server again when it dies under the app; people's next click then works.</summary>
    static async Task KeepAlive(PrivateCluster cluster, ILogger log, CancellationToken cancel)
    {
        var pause = Glance;
        try
        {
            while (true)
            {
                await Task.Delay(pause, cancel);
                pause = cluster.IsAlive || await Revive(cluster, log, cancel) ? Glance : AfterFailure;
            }
        }
        catch (OperationCanceledException)
        {
            // The app is stopping.
        }
    }

    static async Task<bool> Revive(PrivateCluster cluster, ILogger log, CancellationToken cancel)
    {
        log.LogWarning("The private PostgreSQL server is gone. Starting it again.");
        try
        {
            var started = await cluster.Start(cancel);
            if (started.IsDone)
            {
                log.LogWarning("The private PostgreSQL server runs again.");
                return true;
            }

            log.LogError("{Sentence}", started.Refusal!.Sentence);
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            log.LogError(e, "The private PostgreSQL server could not be started again.");
        }

        return false;
    }
}
