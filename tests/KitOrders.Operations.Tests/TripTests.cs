using Npgsql;
using Xunit;

namespace KitOrders.Operations.Tests;

/// <summary>Statements that go to the database together.</summary>
public sealed class TripTests(TestDatabase databases)
{
    static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Answers_come_back_in_their_order_whatever_is_told_between()
    {
        await using var database = await databases.Fresh();
        await using var db = database.Context();
        var trip = new Trip(db).With("one", 1).With("nothing", (string?)null);
        trip.Tell("insert into plant_setting (key, value) values ('name', 'Kelp')");
        var first = trip.Ask("select @one + 1, @nothing", row => (row.GetInt32(0), row.Text(1)));
        trip.Tell("update plant_setting set value = 'Weed'");
        var second = trip.Ask("select value from plant_setting", row => row.GetString(0));
        Assert.Throws<InvalidOperationException>(() => first.Rows);

        await trip.Send(Ct);

        Assert.Equal((2, null), Assert.Single(first.Rows));
        Assert.Equal("Weed", Assert.Single(second.Rows));
    }

    [Fact]
    public async Task A_name_has_one_value()
    {
        await using var database = await databases.Fresh();
        await using var db = database.Context();
        var trip = new Trip(db).With("one", 1).With("one", 1);
        Assert.Throws<InvalidOperationException>(() => trip.With("one", 2));
    }

    [Fact]
    public async Task A_statement_that_fails_after_the_last_answer_is_not_passed_over()
    {
        await using var database = await databases.Fresh();
        await using var db = database.Context();
        var trip = new Trip(db);
        trip.Ask("select 1", row => row.GetInt32(0));
        trip.Tell("insert into plant_setting (key, value) values ('name', 'Kelp'), ('name', 'Weed')");
        Assert.Equal(PostgresErrorCodes.UniqueViolation, (await Assert.ThrowsAsync<PostgresException>(() => trip.Send(Ct))).SqlState);
    }

    [Fact]
    public async Task What_a_write_begins_with_is_refused_without_a_transaction_around_it()
    {
        await using var database = await databases.Fresh();
        await using var db = database.Context();
        var trip = new Trip(db);
        trip.Tell("lock table command in row exclusive mode");
        trip.Tell("insert into plant_setting (key, value) values ('name', 'Kelp')");
        Assert.Equal(PostgresErrorCodes.NoActiveSqlTransaction, (await Assert.ThrowsAsync<PostgresException>(() => trip.Send(Ct))).SqlState);

        var kept = new Trip(db);
        var settings = kept.Ask("select value from plant_setting", row => row.GetString(0));
        await kept.Send(Ct);
        Assert.Empty(settings.Rows);
    }
}
