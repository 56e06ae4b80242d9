using System.Diagnostics;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Planning;
using KitOrders.Operations.Stock;
using Npgsql;

namespace KitOrders.Benchmarks;

/// <summary>One list, read by the product and by the plain statement that answers the same, by turns.</summary>
/// <param name="Plain">Rows that the plain statement answered, so that it is seen to have found something.</param>
sealed record ListPoint(string Name, double Product, double Floor, int Rows, int Plain);

/// <summary>
/// Lists at the size of the filled database, one client, the statement prepared on a connection that is open. The plain
/// statements answer what the page shows, no more.
/// </summary>
sealed class Lists(Product product, string connectionString, Size size, bool quick)
{
    const string Living = "o.state in ('draft', 'open', 'staged', 'underway', 'finished')";

    const string Orders = """
        select o.number, s.tag, s.area, j.code, j.description, o.state, o.paused, o.score, o.work_class, o.needed_by, o.fit_on, o.estimated_hours, l.*
        from work_order o join position s on s.id = o.position_id join job j on j.id = o.job_id
        cross join lateral (select sum(picked), sum(reserved), sum(short), count(*), count(*) filter (where short = 0),
            (select json_agg(json_build_array(p.number, p.description, h.short)) from demand_line h join part p on p.id = h.part_id where h.order_id = o.id and h.short > 0)
          from demand_line where order_id = o.id and required > 0) l
        """;

    readonly int turns = quick ? 15 : 60;

    public async IAsyncEnumerable<ListPoint> Measure()
    {
        var list = product.Get<OrderList>();
        string? after = null;
        for (var page = 1; page < 40; page++)
        {
            after = (await list.Find(new OrderFilter(), after, 50, default)).Value.Next ?? after;
        }

        var key = (await Sql.Rows(connectionString, $"select -score, fit_on, id from work_order where number = '{after}'", r => (r.GetInt32(0), r.GetFieldValue<DateOnly>(1), r.GetInt32(2))))[0];
        yield return await Point("orders by score, page 1 of 50", $"{Orders} where {Living} order by (-o.score), o.fit_on, o.id limit 50", async _ => (await list.Find(new OrderFilter(), null, 50, default)).Value.Items.Count);
        yield return await Point("orders by score, page 40 of 50, by key", $"{Orders} where {Living} and ((-o.score), o.fit_on, o.id) > ({key.Item1}, '{key.Item2:yyyy-MM-dd}', {key.Item3}) order by (-o.score), o.fit_on, o.id limit 50",
            async _ => (await list.Find(new OrderFilter(), after, 50, default)).Value.Items.Count);
        yield return await Point("orders by fit date, page 1 of 50", $"{Orders} where {Living} order by o.fit_on, (-o.score), o.id limit 50",
            async _ => (await list.Find(new OrderFilter { Sort = OrderSort.FitOn }, null, 50, default)).Value.Items.Count);

        var parts = await Sql.Rows(connectionString, $"select id, number from part where id in (select 1 + (i * 7919) % {size.Parts} from generate_series(1, 200) i)", r => (Id: r.GetInt32(0), Number: r.GetString(1)));
        var moved = product.Get<MovementsPage>();
        yield return await Point("part ledger, last 100 movements with balance", """
            select m.id, m.at, m.kind, l.number, b.code, m.quantity, m.on_hand_after, o.number, p.name, m.unit_cost, m.reason, m.corrects_id, (select c.id from movement c where c.corrects_id = m.id limit 1)
            from movement m join lot l on l.id = m.lot_id join bin b on b.id = m.bin_id join person p on p.id = m.person_id left join work_order o on o.id = m.order_id
            where m.part_id = $1 order by m.id desc limit 100
            """, async n => (await moved.Read(parts[n % parts.Count].Number, null, 100, true, default)).Value.Items.Count, n => parts[n % parts.Count].Id);

        var jump = product.Get<Jump>();
        yield return await Point("search, a number begins so", Begins, async n => (await jump.Find(parts[n % parts.Count].Number[..6], default)).Count, n => parts[n % parts.Count].Number[..6] + "%");
        yield return await Point("search, two words", Contains, async n => (await jump.Find(Words(n), default)).Count, n => $"%{Words(n)}%");
        yield return await Point("search, misspelt", Similar, async n => (await jump.Find(Misspelt(n), default)).Count, Misspelt);

        var shortages = product.Get<ShortageList>();
        yield return await Point("shortages by part, all", """
            select p.number, p.description, s.short, s.orders, s.hours, i.first, coalesce(c.average_cost, p.unit_cost), p.lead_time_days
            from (select part_id, sum(short) as short, sum(estimated_hours) as hours, array_agg(number order by criticality * work_class desc, needed_by, opened_at, number) as orders
                  from (select l.part_id, o.number, o.estimated_hours, o.work_class, o.needed_by, o.opened_at, c.criticality, sum(l.short) as short
                        from demand_line l join work_order o on o.id = l.order_id join position c on c.id = o.position_id
                        where l.short > 0 and l.released_by_id is null and o.state in ('open', 'staged', 'underway') group by 1, 2, 3, 4, 5, 6, 7) d group by part_id) s
            join part p on p.id = s.part_id join part_stock c on c.part_id = p.id
            left join lateral (select min(promised_on) as first from incoming where part_id = p.id and received < quantity) i on true
            order by s.hours desc, s.short desc, p.number
            """, async _ => (await shortages.Read(null, default)).Count);
    }

    const string Begins = "select number, description, barcode from part where number ilike $1 order by number limit 24";
    const string Contains = "select number, description, barcode from part where (number || ' ' || description) ilike $1 order by number limit 24";
    const string Similar = "select p.number, p.description, p.barcode from similar_parts($1, 12) with ordinality s(id, rank) join part p on p.id = s.id order by s.rank";

    static readonly string[] first = ["Seal, upper", "Gasket, lower", "Valve, inner", "Spring, outer", "Bolt, left", "Hose, main"];
    static readonly string[] wrong = ["gaskte", "diaphram", "connectr", "muffelr", "bracktet", "bearng"];

    static string Words(int n) => first[n % first.Length];

    static string Misspelt(int n) => wrong[n % wrong.Length];

    async Task<ListPoint> Point(string name, string plain, Func<int, Task<int>> ask, Func<int, object>? value = null)
    {
        await using var connection = new NpgsqlConnection(connectionString);
        await connection.OpenAsync();
        await using var command = Sql.Command(connection, plain);
        if (value is not null)
        {
            command.Parameters.Add(new() { Value = value(0) });
        }

        await command.PrepareAsync();
        var (ours, floor, rows, plainRows) = (new List<double>(), new List<double>(), 0, 0);
        // The first turns fill caches and plans.
        const int Warm = 8;
        for (var n = 0; n < turns + Warm; n++)
        {
            var began = Stopwatch.GetTimestamp();
            rows = await ask(n);
            ours.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
            if (value is not null)
            {
                command.Parameters[0].Value = value(n);
            }

            began = Stopwatch.GetTimestamp();
            plainRows = await Read(command);
            floor.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        }

        return new ListPoint(name, Median(ours[Warm..]), Median(floor[Warm..]), rows, plainRows);
    }

    /// <summary>Every column of every row is taken up.</summary>
    static async Task<int> Read(NpgsqlCommand command)
    {
        await using var reader = await command.ExecuteReaderAsync();
        var (rows, values) = (0, new object[reader.FieldCount]);
        while (await reader.ReadAsync())
        {
            reader.GetValues(values);
            rows++;
        }

        return rows;
    }

    static double Median(List<double> waits) => waits.Order().ElementAt(waits.Count / 2);
}
