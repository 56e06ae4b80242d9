using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;

namespace KitOrders.Migrations;

/// <summary>Applies what is missing to a database, as the role that owns it.</summary>
public static class Migrate
{
    /// <summary>The tables to which rows are added and in which nothing is ever changed.</summary>
    public static readonly IReadOnlyList<string> AppendOnly = ["movement", "step_result", "audit"];

    public static async Task Apply(string ownerConnectionString, CancellationToken ct)
    {
        await using var db = Context(ownerConnectionString);
        // Asked for first, so that a new database does not log a failed query for a table that is not there yet.
        await db.GetService<IHistoryRepository>().CreateIfNotExistsAsync(ct);
        await db.Database.MigrateAsync(ct);
    }

    /// <summary>The migrations a database lacks, oldest first; empty when it is up to date.</summary>
    public static async Task<IReadOnlyList<string>> Missing(string connectionString, CancellationToken ct)
    {
        await using var db = Context(connectionString);
        return [.. await db.Database.GetPendingMigrationsAsync(ct)];
    }

    static KitOrdersDb Context(string connectionString)
    {
        var options = new DbContextOptionsBuilder<KitOrdersDb>();
        DbSetup.Use(options, connectionString);
        return new KitOrdersDb(options.Options);
    }
}
