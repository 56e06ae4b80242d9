using KitOrders.Storage;

namespace KitOrders.Migrations;

/// <summary>Applies what is missing to a database, as the role that owns it.</summary>
public static class Migrate
{
    /// <summary>The tables to which rows are added and in which nothing is ever changed.</summary>
    public static IReadOnlyList<string> AppendOnly => KitOrdersSchema.AppendOnly;

    public static Task Apply(string ownerConnectionString, CancellationToken ct) => KitOrdersSchema.Apply(ownerConnectionString, ct);

    /// <summary>The migrations a database lacks, oldest first; empty when it is up to date.</summary>
    public static Task<IReadOnlyList<string>> Missing(string connectionString, CancellationToken ct) =>
        KitOrdersSchema.Missing(connectionString, ct);
}
