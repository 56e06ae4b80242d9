using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Rules;
using KitOrders.Rules.People;
using Xunit;

namespace KitOrders.Operations.Tests.Stock;

/// <summary>
/// A small plant on Monday 2 March 2026: plugs, seals and a boxed kit of them, five positions from pressing to not, one job
/// whose kits every order names itself. When a test ends, everything that must be true of stock is asked.
/// </summary>
public sealed class StockBench : IAsyncDisposable
{
    readonly ImportBench plant;

    StockBench(ImportBench plant) => this.plant = plant;

    public static CancellationToken Ct => TestContext.Current.CancellationToken;

    public static readonly DateOnly Today = new(2026, 3, 2);

    internal Desk Desk => plant.Desk;
    internal StoppedClock Clock => plant.Clock;
    internal Storage.KitOrdersDb Db() => plant.Db();

    /// <summary>Planner, clerk and all else in one person.</summary>
    public Call Call => new(plant.Actor);

    public Task<Actor> Add(string name, Roles roles) => plant.Add(name, roles);

    public static async Task<StockBench> New(TestDatabase databases)
    {
        var plant = await ImportBench.New(databases);
        await plant.Good("parts", """
            part,description,unit,elastomers,unit_cost,lead_time_days
            PLUG,"Plug, 1/4",each,,2.00,5
            SEAL,"Seal, valve",each,NBR,4.00,10
            RING,"Ring, PTFE",each,PTFE,,
            HOSE,"Hose, 8 mm",m,,1.50,3
            BOX,"Seal box, sealed",set,,11.00,20
            JP,"Plug job",set,,,
            JPS,"Plug and seal job",set,,,
            JB,"Box job",set,,,

            """);
        await plant.Good("bins", "bin,walk_order\nA-01,1\nA-02,2\nB-01,3\n");
        await plant.Good("kits", """
            kit,revision,line,part,quantity,source,buildable
            JP,1,1,PLUG,1,inTheBox,yes
            JPS,1,1,PLUG,1,inTheBox,yes
            JPS,1,2,SEAL,1,inTheBox,
            BOX,1,1,SEAL,2,inTheBox,no
            BOX,1,2,PLUG,1,inTheBox,
            JB,1,1,BOX,1,inTheBox,yes

            """);
        await plant.Good("pump-models", "model,control,ports\nDunlin,pilotAir,exhaust=NPT 1/2 female\n");
        await plant.Good("fits", "kit,revision,model\nJP,1,Dunlin\nJPS,1,Dunlin\nJB,1,Dunlin\n");
        await plant.Good("pumps", "tag,serial,model,zone,criticality\nP-10,S1,Dunlin,none,10\nP-08,S2,Dunlin,none,8\nP-05,S3,Dunlin,none,5\nP-03,S4,Dunlin,none,3\nP-01,S5,Dunlin,none,1\n");
        await plant.Good("procedures", """
            procedure,revision,step,part_of,kind,text
            P,1,1,preliminary,instruction,Isolate and lock.
            P,1,2,main,instruction,Fit the parts.
            P,1,3,closeUp,functionTest,Run it.

            """);
        await plant.Good("jobs", "job,description,procedure,kits,crew,hours\nJOB,A job,P,JP,,4\n");
        return new StockBench(plant);
    }

    public async Task<ReceiptAnswer> Receive(string part, decimal quantity, string bin = "A-01", string? lot = null, string? cured = null, string? incoming = null, decimal? cost = null) =>
        Must(await new ReceiveLot(Desk).Run(Call, new Receipt(part, quantity, bin) { Lot = lot, CuredOn = cured, Incoming = incoming, UnitCost = cost }, Ct));

    /// <summary>Drafts and opens an order of one kit.</summary>
    public async Task<string> Order(string pump, string kit, decimal quantity = 1, int workClass = 5, int neededIn = 10, string? number = null)
    {
        var drafted = Must(await new CreateOrder(Desk).Run(Call, new NewOrder(pump, "JOB", Today.AddDays(neededIn), workClass)
        {
            Kits = [new KitAsk(kit, quantity)], Breakdown = true, Number = number,
        }, Ct));
        return Must(await new OpenOrder(Desk).Run(Call, drafted, Ct));
    }

    public async Task<OrderView> View(string order) => Must(await new OrderBook(Desk).One(order, Ct));

    /// <summary>What the order holds and is short of, of one part.</summary>
    public async Task<(decimal Picked, decimal Reserved, decimal Short)> Line(string order, string part)
    {
        var line = Assert.Single((await View(order)).Demand, d => d.Part == part && d.Required > 0);
        return (line.Picked, line.Reserved, line.Short);
    }

    public async Task<ReservationView> Held(string order, string part) =>
        Assert.Single(Assert.Single((await View(order)).Demand, d => d.Part == part && d.Required > 0).Reservations);

    public async Task Pick(string order)
    {
        var held = (await View(order)).Demand.SelectMany(d => d.Reservations).Where(r => r.Quantity > 0);
        Must(await new PickLines(Desk).Run(Call, order, [.. held.Select(r => new PickInput(r.Id, r.Quantity))], Ct));
    }

    public async Task<PartLedgerView> Ledger(string part, DateOnly? on = null) => Must(await new PartLedger(Desk).Read(part, on, Ct));

    public async Task<IReadOnlyList<MovementRow>> Movements(string? part = null) =>
        Must(await new MovementsPage(Desk).Read(part, null, 1000, false, Ct)).Items;

    internal Task<ImportReport> Import(string file, string csv) => plant.Good(file, csv);

    public static T Must<T>(Outcome<T> outcome)
    {
        Assert.True(outcome.IsDone, $"{outcome.Refusal?.Code}: {outcome.Refusal?.Sentence}");
        return outcome.Value;
    }

    /// <summary>Refused, with this code and no other.</summary>
    public static Refusal No<T>(string code, Outcome<T> outcome)
    {
        Assert.False(outcome.IsDone, "It was done and should have been refused.");
        Assert.Equal(code, outcome.Refusal!.Code);
        return outcome.Refusal;
    }

    public async ValueTask DisposeAsync()
    {
        try
        {
            var checks = await new StockTruth(Desk).Read(CancellationToken.None);
            Assert.True(checks.Count >= 10);
            Assert.All(checks, c => Assert.True(c.Holds, $"{c.Check}: {string.Join("; ", c.Broken)}"));
        }
        finally
        {
            await plant.DisposeAsync();
        }
    }
}
