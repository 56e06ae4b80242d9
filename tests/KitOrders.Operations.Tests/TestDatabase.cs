using System.Globalization;
using KitOrders.Operations.Tests;
using KitOrders.Storage;
using KitOrders.Storage.Private;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using Xunit;

[assembly: AssemblyFixture(typeof(TestDatabase))]

namespace KitOrders.Operations.Tests;

/// <summary>
/// One throw-away PostgreSQL server for the whole run, migrated and granted once by the product's own steps. Each test asks
/// for a database of its own, copied from that, and works as the app's role like the app does.
/// </summary>
public sealed class TestDatabase : IAsyncLifetime
{
    const string Template = "migrated";
    static readonly string Prefix = Path.Combine(Path.GetTempPath(), "kitorders-tests-");

    readonly string folder = $"{Prefix}{Environment.ProcessId}";
    PrivateCluster? cluster;
    int made;

    internal PrivateCluster Cluster => cluster ?? throw new InvalidOperationException("The run has not begun.");

    public async ValueTask InitializeAsync()
    {
        await ClearLeftovers();
        // The account that root lends the server to has to get in.
        Directory.CreateDirectory(folder, (UnixFileMode)0b111_101_101);
        cluster = (await PrivateCluster.Hold(new ClusterSettings(folder) { Durable = false, MaxConnections = 200 }, CancellationToken.None)).Value;
        _ = (await cluster.Start(CancellationToken.None)).Value;
        await AsOwner("postgres", $"CREATE DATABASE {Template} ENCODING 'UTF8' TEMPLATE template0");
        var owner = Owner(Template);
        await Grants.EnsureRole(owner, Start.AppRole, password: null, CancellationToken.None);
        await KitOrdersSchema.Schema.Migrate(owner, CancellationToken.None);
        await Grants.Apply(owner, Start.AppRole, KitOrdersSchema.Schema.Grants, CancellationToken.None);
    }

    /// <summary>A new, empty, migrated database; disposing of it drops it.</summary>
    public Task<FreshDatabase> Fresh() => CopyOf(Template);

    /// <summary>A new database with all that another one holds, to which nobody is connected any more.</summary>
    public async Task<FreshDatabase> Copy(FreshDatabase original)
    {
        await using (var pooled = new NpgsqlConnection(DbSetup.Tuned(original.AppConnectionString)))
        {
            NpgsqlConnection.ClearPool(pooled);
        }

        return await CopyOf(original.Name);
    }

    async Task<FreshDatabase> CopyOf(string original)
    {
        var name = "t" + Interlocked.Increment(ref made).ToString(CultureInfo.InvariantCulture);
        await AsOwner("postgres", $"CREATE DATABASE {name} TEMPLATE {original} STRATEGY FILE_COPY");
        return new FreshDatabase(name, Owner(name), Cluster.ConnectionString(Start.AppRole, name), () => Drop(name));
    }

    public async ValueTask DisposeAsync()
    {
        NpgsqlConnection.ClearAllPools();
        if (cluster is not null)
        {
            await cluster.Stop();
        }

        Directory.Delete(folder, recursive: true);
    }

    string Owner(string database) =>
        new NpgsqlConnectionStringBuilder(Cluster.ConnectionString(PrivateCluster.OwnerRole, database)) { Pooling = false }.ConnectionString;

    async Task Drop(string name)
    {
        await using (var pooled = new NpgsqlConnection(DbSetup.Tuned(Cluster.ConnectionString(Start.AppRole, name))))
        {
            NpgsqlConnection.ClearPool(pooled);
        }

        await AsOwner("postgres", $"DROP DATABASE {name} WITH (FORCE)");
    }

    async Task AsOwner(string database, string statement)
    {
        await using var connection = new NpgsqlConnection(Owner(database));
        await connection.OpenAsync();
        await Grants.Execute(connection, statement, CancellationToken.None);
    }

    /// <summary>Runs that were killed leave a server behind; the next run clears it away.</summary>
    static async Task ClearLeftovers()
    {
        foreach (var left in Directory.EnumerateDirectories(Path.GetTempPath(), Path.GetFileName(Prefix) + "*"))
        {
            if (int.TryParse(left[Prefix.Length..], NumberStyles.None, CultureInfo.InvariantCulture, out var id) && !Directory.Exists($"/proc/{id}"))
            {
                try
                {
                    var cleared = await PrivateCluster.Hold(new ClusterSettings(left), CancellationToken.None);
                    if (cleared.IsDone)
                    {
                        _ = await cleared.Value.SetAside(CancellationToken.None);
                        await cleared.Value.DisposeAsync();
                        Directory.Delete(left, recursive: true);
                    }
                }
                catch (Exception e) when (e is IOException or UnauthorizedAccessException)
                {
                    // Another run clears it at the same time, or it belongs to somebody else.
                }
            }
        }
    }
}

/// <summary>One test's database.</summary>
public sealed class FreshDatabase : IAsyncDisposable
{
    readonly Func<Task> drop;

    internal FreshDatabase(string name, string owner, string app, Func<Task> drop)
    {
        Name = name;
        OwnerConnectionString = owner;
        AppConnectionString = app;
        this.drop = drop;
    }

    public string Name { get; }

    /// <summary>The superuser's, for arranging what the app may not do.</summary>
    public string OwnerConnectionString { get; }

    /// <summary>The role the app works as.</summary>
    public string AppConnectionString { get; }

    /// <summary>A context as the app has it; the caller disposes of it.</summary>
    internal KitOrdersDb Context() => new(Options(AppConnectionString));

    /// <summary>For operations, which take a context each.</summary>
    internal IDbContextFactory<KitOrdersDb> Contexts() => new ContextFactory(Options(AppConnectionString));

    /// <summary>As <see cref="Contexts()"/>, by way of something that stands before the server.</summary>
    internal static IDbContextFactory<KitOrdersDb> Contexts(string connectionString) => new ContextFactory(Options(connectionString));

    public async ValueTask DisposeAsync() => await drop();

    static DbContextOptions<KitOrdersDb> Options(string connectionString)
    {
        var options = new DbContextOptionsBuilder<KitOrdersDb>();
        DbSetup.Use(options, connectionString);
        return options.Options;
    }

    sealed class ContextFactory(DbContextOptions<KitOrdersDb> options) : IDbContextFactory<KitOrdersDb>
    {
        public KitOrdersDb CreateDbContext() => new(options);
    }
}
