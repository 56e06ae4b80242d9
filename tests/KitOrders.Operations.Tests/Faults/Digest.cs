using KitOrders.Operations.Stock;
using Npgsql;
using Xunit;

namespace KitOrders.Operations.Tests.Faults;

/// <summary>All that a database holds, in a few words a table, so that two moments or two databases can be held against each other.</summary>
sealed class Digest : IAsyncDisposable
{
    /// <summary>Drawn at random, so that no two runs write the same.</summary>
    const string Random = "array['hash','password_hash','pin_hash','security_stamp','concurrency_stamp']";

    readonly NpgsqlConnection connection;
    readonly string whole;
    readonly string withoutRandom;
    readonly string sequences;

    Digest(NpgsqlConnection connection, List<string> tables, string sequences)
    {
        this.connection = connection;
        this.sequences = sequences;
        whole = Of(tables, "t::text");
        withoutRandom = Of(tables, $"(to_jsonb(t) - {Random})::text");
    }

    public static async Task<Digest> Of(FreshDatabase database)
    {
        var connection = new NpgsqlConnection(database.OwnerConnectionString);
        await connection.OpenAsync();
        var tables = await Column(connection, "select format('%I', tablename) from pg_tables where schemaname = 'public' order by 1");
        Assert.True(tables.Count > 30, $"Found only {tables.Count} tables.");
        var sequences = await Column(connection, """
            select format('select setval(%L, %s, %L)', format('%I.%I', schemaname, sequencename), coalesce(last_value, start_value), last_value is not null)
            from pg_sequences where schemaname = 'public'
            """);
        return new Digest(connection, tables, string.Join(';', sequences));
    }

    /// <summary>Every row of every table, as it stands.</summary>
    public async Task<string> Whole() => string.Join('\n', await Column(connection, whole));

    /// <summary>As <see cref="Whole"/> but for what is drawn at random.</summary>
    public async Task<string> Effect() => string.Join('\n', await Column(connection, withoutRandom));

    /// <summary>
    /// Numbers that were drawn for nothing are given out anew, so that ids are those of an undisturbed run. A number that was
    /// drawn for what was taken back stays away for good, and is no fault.
    /// </summary>
    public async Task WindBack() => await Column(connection, sequences);

    /// <summary>The tables in which two digests differ.</summary>
    public static string Difference(string one, string other) =>
        string.Join(", ", one.Split('\n').Except(other.Split('\n')).Select(l => l.Split(':')[0]));

    public static async Task IsTrue(Desk desk)
    {
        var broken = (await new StockTruth(desk).Read(CancellationToken.None)).Where(c => !c.Holds).ToList();
        Assert.True(broken.Count == 0, string.Join("; ", broken.SelectMany(c => c.Broken.Select(b => $"{c.Check}: {b}"))));
    }

    public ValueTask DisposeAsync() => connection.DisposeAsync();

    static string Of(List<string> tables, string row) => string.Join(" union all ", tables.Select(t =>
        $"select '{t}:' || count(*) || ':' || coalesce(sum(hashtextextended({row}, 0)::numeric), 0) from {t} t"));

    static async Task<List<string>> Column(NpgsqlConnection connection, string statement)
    {
#pragma warning disable CA2100 // Names of our own tables.
        await using var command = new NpgsqlCommand(statement, connection);
#pragma warning restore CA2100
        await using var reader = await command.ExecuteReaderAsync();
        var values = new List<string>();
        do
        {
            while (await reader.ReadAsync())
                values.Add(reader.GetValue(0).ToString()!);
        }
        while (await reader.NextResultAsync());
        return values;
    }
}
