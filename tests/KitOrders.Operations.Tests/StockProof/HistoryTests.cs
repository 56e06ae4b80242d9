using KitOrders.Rules;
using KitOrders.Storage;
using Npgsql;
using Xunit;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>
/// Sixteen people, a handful of parts, all commands at once. What they were told is all there is: every acknowledged command had
/// its effect once, and nothing else had any.
/// </summary>
public sealed class HistoryTests(TestDatabase databases, ITestOutputHelper output)
{
    const int People = 16;

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public Task What_many_people_were_told_at_once_is_what_happened() => Run(40);

    [Fact]
    [Trait("Length", "Long")]
    public Task What_many_people_were_told_through_a_long_day_is_what_happened() => Run(1_000);

    async Task Run(int commandsEach)
    {
        await using var plant = await ProofPlant.New(databases);
        var seed = int.TryParse(Environment.GetEnvironmentVariable("PROOF_SEED"), out var said) ? said : Random.Shared.Next();
        output.WriteLine($"PROOF_SEED={seed}");
        var before = await Deadlocks(plant);
        var auditBefore = await Counts(plant, "select operation, count(*) from audit group by operation");

        var crowd = new Crowd(plant, await plant.NextCase());
        await crowd.Stock();
        await Task.WhenAll(Enumerable.Range(0, People).Select(n => Task.Run(() => crowd.Work(seed + n, commandsEach), Ct)));

        var told = crowd.Told.ToList();
        output.WriteLine($"{told.Count} done, {crowd.Refused.Values.Sum()} refused: {string.Join(", ", crowd.Refused.OrderByDescending(r => r.Value).Select(r => $"{r.Key} {r.Value}"))}");
        Assert.Empty(await plant.Untruths());
        Assert.Equal(
            told.SelectMany(t => t.OnHand).GroupBy(h => h.Part).Select(p => (p.Key, p.Sum(h => h.Quantity))).Where(p => p.Item2 != 0).Order(),
            (await Counts(plant, "select p.number, sum(s.on_hand) from bin_stock s join part p on p.id = s.part_id group by p.number having sum(s.on_hand) <> 0"))
                .Select(p => (p.Key, p.Value)).Order());
        Assert.Equal(
            told.SelectMany(t => t.Movements).GroupBy(m => Word.Of(m.Kind)).Select(k => (k.Key, (decimal)k.Sum(m => m.Count))).Order(),
            (await Counts(plant, "select kind, count(*) from movement group by kind")).Select(k => (k.Key, k.Value)).Order());
        Assert.Equal(
            told.Select(t => t.Key).Order(StringComparer.Ordinal),
            (await Counts(plant, "select key, 1 from command")).Keys.Order(StringComparer.Ordinal));
        await Audited(plant, told, auditBefore);
        Assert.Equal(before, await Deadlocks(plant));
    }

    /// <summary>An operation that leaves one entry for itself leaves one a command; those that cover or take leave more for the others.</summary>
    static async Task Audited(ProofPlant plant, List<Acknowledged> told, Dictionary<string, decimal> before)
    {
        var left = await Counts(plant, "select operation, count(*) from audit where sentence not like 'Shortage covered by%' and sentence not like 'Lost %' and sentence not like 'Gave up%' group by operation");
        foreach (var operation in told.GroupBy(t => t.Operation))
            Assert.Equal((operation.Key, operation.Count()), (operation.Key, (int)(left[operation.Key] - before.GetValueOrDefault(operation.Key))));
    }

    static async Task<Dictionary<string, decimal>> Counts(ProofPlant plant, string question)
    {
        await using var command = plant.Rows.CreateCommand(question);
        await using var reader = await command.ExecuteReaderAsync(Ct);
        var rows = new Dictionary<string, decimal>();
        while (await reader.ReadAsync(Ct))
            rows[reader.GetString(0)] = reader.GetDecimal(1);
        return rows;
    }

    /// <summary>Sessions say what they ran into when they end at the latest, so they are ended first.</summary>
    static async Task<long> Deadlocks(ProofPlant plant)
    {
        await using (var pooled = new NpgsqlConnection(DbSetup.Tuned(plant.Database.AppConnectionString)))
            NpgsqlConnection.ClearPool(pooled);
        plant.Rows.Clear();
        await using var watch = new NpgsqlConnection(plant.Database.OwnerConnectionString);
        await watch.OpenAsync(Ct);
        while (await Ask(watch, "select count(*) from pg_stat_activity where datname = current_database() and pid <> pg_backend_pid()") > 0)
            await Task.Delay(20, Ct);
        return await Ask(watch, "select deadlocks from pg_stat_database where datname = current_database()");
    }

    static async Task<long> Ask(NpgsqlConnection watch, string question)
    {
#pragma warning disable CA2100 // The test's own constant texts.
        await using var command = new NpgsqlCommand(question, watch);
#pragma warning restore CA2100
        return (long)(await command.ExecuteScalarAsync(Ct))!;
    }
}
