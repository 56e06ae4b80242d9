using System.Globalization;
using Npgsql;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>Reads what the database keeps of one case and holds it against the model, line by line.</summary>
sealed class Comparison(NpgsqlDataSource rows, PlantModel model)
{
    const string Kept = """
        select format('order %s: %s', o.number, o.state) from work_order o where o.number like @prefix || '-%'
        union all
        select format('line %s %s %s: gross %s, built %s, picked %s, reserved %s, short %s, let go %s', o.number, p.number, d.source, trim_scale(d.gross),
          trim_scale(d.built), trim_scale(d.picked), trim_scale(d.reserved), trim_scale(d.short), d.released_by_id is not null)
        from work_order o join demand_line d on d.order_id = o.id join part p on p.id = d.part_id where o.number like @prefix || '-%'
        union all
        select format('replaced %s %s %s: %s by %s', o.number, p.number, d.source, trim_scale(r.quantity), q.number)
        from work_order o join replacement r on r.order_id = o.id join demand_line d on d.id = r.line_id join part p on p.id = d.part_id
        join demand_line b on b.id = r.by_line_id join part q on q.id = b.part_id where o.number like @prefix || '-%'
        union all
        select format('lot %s %s: received %s, cured %s, good until %s, inspected %s, aside %s', p.number, l.number, l.received_on, coalesce(l.cured_on::text, 'unknown'),
          l.expires_on, l.inspected_on is not null, l.quarantine is not null)
        from part p join lot l on l.part_id = p.id where p.number = any(@parts)
        union all
        select format('stock %s %s %s: on hand %s, reserved %s', p.number, l.number, b.code, trim_scale(s.on_hand), trim_scale(s.reserved))
        from part p join bin_stock s on s.part_id = p.id join lot l on l.id = s.lot_id join bin b on b.id = s.bin_id
        where p.number = any(@parts) and (s.on_hand <> 0 or s.reserved <> 0)
        """;

    const string Held = """
        select format('hold %s %s %s %s %s', o.number, p.number, d.source, l.number, b.code), r.id,
          format('held %s, picked %s, fitted %s, returned %s, scrapped %s', trim_scale(r.held), trim_scale(r.picked), trim_scale(r.fitted), trim_scale(r.returned), trim_scale(r.scrapped))
        from work_order o join reservation r on r.order_id = o.id join demand_line d on d.id = r.demand_line_id
        join part p on p.id = r.part_id join lot l on l.id = r.lot_id join bin b on b.id = r.bin_id
        where o.number like @prefix || '-%' and (r.held <> 0 or r.picked <> 0)
        """;

    const string Moved = """
        select format('moved %s %s %s %s: %s for %s', m.kind, p.number, l.number, b.code, trim_scale(m.quantity), coalesce(o.number, 'nobody')), m.id, m.corrects_id
        from part p join movement m on m.part_id = p.id join lot l on l.id = m.lot_id join bin b on b.id = m.bin_id left join work_order o on o.id = m.order_id
        where p.number = any(@parts) and m.id > @known order by m.id
        """;

    int known;

    /// <summary>What the two disagree about, in words; what the database numbers is learned by the model.</summary>
    public async Task<IReadOnlyList<string>> Differences(CancellationToken ct)
    {
        var differences = new List<string>();
        await using var connection = await rows.OpenConnectionAsync(ct);
        await using var batch = new NpgsqlBatch(connection) { BatchCommands = { Command(Kept), Command(Held), Command(Moved) } };
        await using var reader = await batch.ExecuteReaderAsync(ct);
        var kept = new List<string>();
        while (await reader.ReadAsync(ct))
            kept.Add(reader.GetString(0));

        await reader.NextResultAsync(ct);
        var ids = new Dictionary<string, int>();
        while (await reader.ReadAsync(ct))
        {
            ids[reader.GetString(0)] = reader.GetInt32(1);
            kept.Add($"{reader.GetString(0)}: {reader.GetString(2)}");
        }
        foreach (var (line, hold) in model.Holds)
            hold.Id = ids.GetValueOrDefault(NameOf(line, hold), hold.Id);
        Compare(kept, Expected(), differences);

        await reader.NextResultAsync(ct);
        var moved = new List<(string Text, long Id, long? Corrects)>();
        while (await reader.ReadAsync(ct))
            moved.Add((reader.GetString(0), reader.GetInt64(1), reader.IsDBNull(2) ? null : reader.GetInt64(2)));
        var fresh = model.Movements.Skip(known).ToList();
        known = model.Movements.Count;
        Compare(moved.Select(m => m.Text), fresh.Select(TextOf), differences);
        foreach (var movement in fresh)
        {
            var at = moved.FindIndex(m => m.Text == TextOf(movement) && m.Corrects == movement.Corrects?.Id);
            if (at < 0)
            {
                differences.Add($"no movement corrects {movement.Corrects?.Id}: {TextOf(movement)}");
                continue;
            }
            movement.Id = moved[at].Id;
            moved.RemoveAt(at);
        }
        return differences;
    }

    NpgsqlBatchCommand Command(string statement) => new(statement)
    {
        Parameters =
        {
            new NpgsqlParameter("prefix", model.Prefix),
            new NpgsqlParameter("parts", Kits.Parts.Select(p => $"{model.Prefix}-{p}").ToArray()),
            new NpgsqlParameter("known", model.Movements.Take(known).Select(m => m.Id).DefaultIfEmpty().Max()),
        },
    };

    static void Compare(IEnumerable<string> database, IEnumerable<string> expected, List<string> differences)
    {
        var left = expected.GroupBy(e => e).ToDictionary(e => e.Key, e => e.Count());
        foreach (var one in database)
            left[one] = left.GetValueOrDefault(one) - 1;
        differences.AddRange(left.Where(l => l.Value != 0).OrderBy(l => l.Key, StringComparer.Ordinal).ThenBy(l => l.Value)
            .Select(l => $"{(l.Value > 0 ? "expected" : "database")}: {l.Key}"));
    }

    IEnumerable<string> Expected()
    {
        foreach (var order in model.Orders)
        {
            yield return $"order {order.Number}: {order.State}";
            foreach (var l in order.Lines)
                yield return $"line {order.Number} {Part(l.Part)} {l.Source}: gross {Q(l.Gross)}, built {Q(l.Built)}, picked {Q(l.Picked)}, reserved {Q(l.Held)}, short {Q(l.Short)}, let go {(l.LetGo ? "t" : "f")}";
            foreach (var r in order.Lines.SelectMany(l => l.ReplacedBy))
                yield return $"replaced {order.Number} {Part(r.Line.Part)} {r.Line.Source}: {Q(r.Quantity)} by {Part(r.By.Part)}";
            foreach (var (l, h) in order.Holds.Where(h => h.Hold.Held != 0 || h.Hold.Picked != 0))
                yield return $"{NameOf(l, h)}: held {Q(h.Held)}, picked {Q(h.Picked)}, fitted {Q(h.Fitted)}, returned {Q(h.Returned)}, scrapped {Q(h.Scrapped)}";
        }
        foreach (var l in model.Lots)
            yield return $"lot {Part(l.Part)} {l.Number}: received {Day(l.Received)}, cured {(l.Cured is { } cured ? Day(cured) : "unknown")}, good until {Day(l.Expires)}, inspected {(l.Inspected ? "t" : "f")}, aside {(l.Aside ? "t" : "f")}";
        foreach (var ((lot, bin), quantity) in model.OnHand.Where(o => o.Value != 0 || model.Reserved(o.Key.Lot, o.Key.Bin) != 0))
            yield return $"stock {Part(lot.Part)} {lot.Number} {bin}: on hand {Q(quantity)}, reserved {Q(model.Reserved(lot, bin))}";
    }

    string NameOf(ModelLine line, ModelHold hold) => $"hold {line.Order.Number} {Part(line.Part)} {line.Source} {hold.Lot.Number} {hold.Bin}";

    string TextOf(ModelMovement m) => $"moved {m.Kind} {Part(m.Lot.Part)} {m.Lot.Number} {m.Bin}: {Q(m.Quantity)} for {m.Order?.Number ?? "nobody"}";

    string Part(string part) => $"{model.Prefix}-{part}";

    static string Q(decimal quantity) => quantity.ToString("0.####", CultureInfo.InvariantCulture);

    static string Day(DateOnly day) => day == DateOnly.MaxValue ? "infinity" : day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
