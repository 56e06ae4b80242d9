using System.Diagnostics;
using System.Globalization;
using KitOrders.Storage;
using Npgsql;

namespace KitOrders.Benchmarks;

/// <summary>
/// What the database needs for the reservations alone: one function, one transaction, driven by pgbench. It locks the parts in
/// part order in one statement, then in a second one takes what is free, first expiry first out and partially, and writes the
/// demand lines with what is short, the reservations and the balances.
/// </summary>
static class Floor
{
    public static IEnumerable<string> Made(string appRole) =>
    [
        """
        create or replace function bench.reserve_order(p_order int) returns void language plpgsql as $$
        declare opened_lines int;
        begin
          perform 1 from part_stock s join bench.need n on n.part_id = s.part_id join order_kit k on k.kit_part_id = n.kit_part_id
            where k.order_id = p_order order by s.part_id for no key update of s;
          with opened as (
            update work_order set state = 'open', opened_at = now(), version = version + 1 where id = p_order and state = 'draft'
            returning id, coalesce(planned_fit_on, needed_by) as fit_on
          ), need as (
            select o.id as order_id, o.fit_on, n.part_id, n.quantity * k.quantity as quantity
            from opened o join order_kit k on k.order_id = o.id join bench.need n on n.kit_part_id = k.kit_part_id
          ), run as (
            select n.part_id, n.quantity, s.lot_id, s.bin_id, s.on_hand - s.reserved as free,
                   sum(s.on_hand - s.reserved) over (partition by n.part_id order by l.expires_on, l.received_on, s.on_hand - s.reserved, l.number collate "C", b.walk_order)
                     - (s.on_hand - s.reserved) as before
            from need n join bin_stock s on s.part_id = n.part_id join lot l on l.id = s.lot_id join bin b on b.id = s.bin_id
            where s.on_hand > s.reserved and l.quarantine is null and l.expires_on >= n.fit_on
          ), take as (
            select part_id, lot_id, bin_id, least(free, quantity - before) as quantity from run where before < quantity
          ), line as (
            insert into demand_line (order_id, part_id, source, gross, built, required, picked, reserved, short, spare, origins)
            select n.order_id, n.part_id, 'inTheBox', n.quantity, 0, n.quantity, 0, coalesce(t.quantity, 0), n.quantity - coalesce(t.quantity, 0), false, '[]'
            from need n left join (select part_id, sum(quantity) as quantity from take group by part_id) t on t.part_id = n.part_id
            returning id, order_id, part_id
          ), stock as (
            update bin_stock s set reserved = s.reserved + t.quantity from take t where s.lot_id = t.lot_id and s.bin_id = t.bin_id
          ), held as (
            insert into reservation (demand_line_id, order_id, part_id, lot_id, bin_id, held, picked, fitted, returned, scrapped)
            select l.id, l.order_id, l.part_id, t.lot_id, t.bin_id, t.quantity, 0, 0, 0, 0 from take t join line l on l.part_id = t.part_id
          )
          select count(*) into opened_lines from line;
          if opened_lines = 0 then
            raise exception 'order % is no draft', p_order;
          end if;
        end $$
        """,
        $"grant select on all tables in schema bench to {appRole}",
        $"grant execute on all functions in schema bench to {appRole}",
    ];

    /// <summary>Runs pgbench for the seconds and a little longer, and answers what fell into them.</summary>
    public static async Task<Slice> Run(Machine machine, string database, int clients, double seconds, int firstDraft)
    {
        var folder = Directory.CreateTempSubdirectory("kitorders-floor-");
        try
        {
            var script = Path.Combine(folder.FullName, "open.sql");
            // Each client walks a run of drafts of its own.
            await File.WriteAllTextAsync(script, "\\set n :n + 1\n\\set o :base + :client_id + (:n - 1) * :clients\nselect bench.reserve_order(:o);\n");
            var to = new NpgsqlConnectionStringBuilder(machine.App(database));
            var start = new ProcessStartInfo(Path.Combine(machine.Programs, "pgbench"),
            [
                "-n", "-M", "prepared", "-h", to.Host!, "-p", to.Port.ToString(CultureInfo.InvariantCulture), "-U", to.Username!,
                "-c", clients.ToString(CultureInfo.InvariantCulture), "-j", Math.Min(clients, 2).ToString(CultureInfo.InvariantCulture),
                "-T", Math.Ceiling(seconds + 2).ToString(CultureInfo.InvariantCulture), "-f", script, "-D", "n=0",
                "-D", $"clients={clients}", "-D", $"base={firstDraft}", "-l", $"--log-prefix={folder.FullName}/log", database,
            ]) { RedirectStandardOutput = true, RedirectStandardError = true };
            using var bench = Process.Start(start)!;
            var said = Task.WhenAll(bench.StandardOutput.ReadToEndAsync(), bench.StandardError.ReadToEndAsync());
            await Task.Delay(TimeSpan.FromSeconds(1));
            var (before, from) = (await Meter.Read(machine, database, bench.Id), DateTimeOffset.UtcNow);
            await Task.Delay(TimeSpan.FromSeconds(seconds));
            var (after, until) = (await Meter.Read(machine, database, bench.Id), DateTimeOffset.UtcNow);
            await bench.WaitForExitAsync();
            if (bench.ExitCode != 0)
            {
                throw new InvalidOperationException($"pgbench ended with {bench.ExitCode}: {string.Join('\n', await said)}");
            }

            var waits = Directory.EnumerateFiles(folder.FullName, "log*").SelectMany(File.ReadLines).Select(l => l.Split(' '))
                .Where(f => AtOf(f) >= from && AtOf(f) < until).Select(f => double.Parse(f[2], CultureInfo.InvariantCulture) / 1000).ToList();
            return new Slice(waits, after.Since(before), (until - from).TotalSeconds, Retries: 0);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <summary>Client, number, microseconds, script, second and microsecond of its end.</summary>
    static DateTimeOffset AtOf(string[] fields) => DateTimeOffset.FromUnixTimeSeconds(long.Parse(fields[4], CultureInfo.InvariantCulture))
        .AddMicroseconds(long.Parse(fields[5], CultureInfo.InvariantCulture));
}
