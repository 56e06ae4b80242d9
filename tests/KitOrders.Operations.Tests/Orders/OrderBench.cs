using KitOrders.Operations.Orders;
using KitOrders.Operations.People;
using KitOrders.Operations.Stock;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.TestPlants;
using Xunit;

namespace KitOrders.Operations.Tests.Orders;

/// <summary>The plant of the worked example with one person of every role, on Monday 2 March 2026.</summary>
public sealed class OrderBench : IAsyncDisposable
{
    readonly ImportBench plant;

    OrderBench(ImportBench plant) => this.plant = plant;

    public static readonly DateOnly Today = new(2026, 3, 2);

    public static CancellationToken Ct => TestContext.Current.CancellationToken;

    internal Desk Desk => plant.Desk;

    internal Storage.KitOrdersDb Db() => plant.Db();

    internal ImportBench Plant => plant;

    public Call Planner { get; private set; } = null!;
    public Call Clerk { get; private set; } = null!;
    public Call Technician { get; private set; } = null!;
    public Call Manager { get; private set; } = null!;

    public static async Task<OrderBench> New(TestDatabase databases)
    {
        var bench = new OrderBench(await ImportBench.New(databases));
        foreach (var (file, csv) in WorkedPlant.Files)
            await bench.plant.Good(file, csv);
        bench.Planner = new Call(await bench.plant.Add("Petra Planner", Roles.Planner));
        bench.Clerk = new Call(await bench.plant.Add("Carl Clerk", Roles.Storeroom));
        bench.Technician = new Call(await bench.plant.Add("Tess Technician", Roles.Technician));
        bench.Manager = new Call(await bench.plant.Add("Max Manager", Roles.Manager));
        return bench;
    }

    public async Task<string> Draft(string pump = "P-1", int neededIn = 10, int workClass = 5, IReadOnlyList<KitAsk>? kits = null, bool breakdown = false) =>
        Must(await new CreateOrder(Desk).Run(Planner, new NewOrder(pump, "CONV", Today.AddDays(neededIn), workClass) { Kits = kits, Breakdown = breakdown }, Ct));

    public async Task<string> Opened(string pump = "P-1", int neededIn = 10, int workClass = 5)
    {
        var number = await Draft(pump, neededIn, workClass);
        Must(await new OpenOrder(Desk).Run(Planner, number, Ct));
        return number;
    }

    /// <summary>Opens an order and picks everything it holds.</summary>
    public async Task<string> Picked(string pump = "P-1")
    {
        var number = await Opened(pump);
        Must(await new PickLines(Desk).Run(Clerk, number, [.. (await Held(number)).Select(r => new PickInput(r.Id, r.Quantity))], Ct));
        return number;
    }

    public async Task<string> Underway(string pump = "P-1")
    {
        var number = await Picked(pump);
        Must(await new StageOrder(Desk).Run(Clerk, number, "S-1", null, Ct));
        Must(await new StartOrder(Desk).Run(Technician, number, null, Ct));
        return number;
    }

    /// <summary>Records every step as specified, keeps both valves, and finishes.</summary>
    public async Task<string> Finished(string pump = "P-1")
    {
        var number = await Underway(pump);
        await Preliminaries(number);
        for (var piece = 1; piece <= 2; piece++)
            Must(await Record(number, 6, new StepInput(StepOutcome.AsSpecified) { Decision = CarryOverDecision.Reuse }));
        for (var pass = 1; pass <= 2; pass++)
            Must(await Record(number, 7, new StepInput(StepOutcome.AsSpecified) { Pass = pass, Value = pass == 1 ? 4.7m : 9.4m, Unit = "Nm" }));
        Must(await Record(number, 8, new StepInput(StepOutcome.AsSpecified)));
        Must(await Record(number, 9, new StepInput(StepOutcome.AsSpecified)));
        Must(await new FinishOrder(Desk).Run(Technician, number, [new HoursInput("Tess Technician", 3)], 4, 1_000, Ct));
        return number;
    }

    public async Task Preliminaries(string number)
    {
        for (var step = 1; step <= 4; step++)
            Must(await Record(number, step, new StepInput(StepOutcome.AsSpecified)));
        Must(await Record(number, 5, new StepInput(StepOutcome.AsSpecified) { Value = 0, Unit = "bar" }));
        Must(await new ReleaseHold(Desk, new CheckPin(Desk)).Release(Technician, number, 5, Technician.Actor, Ct));
    }

    public Task<Outcome<string>> Record(string number, int step, StepInput input) =>
        new RecordStep(Desk, new CheckPin(Desk)).Run(Technician, number, step, input, Ct);

    public async Task<OrderView> View(string number) => Must(await new OrderBook(Desk).One(number, Ct));

    public async Task<IReadOnlyList<ReservationView>> Held(string number) =>
        [.. (await View(number)).Demand.SelectMany(l => l.Reservations).Where(r => r.Quantity > 0)];

    public async Task<DemandView> Line(string number, string part) => (await View(number)).Demand.Single(l => l.Part == part);

    public async Task<decimal> Free(string part) => (await Ledger(part)).Totals.Available;

    public async Task<PartLedgerView> Ledger(string part) => Must(await new PartLedger(Desk).Read(part, null, Ct));

    public static T Must<T>(Outcome<T> outcome)
    {
        Assert.True(outcome.IsDone, outcome.Refusal is { } r ? $"{r.Code}: {r.Sentence}" : "");
        return outcome.Value;
    }

    public static Refusal Refused<T>(Outcome<T> outcome, string code)
    {
        Assert.NotNull(outcome.Refusal);
        Assert.Equal(code, outcome.Refusal.Code);
        return outcome.Refusal;
    }

    /// <summary>Whatever a test did, stock must be true at its end.</summary>
    public async ValueTask DisposeAsync()
    {
        var truth = await new StockTruth(Desk).Read(Ct);
        await plant.DisposeAsync();
        Assert.All(truth, check => Assert.True(check.Holds, $"{check.Check}: {string.Join("; ", check.Broken)}"));
    }
}
