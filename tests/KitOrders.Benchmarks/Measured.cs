using System.Diagnostics;
using KitOrders.Storage;

namespace KitOrders.Benchmarks;

/// <summary>Runs the points, prints them and holds them against what must be reached.</summary>
static class Measured
{
    public static async Task All(Report report, Asked asked)
    {
        var (size, pace) = asked.Quick ? (Size.Quick, Pace.Quick) : (Size.Full, Pace.Full);
        var clock = Stopwatch.StartNew();
        await using var machine = await Machine.Start(asked.Keep);
        if (asked.Only.Contains("matrix"))
        {
            Pairs(report, await new Matrix(machine).Measure());
            if (asked.Only is ["matrix"])
            {
                report.Targets();
                return;
            }
        }

        var database = await machine.Filled(size);
        report.Say($"{size.Parts:N0} parts of {Size.LotsPerPart} lots, {size.Orders:N0} orders, {size.Movements:N0} movements; {Environment.ProcessorCount} cores. Filled after {clock.Elapsed:m\\:ss}.");
        await using var product = await Product.On(machine.App(database));
        await Truth(report, "after the fill", product);
        if (asked.Only.Contains("lists"))
        {
            await Lists(report, new Lists(product, DbSetup.Tuned(machine.App(database)), size, asked.Quick));
        }

        var orders = new OpenOrders(machine, database, size, pace);
        if (asked.Only.Contains("open"))
        {
            await Open(report, orders, product, asked.Clients);
        }

        if (asked.Only.Contains("open") && !asked.Quick)
        {
            await Growth(report, machine, orders, product, pace);
        }

        var calls = new PickAndReceive(machine, database, size, orders);
        if (asked.Only.Contains("pick"))
        {
            Call(report, await calls.Pick());
        }

        if (asked.Only.Contains("receive"))
        {
            Call(report, await calls.Receive());
        }

        await Truth(report, "at the end", product);
        report.Targets();
        report.Say($"It took {clock.Elapsed:m\\:ss}.");
    }

    static void Pairs(Report report, IReadOnlyList<MatrixTurn> turns)
    {
        static double Median(IEnumerable<double> values) => values.Order().ElementAt(Matrix.Turns / 2);
        report.Head($"Suitability of {MatrixPlant.Pumps:N0} pumps × {MatrixPlant.Kits} kits, ms: judged by the operation; rows first painted, and painted to stay, in Chromium at the running program", "turn", "judged", "first rows", "rows that stay");
        foreach (var (turn, n) in turns.Select((t, n) => (t, n)))
        {
            report.Row(n + 1, turn.Judged, turn.First, turn.Painted);
        }

        report.Row("median", Median(turns.Select(t => t.Judged)), Median(turns.Select(t => t.First)), Median(turns.Select(t => t.Painted)));
        report.Most("matrix: judged and its first screen painted, median of 7", Median(turns.Select(t => t.Painted)), 2_000, " ms");
    }

    static async Task Lists(Report report, Lists lists)
    {
        report.Head("Lists: the product beside the plain statement, one client", "list", "ms", "plain", "ratio", "rows", "plain");
        await foreach (var point in lists.Measure())
        {
            report.Row(point.Name, point.Product, point.Floor, point.Product / point.Floor, point.Rows, point.Plain);
            report.Most($"{point.Name}: time of the plain statement's", point.Product / point.Floor, 2, "×");
        }
    }

    static async Task Open(Report report, OpenOrders orders, Product product, IReadOnlyList<int> clients)
    {
        report.Head("Open an order of 20 lines: the product beside the floor", "parts, clients", "orders/s", "floor", "ratio", "p50 ms", "floor", "p99 ms", "floor",
            "server CPU ms", "floor", "client CPU ms", "floor", "WAL kB", "floor", "round trips", "retries", "deadlocks", "other cores", "untrue");
        foreach (var (hot, count) in new[] { false, true }.SelectMany(hot => clients.Select(c => (hot, c))))
        {
            var point = await orders.Measure(product, hot, count);
            var (ours, floor) = (point.Product, point.Floor);
            report.Row(point.Name, ours.PerSecond, floor.PerSecond, ours.PerSecond / floor.PerSecond, ours.P50, floor.P50, ours.P99, floor.P99,
                ours.ServerMs, floor.ServerMs, ours.ClientMs, floor.ClientMs, ours.WalKb, floor.WalKb, point.RoundTrips, ours.Retries,
                ours.Used.Deadlocks + floor.Used.Deadlocks, ours.Used.Others, point.Untrue.Count);
            Hold(report, point);
        }
    }

    static void Hold(Report report, OpenPoint point)
    {
        var (ours, floor) = (point.Product, point.Floor);
        report.Least($"{point.Name}: orders/s of the floor's", ours.PerSecond / floor.PerSecond, 0.6, "×");
        report.Most($"{point.Name}: p99 of the floor's", ours.P99 / floor.P99, 3, "×");
        if (point.Clients == 1)
        {
            report.Most($"{point.Name}: server CPU of the floor's", ours.ServerMs / floor.ServerMs, 1.5, "×");
            report.Most($"{point.Name}: server and client CPU of the floor's", (ours.ServerMs + ours.ClientMs) / (floor.ServerMs + floor.ClientMs), 2, "×");
        }

        report.Most($"{point.Name}: deadlocks", ours.Used.Deadlocks + floor.Used.Deadlocks, 0);
        report.Most($"{point.Name}: round trips", point.RoundTrips, 6);
        report.Most($"{point.Name}: checks of stock truth that do not hold", point.Untrue.Count, 0);
        foreach (var untrue in point.Untrue)
        {
            report.Say(untrue);
        }
    }

    /// <summary>One client, by turns on the filled database and on one that has hardly a history.</summary>
    static async Task Growth(Report report, Machine machine, OpenOrders grown, Product product, Pace pace)
    {
        var database = await machine.Filled(Size.Young);
        var young = new OpenOrders(machine, database, Size.Young, pace);
        await using var youngProduct = await Product.On(machine.App(database));
        await young.Opened(youngProduct, hot: false, clients: 1, pace.WarmUp / 4);
        var (big, small) = (new List<Slice>(), new List<Slice>());
        for (var round = 0; round < pace.Rounds; round++)
        {
            small.Add(await young.Opened(youngProduct, hot: false, clients: 1, pace.Slice));
            big.Add(await grown.Opened(product, hot: false, clients: 1, pace.Slice));
        }

        var (few, many) = (Slice.Of(small), Slice.Of(big));
        report.Head("Growth: one client, parts spread", "movements", "orders/s", "p50 ms", "p99 ms", "server CPU ms");
        report.Row($"{Size.Young.Movements:N0}", few.PerSecond, few.P50, few.P99, few.ServerMs);
        report.Row($"{Size.Full.Movements:N0}", many.PerSecond, many.P50, many.P99, many.ServerMs);
        report.Most("slower with 4,000,000 movements than with 40,000", 100 * ((few.PerSecond / many.PerSecond) - 1), 15, " %");
        await Truth(report, "of the young database", youngProduct);
    }

    static void Call(Report report, CallPoint point)
    {
        report.Head(point.Name, "lines", "round trips", "p50 ms");
        report.Row(point.Lines, point.RoundTrips, point.P50);
        report.Most($"{point.Name}: round trips", point.RoundTrips, 8);
    }

    static async Task Truth(Report report, string when, Product product)
    {
        var untrue = await product.Untrue();
        report.Most($"checks of stock truth that do not hold {when}", untrue.Count, 0);
        foreach (var line in untrue)
        {
            report.Say(line);
        }
    }
}
