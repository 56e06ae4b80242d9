using Npgsql;

namespace KitOrders.Storage;

/// <summary>Tables that the app may not change freely. All others it may read, add to, change and delete from.</summary>
/// <param name="AppendOnly">Read and added to, never changed: what happened stays as it was written.</param>
/// <param name="ReadOnly">Read only: the notes of the migrations.</param>
public sealed record TableGrants(IReadOnlyList<string> AppendOnly, IReadOnlyList<string> ReadOnly);

/// <summary>
/// What the app's role may do. It owns nothing, so it can neither change the schema nor lift these limits. Set again after
/// every migration; running it twice changes nothing.
/// </summary>
static class Grants
{
    const long OneAtATime = 0x4b69744f_72646572;

    public static async Task Apply(string ownerConnectionString, string role, TableGrants tables, CancellationToken cancel)
    {
        await using var connection = new NpgsqlConnection(ownerConnectionString);
        await connection.OpenAsync(cancel);
        await using var transaction = await connection.BeginTransactionAsync(cancel);
        var to = Quoted(role);
        List<string> statements =
        [
            $"SELECT pg_advisory_xact_lock({OneAtATime})",
            "REVOKE CREATE ON SCHEMA public FROM PUBLIC",
            $"GRANT USAGE ON SCHEMA public TO {to}",
            $"REVOKE ALL ON ALL TABLES IN SCHEMA public FROM {to}",
            $"GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA public TO {to}",
            $"GRANT USAGE, SELECT ON ALL SEQUENCES IN SCHEMA public TO {to}",
            .. tables.AppendOnly.Select(table => $"REVOKE UPDATE, DELETE ON public.{Quoted(table)} FROM {to}"),
            .. tables.ReadOnly.Select(table => $"REVOKE INSERT, UPDATE, DELETE ON public.{Quoted(table)} FROM {to}"),
        ];
        foreach (var statement in statements)
        {
            await Execute(connection, statement, cancel);
        }

        await transaction.CommitAsync(cancel);
    }

    /// <summary>Makes the app's role where it does not exist, with the password it will sign in with, if any.</summary>
    public static async Task EnsureRole(string ownerConnectionString, string role, string? password, CancellationToken cancel)
    {
        await using var connection = new NpgsqlConnection(ownerConnectionString);
        await connection.OpenAsync(cancel);
        await using var question = new NpgsqlCommand(
            """
            SELECT format('CREATE ROLE %I LOGIN', $1) || CASE WHEN $2 = '' THEN '' ELSE format(' PASSWORD %L', $2) END
            WHERE NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = $1)
            """, connection);
        question.Parameters.Add(new() { Value = role });
        question.Parameters.Add(new() { Value = password ?? "" });
        if (await question.ExecuteScalarAsync(cancel) is string create)
        {
            await Execute(connection, create, cancel);
        }
    }

    internal static async Task Execute(NpgsqlConnection connection, string statement, CancellationToken cancel)
    {
#pragma warning disable CA2100 // Role and table names of our own, quoted; the server takes no parameters in these statements.
        await using var command = new NpgsqlCommand(statement, connection);
#pragma warning restore CA2100
        await command.ExecuteNonQueryAsync(cancel);
    }

    internal static string Quoted(string name) => "\"" + name.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";
}
