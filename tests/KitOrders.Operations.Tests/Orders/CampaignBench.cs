using KitOrders.Operations.Orders;
using KitOrders.Operations.Planning;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

/// <summary>
/// The worked plant with more pumps M-01, M-02, … (criticality 1 to 10, the first the most pressing) and a job RATE whose kit
/// keeps two quick-exhaust valves Q of every pump, of which one in ten is rejected. Three Q lie on the shelf.
/// </summary>
public sealed class CampaignBench(OrderBench bench) : IAsyncDisposable
{
    public OrderBench Bench => bench;

    internal Desk Desk => bench.Desk;

    public static async Task<CampaignBench> New(TestDatabase databases, int pumps)
    {
        var bench = await OrderBench.New(databases);
        await bench.Plant.Good("pumps", "tag,serial,model,area,zone,supply_kind,supply_volts,cable_m,cable_mm2,fluid,criticality,sensing_rod,strokes_per_pulse\n"
            + string.Concat(Enumerable.Range(1, pumps).Select(n => $"{Pump(n)},M-{n},M30,Press hall,none,dc,24.0,10,0.75,water,{Math.Max(1, 11 - n)},yes,2\n")));
        await bench.Plant.Good("parts", "part,description,unit\nKR,Plug kit,each\n");
        await bench.Plant.Good("kits", "kit,revision,line,part,quantity,source,spare_policy,reject_rate,buildable\nKR,1,1,P,1,boughtSeparately,,,yes\nKR,1,2,Q,2,carriedOver,byRate,0.10,\n");
        await bench.Plant.Good("fits", "kit,revision,model,materials,once\nKR,1,M30,PP+PTFE,no\n");
        await bench.Plant.Good("jobs", "job,description,procedure,kits,crew,hours\nRATE,Renew the plugs,PR,KR,Fitters,2\n");
        await bench.Plant.Good("stock", "part,lot,bin,quantity,received_on,cured_on,unit_cost\nP,P-2,A-2,100,today-20,,2\n");
        return new CampaignBench(bench);
    }

    public static string Pump(int n) => $"M-{n:00}";

    public static IReadOnlyList<string> Pumps(int count) => [.. Enumerable.Range(1, count).Select(Pump)];

    public async Task<string> Made(int pumps, int workClass = 5, DateOnly? firstDay = null, int? perDay = null) =>
        Must(await new CreateCampaign(Desk).Run(bench.Planner, new NewCampaign("Press-hall stop", "RATE", Today.AddDays(10), workClass, Pumps(pumps), firstDay, perDay), Ct));

    public async Task<string> Opened(int pumps, int workClass = 5)
    {
        var number = await Made(pumps, workClass);
        var answer = Must(await Open(number));
        Xunit.Assert.Equal(pumps, answer.Opened);
        return number;
    }

    internal Task<Outcome<CampaignOpened>> Open(string number, Call? call = null) => Opener.Run(call ?? bench.Planner, number, Ct);

    internal OpenCampaign Opener => new(Desk, new OpenOrder(Desk));

    internal CampaignBook Book => new(Desk, new ReadinessBoard(Desk));

    public async Task<CampaignView> View(string number) => Must(await Book.One(number, Ct));

    /// <summary>Required, picked, reserved, short and used of the spares of Q.</summary>
    public async Task<(decimal Required, decimal Picked, decimal Reserved, decimal Short, decimal Used)> Pool(string number) =>
        (await View(number)).Spares.SingleOrDefault(s => s.Part == "Q") is { } q ? (q.Required, q.Picked, q.Reserved, q.Short, q.Used) : default;

    /// <summary>Order of the n-th pump.</summary>
    public async Task<string> Order(string campaign, int pump) => (await View(campaign)).Orders.Single(o => o.Pump == Pump(pump)).Number;

    public async Task PickSpares(string number) =>
        Must(await new PickSpares(Desk).Run(bench.Clerk, number, [.. (await View(number)).Spares.SelectMany(s => s.Lots).Where(l => l.Quantity > 0).Select(l => new PickInput(l.Id, l.Quantity))], Ct));

    /// <summary>Picks, stages and starts an order and records its preliminary steps.</summary>
    public async Task Start(string order)
    {
        Must(await new PickLines(Desk).Run(bench.Clerk, order, [.. (await bench.Held(order)).Select(r => new PickInput(r.Id, r.Quantity))], Ct));
        Must(await new StageOrder(Desk).Run(bench.Clerk, order, "S-1", null, Ct));
        Must(await new StartOrder(Desk).Run(bench.Technician, order, null, Ct));
        await bench.Preliminaries(order);
    }

    internal Task<Outcome<string>> Judge(string order, CarryOverDecision decision, int? piece = null, long? corrects = null) =>
        bench.Record(order, 6, new StepInput(StepOutcome.AsSpecified) { Decision = decision, Piece = piece, Corrects = corrects });

    /// <summary>Records what is left after the valves were judged, finishes and closes.</summary>
    public async Task Finish(string order)
    {
        for (var pass = 1; pass <= 2; pass++)
            Must(await bench.Record(order, 7, new StepInput(StepOutcome.AsSpecified) { Pass = pass, Value = pass == 1 ? 4.7m : 9.4m, Unit = "Nm" }));
        Must(await bench.Record(order, 8, new StepInput(StepOutcome.AsSpecified)));
        Must(await bench.Record(order, 9, new StepInput(StepOutcome.AsSpecified)));
        Must(await new FinishOrder(Desk).Run(bench.Technician, order, [new HoursInput("Tess Technician", 3)], 4, null, Ct));
        Must(await new CloseOrder(Desk).Run(bench.Planner, order, null, null, Ct));
    }

    public async Task Receive(decimal quantity) => Must(await new ReceiveLot(Desk).Run(bench.Clerk, new Receipt("Q", quantity, "B-1") { UnitCost = 30 }, Ct));

    public async Task Cancel(string order) => Must(await new CancelOrder(Desk).Run(bench.Planner, order, "not this year", null, Ct));

    public async Task<IReadOnlyList<string>> Trail(string campaign)
    {
        await using var db = bench.Db();
        return await db.Audit.Where(a => a.Subject == "campaign " + campaign).OrderBy(a => a.Id).Select(a => a.Sentence).ToListAsync(Ct);
    }

    /// <summary>Stock must be true at the end, which the bench asks.</summary>
    public ValueTask DisposeAsync() => bench.DisposeAsync();
}
