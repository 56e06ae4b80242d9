using KitOrders.Storage;
using KitOrders.Storage.Private;
using Npgsql;

namespace KitOrders.Benchmarks;

/// <summary>A private server as the product makes it, of which databases are filled, copied and measured.</summary>
sealed class Machine : IAsyncDisposable
{
    readonly PrivateCluster cluster;
    readonly string folder;
    readonly bool keep;

    Machine(PrivateCluster cluster, string folder, bool keep)
    {
        this.cluster = cluster;
        this.folder = folder;
        this.keep = keep;
    }

    /// <summary>The process whose children serve the connections.</summary>
    public int Postmaster => Storage.Private.Postmaster.Read(cluster.Home.Data)!.Id;

    public string Programs => cluster.Programs.Folder;

    /// <param name="kept">A folder that stays, with what was filled; without one everything goes at the end.</param>
    public static async Task<Machine> Start(string? kept)
    {
        var folder = kept is null ? Path.Combine(Path.GetTempPath(), $"kitorders-speed-{Environment.ProcessId}") : Path.GetFullPath(kept);
        // The account that root lends the server to has to get in.
        Directory.CreateDirectory(folder, (UnixFileMode)0b111_101_101);
        // As the app makes it, with room for the product's clients beside the floor's.
        var cluster = (await PrivateCluster.Hold(new ClusterSettings(folder) { MaxConnections = 120 }, CancellationToken.None)).Value;
        _ = (await cluster.Start(CancellationToken.None)).Value;
        return new Machine(cluster, folder, kept is not null);
    }

    public string App(string database) => cluster.ConnectionString(Storage.Start.AppRole, database);

    public string Owner(string database) =>
        new NpgsqlConnectionStringBuilder(cluster.ConnectionString(PrivateCluster.OwnerRole, database)) { Pooling = false, CommandTimeout = 0 }.ConnectionString;

    /// <summary>A filled database to work on. The filled one itself is copied where it is to be kept, and made first where there is none.</summary>
    public async Task<string> Filled(Size size)
    {
        var (template, name) = ("filled_" + size.Name, "run_" + size.Name);
        if (await Sql.One<long>(Owner("postgres"), $"select count(*) from pg_database where datname = '{template}'") == 0)
        {
            // Filled under another name, so that half a database is never taken for a whole one.
            await Sql.Run(Owner("postgres"), $"drop database if exists {name} with (force)", $"create database {name} encoding 'UTF8' template template0");
            await Grants.EnsureRole(Owner(name), Storage.Start.AppRole, password: null, CancellationToken.None);
            await KitOrdersSchema.Schema.Migrate(Owner(name), CancellationToken.None);
            await Fill.Run(Owner(name), Storage.Start.AppRole, size);
            await Sql.Run(Owner("postgres"), $"alter database {name} rename to {template}");
        }

        if (!keep)
        {
            await Sql.Run(Owner("postgres"), $"alter database {template} rename to {name}");
        }
        else
        {
            await Sql.Run(Owner("postgres"), $"drop database if exists {name} with (force)", $"create database {name} template {template} strategy file_copy");
        }

        // What was kept may be older than the schema.
        await KitOrdersSchema.Schema.Migrate(Owner(name), CancellationToken.None);
        await Grants.Apply(Owner(name), Storage.Start.AppRole, KitOrdersSchema.Schema.Grants, CancellationToken.None);
        await Sql.Run(Owner(name), [.. Floor.Made(Storage.Start.AppRole)]);
        return name;
    }

    /// <summary>A database of its own, made anew by these statements.</summary>
    public async Task<string> Made(string name, IEnumerable<string> statements)
    {
        await Sql.Run(Owner("postgres"), $"drop database if exists {name} with (force)", $"create database {name} encoding 'UTF8' template template0");
        await Grants.EnsureRole(Owner(name), Storage.Start.AppRole, password: null, CancellationToken.None);
        await KitOrdersSchema.Schema.Migrate(Owner(name), CancellationToken.None);
        await Grants.Apply(Owner(name), Storage.Start.AppRole, KitOrdersSchema.Schema.Grants, CancellationToken.None);
        await Sql.Run(Owner(name), ["set session_replication_role = replica", .. statements]);
        await Sql.Run(Owner(name), Fill.Numbers);
        return name;
    }

    public async ValueTask DisposeAsync()
    {
        NpgsqlConnection.ClearAllPools();
        if (keep)
        {
            foreach (var size in new[] { Size.Full, Size.Quick, Size.Young })
            {
                await Sql.Run(Owner("postgres"), $"drop database if exists run_{size.Name} with (force)");
            }
        }

        await cluster.Stop();
        if (!keep)
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
