using System.Diagnostics;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;

namespace KitOrders.Benchmarks;

/// <param name="Lines">Lines picked, or shortages covered, by one call.</param>
sealed record CallPoint(string Name, double RoundTrips, double P50, double Lines);

/// <summary>Picking an order of twenty lines, and receiving a lot for which a hundred lines wait.</summary>
sealed class PickAndReceive(Machine machine, string database, Size size, OpenOrders orders)
{
    public async Task<CallPoint> Pick()
    {
        const int Warm = 5, Counted = 30;
        var first = await orders.Drafts.Make(Warm + Counted, hot: false);
        await using var counted = await CountedProduct.On(machine.App(database));
        for (var n = 0; n < Warm + Counted; n++)
        {
            await counted.Product.Open(n, $"D{first + n}");
        }

        var held = (await Sql.Rows(machine.Owner(database), $"select order_id, id, held from reservation where order_id between {first} and {first + Warm + Counted - 1} and held > 0",
            r => (Order: r.GetInt32(0), Line: new PickInput(r.GetInt32(1), r.GetDecimal(2))))).ToLookup(r => r.Order, r => r.Line);
        var waits = new List<double>();
        var trips = await counted.Average(Warm, Counted, async n => waits.Add(await Timed(() => counted.Product.Pick($"D{first + n}", [.. held[first + n]]))));
        return new CallPoint("pick the lines of an order", trips, new Slice(waits[Warm..], Nothing, 1, 0).P50, held.Average(o => o.Count()));
    }

    public async Task<CallPoint> Receive()
    {
        const int Warm = 4;
        var counted = Size.WantedParts - Warm;
        await using var product = await CountedProduct.On(machine.App(database));
        var (waits, covered) = (new List<double>(), 0);
        var trips = await product.Average(Warm, counted, async n => waits.Add(await Timed(async () =>
        {
            var answer = await product.Product.Receive(new Receipt($"WANTED-{n + 1}", Size.WaitingOrders, "B-0001") { Lot = "NEW", UnitCost = 3 });
            covered += answer.Covered.Count;
        })));
        return covered == Size.WaitingOrders * Size.WantedParts
            ? new CallPoint("receive a lot that covers waiting lines", trips, new Slice(waits[Warm..], Nothing, 1, 0).P50, Size.WaitingOrders)
            : throw new InvalidOperationException($"{covered} of {Size.WaitingOrders * Size.WantedParts} waiting lines were covered ({size.Name}).");
    }

    static readonly Meter Nothing = new(0, 0, 0, 0, 0, 0);

    static async Task<double> Timed(Func<Task> call)
    {
        var began = Stopwatch.GetTimestamp();
        await call();
        return Stopwatch.GetElapsedTime(began).TotalMilliseconds;
    }
}
