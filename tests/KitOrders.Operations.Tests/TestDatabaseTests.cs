using KitOrders.Storage;
using Npgsql;
using Xunit;

namespace KitOrders.Operations.Tests;

public sealed class TestDatabaseTests(TestDatabase databases)
{
    [Fact]
    public async Task Each_test_has_a_database_of_its_own()
    {
        await using var one = await databases.Fresh();
        await using var other = await databases.Fresh();
        await Run(one.OwnerConnectionString, "CREATE TABLE only_here ()");

        await Assert.ThrowsAsync<PostgresException>(() => Run(other.OwnerConnectionString, "SELECT FROM only_here"));
        await Run(one.OwnerConnectionString, "SELECT FROM only_here");
    }

    [Fact]
    public async Task What_happened_can_be_added_to_and_never_changed_by_the_app()
    {
        await using var database = await databases.Fresh();
        Assert.Equal(7, KitOrdersSchema.AppendOnly.Count);
        foreach (var table in KitOrdersSchema.AppendOnly)
        {
            await Run(database.AppConnectionString, $"SELECT count(*) FROM {table}");
            foreach (var change in new[] { $"DELETE FROM {table}", $"TRUNCATE {table}", $"UPDATE {table} SET id = id", $"DROP TABLE {table}" })
            {
                var no = await Assert.ThrowsAsync<PostgresException>(() => Run(database.AppConnectionString, change));
                Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, no.SqlState);
            }

            Assert.True(await Holds(database.AppConnectionString, table, "INSERT"));
        }
    }

    [Fact]
    public async Task The_app_owns_nothing_and_cannot_change_the_schema()
    {
        await using var database = await databases.Fresh();

        Assert.Equal(0L, await Run(database.AppConnectionString, "SELECT count(*) FROM pg_class WHERE relowner = (SELECT oid FROM pg_roles WHERE rolname = current_user)"));
        foreach (var change in new[] { "CREATE TABLE mine ()", "CREATE ROLE more", $"DELETE FROM {DbSetup.HistoryTable}", "SET ROLE kitorders_owner" })
        {
            var no = await Assert.ThrowsAsync<PostgresException>(() => Run(database.AppConnectionString, change));
            Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, no.SqlState);
        }

        await Run(database.AppConnectionString, "UPDATE part SET id = id");
    }

    [Fact]
    public async Task Grants_can_be_set_again_and_a_new_table_gets_them()
    {
        await using var database = await databases.Fresh();
        await Run(database.OwnerConnectionString, "CREATE TABLE later (id int)");
        var cancel = TestContext.Current.CancellationToken;

        await Grants.Apply(database.OwnerConnectionString, Start.AppRole, KitOrdersSchema.Schema.Grants, cancel);
        await Grants.Apply(database.OwnerConnectionString, Start.AppRole, KitOrdersSchema.Schema.Grants, cancel);

        await Run(database.AppConnectionString, "INSERT INTO later VALUES (1)");
        Assert.False(await Holds(database.AppConnectionString, "movement", "UPDATE"));
    }

    static async Task<bool> Holds(string connectionString, string table, string right) =>
        await Run(connectionString, $"SELECT has_table_privilege(current_user, '{table}', '{right}')") is true;

    static async Task<object?> Run(string connectionString, string statement)
    {
        var cancel = TestContext.Current.CancellationToken;
        await using var connection = new NpgsqlConnection(connectionString);
        await connection.OpenAsync(cancel);
        await using var command = connection.CreateCommand();
#pragma warning disable CA2100 // The tests' own constant texts.
        command.CommandText = statement;
#pragma warning restore CA2100
        return await command.ExecuteScalarAsync(cancel);
    }
}
