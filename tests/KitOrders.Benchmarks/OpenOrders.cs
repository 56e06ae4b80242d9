using System.Collections.Concurrent;
using System.Diagnostics;

namespace KitOrders.Benchmarks;

/// <summary>The product and the floor at one number of clients, by turns on one database, so that whatever disturbs hits both.</summary>
sealed record OpenPoint(bool Hot, int Clients, Slice Product, Slice Floor, double RoundTrips, IReadOnlyList<string> Untrue)
{
    public string Name => $"{(Hot ? "hot" : "spread")}, {Clients} client{(Clients == 1 ? "" : "s")}";
}

sealed class OpenOrders(Machine machine, string database, Size size, Pace pace)
{
    /// <summary>More than either can open; what is left over stays a draft.</summary>
    const int MostPerSecond = 2_500;

    readonly Drafts drafts = new(machine.Owner(database), size);

    public Drafts Drafts => drafts;

    public async Task<OpenPoint> Measure(Product product, bool hot, int clients)
    {
        await Opened(product, hot, clients, pace.WarmUp);
        var (ours, floor) = (new List<Slice>(), new List<Slice>());
        for (var round = 0; round < pace.Rounds; round++)
        {
            ours.Add(await Opened(product, hot, clients, pace.Slice));
            floor.Add(await Floor.Run(machine, database, clients, pace.Slice, await drafts.Make((int)(MostPerSecond * (pace.Slice + 3)), hot)));
        }

        var trips = await RoundTripsOf(hot);
        return new OpenPoint(hot, clients, Slice.Of(ours), Slice.Of(floor), trips, await product.Untrue());
    }

    /// <summary>So many clients open drafts one after the other for the seconds.</summary>
    public async Task<Slice> Opened(Product product, bool hot, int clients, double seconds)
    {
        var count = (int)(MostPerSecond * seconds / 2) + 200;
        var first = await drafts.Make(count, hot);
        var (taken, retries) = (-1, Product.Retries);
        var waits = new ConcurrentBag<double>();
        var before = await Meter.Read(machine, database, Environment.ProcessId);
        var clock = Stopwatch.StartNew();
        await Task.WhenAll(Enumerable.Range(0, clients).Select(client => Task.Run(async () =>
        {
            while (clock.Elapsed.TotalSeconds < seconds && Interlocked.Increment(ref taken) is var n && n < count)
            {
                var began = Stopwatch.GetTimestamp();
                await product.Open(client, $"D{first + n}");
                waits.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
            }
        })));
        var lasted = clock.Elapsed.TotalSeconds;
        return new Slice([.. waits], (await Meter.Read(machine, database, Environment.ProcessId)).Since(before), lasted, Product.Retries - retries);
    }

    async Task<double> RoundTripsOf(bool hot)
    {
        const int Warm = 10, Counted = 30;
        var first = await drafts.Make(Warm + Counted, hot);
        await using var counted = await CountedProduct.On(machine.App(database));
        return await counted.Average(Warm, Counted, n => counted.Product.Open(n % FillPlant.People, $"D{first + n}"));
    }
}

/// <summary>How long everything is measured.</summary>
/// <param name="WarmUp">Seconds before each point.</param>
/// <param name="Slice">Seconds of one stretch.</param>
sealed record Pace(double WarmUp, double Slice, int Rounds)
{
    public static readonly Pace Full = new(20, 5, 3);
    public static readonly Pace Quick = new(2, 2.5, 1);
}
