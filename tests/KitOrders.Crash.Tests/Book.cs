using System.Collections.Concurrent;
using System.Globalization;
using System.Text.Json;

namespace KitOrders.Crash.Tests;

/// <summary>
/// What the clients wrote down themselves, held against what the program and its database say after a kill. Every check
/// answers with the sentences of what is wrong.
/// </summary>
sealed class Book
{
    /// <summary>What an operation writes into the trail once, whatever else it has to tell of other orders.</summary>
    static readonly Dictionary<string, string> trail = new()
    {
        ["create-order"] = "Drafted", ["open-order"] = "Opened", ["pick-lines"] = "Picked", ["receive-lot"] = "Received", ["count-bin"] = "Counted",
        ["cancel-order"] = "Cancelled", ["take-over"] = "Took over", ["return-stock"] = "Returned", ["scrap-stock"] = "Scrapped",
        ["transfer-stock"] = "Moved", ["correct-movement"] = "Corrected", ["change-order"] = "Needed by",
    };

    public ConcurrentQueue<Sent> Sent { get; } = [];

    /// <summary>Numbers of the orders that were made, the latest first.</summary>
    public ConcurrentStack<string> Orders { get; } = [];

    /// <summary>Stock is true; what was acknowledged is there and what was refused is not; everything there has its effect once.</summary>
    public async Task<List<string>> Problems(KilledApp app)
    {
        using var http = app.Client();
        using var truth = JsonDocument.Parse(await Truth(http));
        var problems = truth.RootElement.EnumerateArray().Where(c => !c.GetProperty("holds").GetBoolean()).Select(c => c.GetRawText()).ToList();

        await using var database = await app.Database();
        var kept = (await KilledApp.Ask(database, "select key || '|' || operation || '|' || coalesce(answer, '') from command"))
            .Select(row => row.Split('|', 3)).ToDictionary(row => row[0], row => (Operation: row[1], Answer: row[2]));
        foreach (var command in Sent)
        {
            if (command.Answer is { Done: true } && !kept.ContainsKey(command.Key))
                problems.Add($"{command.Operation} {command.Key} was acknowledged and is not there");
            if (command.Answer is { Refused: true } && kept.ContainsKey(command.Key))
                problems.Add($"{command.Operation} {command.Key} was refused and is there");
        }
        problems.AddRange(await Trail(database, kept.Values.Select(k => k.Operation)));
        problems.AddRange(await OnHand(database, kept.ToDictionary(k => k.Key, k => k.Value.Answer)));
        problems.AddRange(await Named(database, [.. kept.Keys]));
        return problems;
    }

    /// <summary>
    /// Sends again what was sent since the last time: what was acknowledged is answered word for word the same, what is
    /// unknown becomes known.
    /// </summary>
    public async Task<List<string>> Repeat(KilledApp app, IEnumerable<Sent> commands)
    {
        using var http = app.Client();
        var problems = new List<string>();
        foreach (var command in commands)
        {
            if (command.Answer is { Refused: true })
                continue;
            var again = await command.SendUntilKnown(http);
            if (command.Answer is { } first && first != again)
                problems.Add($"{command.Operation} {command.Key} answered {first} and again {again}");
            if (command.Answer is null && !again.Done && !again.Refused)
                problems.Add($"{command.Operation} {command.Key} sent again: {again}");
            command.Answer ??= again;
            if (command.Operation == "create-order" && again.Done && !Orders.Contains(command.Key))
                Orders.Push(command.Key);
        }
        return problems;
    }

    static async Task<string> Truth(HttpClient http)
    {
        for (var asked = 1; ; asked++)
        {
            using var answer = await http.GetAsync(new Uri("/api/stock-truth", UriKind.Relative));
            if (answer.IsSuccessStatusCode || asked == 10)
                return await answer.EnsureSuccessStatusCode().Content.ReadAsStringAsync();
        }
    }

    /// <summary>As many entries in the trail as commands kept, for each operation.</summary>
    static async Task<List<string>> Trail(Npgsql.NpgsqlConnection database, IEnumerable<string> operations)
    {
        var kept = operations.CountBy(o => o).ToDictionary();
        var told = (await KilledApp.Ask(database, $"""
            select a.operation || '|' || count(*) from audit a
            join (values {string.Join(", ", trail.Select(t => $"('{t.Key}', '{t.Value}')"))}) t(operation, word) on t.operation = a.operation and starts_with(a.sentence, t.word)
            group by a.operation
            """)).Select(r => r.Split('|')).ToDictionary(r => r[0], r => int.Parse(r[1], CultureInfo.InvariantCulture));
        return [.. trail.Keys.Where(o => kept.GetValueOrDefault(o) != told.GetValueOrDefault(o))
            .Select(o => $"{o}: {kept.GetValueOrDefault(o)} commands are kept and {told.GetValueOrDefault(o)} effects in the trail")];
    }

    /// <summary>On hand is what it was in the beginning and what every command there has changed, once.</summary>
    async Task<List<string>> OnHand(Npgsql.NpgsqlConnection database, Dictionary<string, string> kept)
    {
        var expected = CrashPlant.Files.Single(f => f.File == "stock").Csv.Trim().Split('\n').Skip(1).Select(r => r.Split(','))
            .Select(r => (Part: r[0], Quantity: decimal.Parse(r[3], CultureInfo.InvariantCulture)))
            .Concat(Sent.Where(c => kept.ContainsKey(c.Key)).SelectMany(c => c.Effect(kept[c.Key])))
            .GroupBy(c => c.Part).ToDictionary(g => g.Key, g => g.Sum(c => c.Quantity));
        var rows = await KilledApp.Ask(database, """
            select p.number || '|' || coalesce((select sum(quantity) from movement m where m.part_id = p.id), 0)
              || '|' || coalesce((select sum(on_hand) from bin_stock s where s.part_id = p.id), 0) from part p
            """);
        return [.. rows.Select(r => r.Split('|')).Select(r => (Part: r[0], Moved: Number(r[1]), OnHand: Number(r[2]), Expected: expected.GetValueOrDefault(r[0])))
            .Where(r => r.Moved != r.Expected || r.OnHand != r.Expected)
            .Select(r => $"{r.Part}: the commands make {r.Expected:0.####}, the movements {r.Moved:0.####}, the shelves {r.OnHand:0.####}")];
    }

    /// <summary>A receipt gives its lot the key as number and a new order has it as its own: there once, or not at all.</summary>
    async Task<List<string>> Named(Npgsql.NpgsqlConnection database, HashSet<string> kept)
    {
        var made = await KilledApp.Ask(database, """
            select l.number || '|' || count(*) || '|' || sum(m.quantity) from movement m join lot l on l.id = m.lot_id
            where m.kind = 'receipt' and m.corrects_id is null group by l.id
            union all select number || '|' || count(*) || '|1' from work_order group by number
            """);
        var found = made.Select(r => r.Split('|')).ToDictionary(r => r[0], r => (Times: int.Parse(r[1], CultureInfo.InvariantCulture), Quantity: Number(r[2])));
        var problems = new List<string>();
        foreach (var command in Sent.Where(c => c.Operation is "receive-lot" or "create-order"))
        {
            var wanted = command.Operation == "receive-lot" ? command.Changes[0].Quantity : 1;
            if (kept.Contains(command.Key) ? found.GetValueOrDefault(command.Key) != (1, wanted) : found.ContainsKey(command.Key))
                problems.Add($"{command.Operation} {command.Key}: {(kept.Contains(command.Key) ? "kept" : "not kept")}, and there {found.GetValueOrDefault(command.Key)}");
        }
        return problems;
    }

    static decimal Number(string text) => decimal.Parse(text, CultureInfo.InvariantCulture);
}
