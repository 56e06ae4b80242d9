using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace KitOrders.Storage;

/// <summary>The one way in which a context is set up, for the app, the migrations and the tests alike.</summary>
static class DbSetup
{
    public const string HistoryTable = "__ef_migrations_history";

    // More than there are statements in the program; a statement that is no longer used gives way.
    const int PreparedStatements = 500;

    public static void Use(DbContextOptionsBuilder options, string connectionString) => options
        .UseNpgsql(Tuned(connectionString), npgsql => npgsql
            .MigrationsAssembly("KitOrders.Migrations")
            .MigrationsHistoryTable(HistoryTable))
        .UseSnakeCaseNamingConvention();

    /// <summary>
    /// Statements are planned once a connection and not at every call. A connection goes back to the pool as it is: nothing in
    /// the program leaves a setting, a lock or a temporary table in its session.
    /// </summary>
    public static string Tuned(string connectionString) => new NpgsqlConnectionStringBuilder(connectionString)
    {
        MaxAutoPrepare = PreparedStatements, AutoPrepareMinUsages = 3, NoResetOnClose = true,
    }.ConnectionString;
}
