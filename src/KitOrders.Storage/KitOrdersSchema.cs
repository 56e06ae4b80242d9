using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;

namespace KitOrders.Storage;

/// <summary>Brings a database's tables up to date and says who may do what with them.</summary>
public static class KitOrdersSchema
{
    /// <summary>The tables to which rows are added and in which nothing is ever changed.</summary>
    public static IReadOnlyList<string> AppendOnly { get; } = ["movement", "step_result", "step_photograph", "audit", "document", "document_removal", "picture_file"];

    /// <summary>For <see cref="Start.Ready"/>.</summary>
    public static Schema Schema { get; } = new(
        Apply,
        async (connectionString, cancel) => (await Missing(connectionString, cancel)).Count > 0,
        new TableGrants(AppendOnly, ReadOnly: [DbSetup.HistoryTable]));

    /// <summary>Applies what is missing, as the role that owns the tables.</summary>
    public static async Task Apply(string ownerConnectionString, CancellationToken cancel)
    {
        await using var db = Context(ownerConnectionString);
        // Asked for first, so that a new database does not log a failed query for a table that is not there yet.
        await db.GetService<IHistoryRepository>().CreateIfNotExistsAsync(cancel);
        await db.Database.MigrateAsync(cancel);
    }

    /// <summary>The migrations a database lacks, oldest first; empty when it is up to date.</summary>
    public static async Task<IReadOnlyList<string>> Missing(string connectionString, CancellationToken cancel)
    {
        await using var db = Context(connectionString);
        return [.. await db.Database.GetPendingMigrationsAsync(cancel)];
    }

    static KitOrdersDb Context(string connectionString)
    {
        var options = new DbContextOptionsBuilder<KitOrdersDb>();
        DbSetup.Use(options, connectionString);
        return new KitOrdersDb(options.Options);
    }
}
