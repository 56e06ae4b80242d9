using Npgsql;

namespace KitOrders.Benchmarks;

/// <summary>Plain statements of our own.</summary>
static class Sql
{
    public static async Task Run(string connectionString, params IEnumerable<string> statements)
    {
        await using var connection = new NpgsqlConnection(connectionString);
        await connection.OpenAsync();
        foreach (var statement in statements)
        {
            await using var command = Command(connection, statement);
            await command.ExecuteNonQueryAsync();
        }
    }

    public static async Task<T> One<T>(string connectionString, string statement) => (await Rows(connectionString, statement, r => r.GetFieldValue<T>(0)))[0];

    public static async Task<List<T>> Rows<T>(string connectionString, string statement, Func<NpgsqlDataReader, T> row)
    {
        await using var connection = new NpgsqlConnection(connectionString);
        await connection.OpenAsync();
        await using var command = Command(connection, statement);
        await using var reader = await command.ExecuteReaderAsync();
        var rows = new List<T>();
        while (await reader.ReadAsync())
        {
            rows.Add(row(reader));
        }

        return rows;
    }

    public static NpgsqlCommand Command(NpgsqlConnection connection, string statement)
    {
#pragma warning disable CA2100 // Written here, with numbers of our own in it.
        return new NpgsqlCommand(statement, connection) { CommandTimeout = 0 };
#pragma warning restore CA2100
    }
}
