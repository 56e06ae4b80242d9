using KitOrders.Rules;
using KitOrders.Storage.Private;
using Microsoft.Extensions.Logging;
using Npgsql;

namespace KitOrders.Storage;

/// <summary>The one public entry to the rooms below: makes a database ready for the app, private or the operator's own.</summary>
public static class Start
{
    /// <summary>The role the app works as. It owns nothing.</summary>
    public const string AppRole = "kitorders_app";

    const string DatabaseName = "kitorders";

    /// <summary>
    /// Answers a database that is up, migrated and granted, or refuses: another app holds the data, PostgreSQL is missing or
    /// does not start, the operator's database is out of reach or its schema is behind.
    /// </summary>
    public static Task<Outcome<Database>> Ready(StartOptions options, Schema schema, ILogger log, CancellationToken cancel) =>
        string.IsNullOrWhiteSpace(options.ConnectionString) ? Private(options, schema, log, cancel) : Own(options, schema, cancel);

    /// <summary>The refusal a second app on the same private data would get, or null.</summary>
    public static Refusal? HeldByAnother(StartOptions options) =>
        string.IsNullOrWhiteSpace(options.ConnectionString) ? PrivateCluster.HeldByAnother(options.DataFolder) : null;

    static async Task<Outcome<Database>> Private(StartOptions options, Schema schema, ILogger log, CancellationToken cancel)
    {
        var hold = await PrivateCluster.Hold(new ClusterSettings(options.DataFolder) { ProgramsFolder = options.ProgramsFolder }, cancel);
        if (!hold.IsDone)
        {
            return hold.Refusal!;
        }

        var cluster = hold.Value;
        try
        {
            var aside = options.Fresh ? await cluster.SetAside(cancel) : null;
            var started = await cluster.Start(cancel);
            if (!started.IsDone)
            {
                await cluster.Stop();
                return started.Refusal!;
            }

            var owner = ForOneTask(cluster.ConnectionString(PrivateCluster.OwnerRole, DatabaseName));
            var app = cluster.ConnectionString(AppRole, DatabaseName);
            await CreateDatabase(owner, cancel);
            await Grants.EnsureRole(owner, AppRole, password: null, cancel);
            await schema.Migrate(owner, cancel);
            await Grants.Apply(owner, AppRole, schema.Grants, cancel);
            return new Database(owner, app, cluster, log) { SetAside = aside };
        }
        catch
        {
            await cluster.Stop();
            throw;
        }
    }

    static async Task<Outcome<Database>> Own(StartOptions options, Schema schema, CancellationToken cancel)
    {
        var app = options.ConnectionString!;
        var owner = ForOneTask(string.IsNullOrWhiteSpace(options.OwnerConnectionString) ? app : options.OwnerConnectionString);
        try
        {
            if (options.Migrate)
            {
                await MigrateOwn(owner, new NpgsqlConnectionStringBuilder(app), schema, cancel);
            }

            if (await schema.IsBehind(app, cancel))
            {
                return Refusal.Conflict("schema-behind",
                    "The tables of the database in ConnectionStrings__KitOrders are older than this program. Back the database up, then run " +
                    "./run --migrate once, with the role that owns the tables in ConnectionStrings__KitOrdersOwner.");
            }
        }
        catch (Exception e) when (e is NpgsqlException or ArgumentException)
        {
            return Refusal.Conflict("database-unreachable",
                $"The database in ConnectionStrings__KitOrders did not take the connection: {e.Message.TrimEnd('.')}. Start that server, or correct the connection string.");
        }

        return new Database(owner, app);
    }

    static async Task MigrateOwn(string owner, NpgsqlConnectionStringBuilder app, Schema schema, CancellationToken cancel)
    {
        await CreateDatabase(owner, cancel);
        await schema.Migrate(owner, cancel);
        if (app.Username is { } role && role != new NpgsqlConnectionStringBuilder(owner).Username)
        {
            await Grants.EnsureRole(owner, role, app.Password, cancel);
            await Grants.Apply(owner, role, schema.Grants, cancel);
        }
    }

    /// <summary>Asked from outside the database, because asking a missing one leaves an error in the server's log.</summary>
    static async Task CreateDatabase(string owner, CancellationToken cancel)
    {
        var wanted = new NpgsqlConnectionStringBuilder(owner);
        await using var connection = new NpgsqlConnection(new NpgsqlConnectionStringBuilder(owner) { Database = "postgres" }.ConnectionString);
        await connection.OpenAsync(cancel);
        await using var question = new NpgsqlCommand("SELECT 1 FROM pg_database WHERE datname = $1", connection);
        question.Parameters.Add(new() { Value = wanted.Database! });
        if (await question.ExecuteScalarAsync(cancel) is null)
        {
            await Grants.Execute(connection, $"CREATE DATABASE {Grants.Quoted(wanted.Database!)} ENCODING 'UTF8' TEMPLATE template0", cancel);
        }
    }

    // A kept connection would be in the way of stopping the server and of backups.
    static string ForOneTask(string connectionString) =>
        new NpgsqlConnectionStringBuilder(connectionString) { Pooling = false }.ConnectionString;
}
