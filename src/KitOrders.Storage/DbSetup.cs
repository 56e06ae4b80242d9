using Microsoft.EntityFrameworkCore;

namespace KitOrders.Storage;

/// <summary>The one way in which a context is set up, for the app, the migrations and the tests alike.</summary>
static class DbSetup
{
    public const string HistoryTable = "__ef_migrations_history";

    public static void Use(DbContextOptionsBuilder options, string connectionString) => options
        .UseNpgsql(connectionString, npgsql => npgsql
            .MigrationsAssembly("KitOrders.Migrations")
            .MigrationsHistoryTable(HistoryTable))
        .UseSnakeCaseNamingConvention();
}
