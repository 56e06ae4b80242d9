using System.Globalization;

namespace KitOrders.Benchmarks;

/// <summary>What server and client have used up so far. Differences of two readings are what one slice cost.</summary>
/// <param name="Server">Processor seconds of the backends that serve connections; not of the writers behind them.</param>
/// <param name="Client">Processor seconds of the client process.</param>
/// <param name="Busy">Processor seconds of the whole machine, to see what else ran.</param>
sealed record Meter(double Server, double Client, double Busy, long Wal, long Deadlocks, long At)
{
    const double Tick = 100;

    public static async Task<Meter> Read(Machine machine, string database, int client)
    {
        var rows = await Sql.Rows(machine.Owner(database), """
            select (pg_current_wal_insert_lsn() - '0/0')::bigint, (select deadlocks from pg_stat_database where datname = current_database())
            """, r => (Wal: r.GetInt64(0), Deadlocks: r.GetInt64(1)));
        return new Meter(Backends(machine.Postmaster), Used(client), Whole(), rows[0].Wal, rows[0].Deadlocks, Environment.TickCount64);
    }

    public Meter Since(Meter earlier) => new(Server - earlier.Server, Client - earlier.Client, Busy - earlier.Busy, Wal - earlier.Wal, Deadlocks - earlier.Deadlocks, At - earlier.At);

    public double Seconds => At / 1000.0;

    /// <summary>Cores that neither the client nor the backends used.</summary>
    public double Others => (Busy - Server - Client) / Seconds;

    static double Backends(int postmaster) => File.ReadAllText($"/proc/{postmaster}/task/{postmaster}/children")
        .Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(id => int.Parse(id, CultureInfo.InvariantCulture))
        .Where(id => Title(id).Contains("[local]", StringComparison.Ordinal)).Sum(Used);

    static string Title(int id) => File.Exists($"/proc/{id}/cmdline") ? File.ReadAllText($"/proc/{id}/cmdline") : "";

    /// <summary>User and system time of one process; 0 when it is gone.</summary>
    static double Used(int id)
    {
        try
        {
            var text = File.ReadAllText($"/proc/{id}/stat");
            var fields = text[(text.LastIndexOf(')') + 2)..].Split(' ');
            return (long.Parse(fields[11], CultureInfo.InvariantCulture) + long.Parse(fields[12], CultureInfo.InvariantCulture)) / Tick;
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException or IOException)
        {
            return 0;
        }
    }

    static double Whole()
    {
        var fields = File.ReadLines("/proc/stat").First().Split(' ', StringSplitOptions.RemoveEmptyEntries)[1..9]
            .Select(f => long.Parse(f, CultureInfo.InvariantCulture)).ToArray();
        return (fields.Sum() - fields[3] - fields[4]) / Tick;
    }
}
