using KitOrders.Operations.Kits;
using KitOrders.Operations.Orders;
using KitOrders.Operations.People;
using KitOrders.Operations.Procedures;
using KitOrders.Operations.Pumps;
using KitOrders.Operations.Stock;
using KitOrders.Operations.Tests.Orders;
using KitOrders.Operations.Tests.Procedures;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Faults;

/// <summary>
/// A plant in the midst of things, made once: an order in every state, a short one, parts picked, stock of every kind. Every
/// write of the product can be tried on a copy of it.
/// </summary>
public sealed class FaultPlant(TestDatabase databases) : IAsyncLifetime
{
    OrderBench? bench;

    OrderBench Bench => bench ?? throw new InvalidOperationException("The plant is not made yet.");

    public PlantNames Names { get; private set; } = null!;

    FreshDatabase? empty;

    /// <summary>A database of its own with the plant in it, or with nothing but the link for its first administrator.</summary>
    public Task<FreshDatabase> Copy(bool ofEmpty = false) => databases.Copy(ofEmpty ? empty! : Bench.Plant.Database);

    public async ValueTask InitializeAsync()
    {
        bench = await New(databases);
        await Stock();
        var names = new PlantNames
        {
            Planner = Bench.Planner.Actor, Clerk = Bench.Clerk.Actor, Technician = Bench.Technician.Actor,
            Everybody = Bench.Plant.Actor,
            Draft = await Bench.Draft("P-1"),
            Unanswered = await Bench.Draft("P-9"),
            Open = await Bench.Opened("P-2"),
            Picked = await Bench.Picked("P-3"),
            Staged = await Staged("P-4"),
            Underway = await Bench.Underway("P-5"),
            Held = await AtTheHold("P-6"),
            Paused = await Paused("P-7"),
            Deviating = await Deviating("P-8"),
            Done = await DoneUpToTheFinish("P-10"),
            Finished = await Bench.Finished("P-11"),
            Cancelled = await Bench.Draft("P-12"),
            Short = await Bench.Opened("P-13", workClass: 9),
            StoodIn = await Bench.Opened("P-12", workClass: 8),
        };
        Must(await new UseAlternate(Bench.Desk).Run(Bench.Planner, names.StoodIn, new AlternateAsk("E", "E2", 1, "the elbow is late"), Ct));
        Must(await new CancelOrder(Bench.Desk).Run(Bench.Planner, names.Cancelled, "not wanted", null, Ct));
        Assert.Contains((await Bench.View(names.Short)).Demand, l => l.Short > 0);
        await Campaign(names);
        await People(names);
        await Bench.Plant.Good("procedures", "procedure,revision,step,part_of,kind,text\nPR,2,1,preliminary,instruction,Isolate and lock.\nPR,2,2,main,instruction,Fit the parts.\nPR,2,3,closeUp,functionTest,Run it.\n");
        await Procedures(names);
        Must(await new StartDraft(Bench.Desk).Run(Bench.Planner, "V", null, null, Ct));
        foreach (var (order, held) in new[] { (names.Open, true), (names.Picked, false) })
            (held ? names.Holds : names.Picks).AddRange((await Bench.View(order)).Demand
                .SelectMany(d => d.Reservations.Select(r => new Piece(d.Part, r.Lot, r.Bin, r.Id, held ? r.Quantity : r.Picked))).Where(r => r.Quantity > 0));
        names.Receipt = Must(await new MovementsPage(Bench.Desk).Read("P", null, 100, false, Ct)).Items.Single(m => m.Lot == "P-3").Id;
        await Bench.Plant.Good("kits", "kit,revision,line,part,quantity,source,spare_policy,buildable\nK,2,1,V,1,inTheBox,,yes\nK,2,2,P,2,inTheBox,,\nK,2,3,E,2,boughtSeparately,,\n");
        await Bench.Plant.Good("fits", "kit,revision,model,converts_to,needs_sensing_rod,ports,supply_kind,volts,volts_tolerance_pct,amps,materials,once\nK,2,M30,M30-S,yes,exhaust=NPT 1/2 male,dc,24,10,0.2,PP+PTFE,yes\n");
        names.Replan = Must(await new ReplanDifferences(Bench.Desk).Of(names.Open, Ct)).Seen;
        empty = await databases.Fresh();
        names.FirstSecret = Must(await new FirstAdministrator(new Desk(empty.Contexts(), Bench.Plant.Clock)).MakeLink(Ct));
        Names = names;
    }

    public async ValueTask DisposeAsync()
    {
        if (bench is not null)
            await bench.DisposeAsync();
        if (empty is not null)
            await empty.DisposeAsync();
    }

    async Task Stock()
    {
        var pumps = Enumerable.Range(3, 13).Select(n => $"P-{n},S-{n},M30,Hall,none,dc,24.0,10,0.75,{(n == 9 ? "acid" : "water")},5,yes,2");
        await Bench.Plant.Good("fluids", "fluid,hazard,approved,refused\nacid,none,,\n");
        await Bench.Plant.Good("pumps",
            "tag,serial,model,area,zone,supply_kind,supply_volts,cable_m,cable_mm2,fluid,criticality,sensing_rod,strokes_per_pulse\n" + string.Join('\n', pumps) + "\n");
        await Bench.Plant.Good("parts", "part,description,unit\nE2,\"Elbow, steel\",each\nE3,\"Elbow, long\",each\n");
        await Bench.Plant.Good("alternates", "part,alternate,preference\nE,E2,1\n");
        await Bench.Plant.Good("stock", """
            part,lot,bin,quantity,received_on,cured_on,unit_cost
            E2,E2-1,B-1,4,today-20,,7
            K,K-2,A-1,8,today-20,today-30,200
            E,E-2,B-1,8,today-20,,6
            Q,Q-2,B-1,17,today-20,,30
            P,P-2,A-2,5,today-20,,2
            P,P-3,A-1,4,today-20,,2
            S,S-9,A-2,6,today-20,,20
            S,S-3,A-2,1,today-20,today-30,20
            """);
    }

    async Task<string> Staged(string pump)
    {
        var number = await Bench.Picked(pump);
        Must(await new StageOrder(Bench.Desk).Run(Bench.Clerk, number, "S-2", null, Ct));
        return number;
    }

    async Task<string> AtTheHold(string pump)
    {
        var number = await Bench.Underway(pump);
        for (var step = 1; step <= 4; step++)
            Must(await Bench.Record(number, step, new StepInput(StepOutcome.AsSpecified)));
        Must(await Bench.Record(number, 5, new StepInput(StepOutcome.AsSpecified) { Value = 0, Unit = "bar" }));
        return number;
    }

    async Task<string> Paused(string pump)
    {
        var number = await Bench.Underway(pump);
        Must(await new PauseOrder(Bench.Desk).Run(Bench.Technician, number, "no crane", Ct));
        return number;
    }

    async Task<string> Deviating(string pump)
    {
        var number = await Bench.Underway(pump);
        Must(await Bench.Record(number, 1, new StepInput(StepOutcome.NotAsSpecified) { Note = "The card is worn." }));
        return number;
    }

    async Task<string> DoneUpToTheFinish(string pump)
    {
        var number = await Bench.Finished(pump);
        Must(await new ReopenOrder(Bench.Desk).Run(Bench.Technician, number, "one more look", Ct));
        return number;
    }

    /// <summary>A campaign whose one open order needs two spares: it holds one and is short of one.</summary>
    async Task Campaign(PlantNames names)
    {
        await Bench.Plant.Good("pumps", "tag,serial,model,criticality\nP-24,S-24,M30,1\nP-25,S-25,M30,1\n");
        await Bench.Plant.Good("parts", "part,description,unit\nKC,Check kit,each\nQC,Check valve,each\n");
        await Bench.Plant.Good("kits", "kit,revision,line,part,quantity,source,spare_policy\nKC,1,1,QC,2,carriedOver,all\n");
        await Bench.Plant.Good("fits", "kit,revision,model,once\nKC,1,M30,no\n");
        await Bench.Plant.Good("jobs", "job,description,procedure,kits\nLOOK,Look at the valves,PR,KC\n");
        Must(await new ReceiveLot(Bench.Desk).Run(Bench.Clerk, new Receipt("QC", 1, "B-1") { UnitCost = 30 }, Ct));
        names.Campaign = Must(await new CreateCampaign(Bench.Desk).Run(Bench.Planner, new NewCampaign("Valves", "LOOK", Today.AddDays(20), 1, ["P-24"]), Ct));
        Assert.Equal(1, Must(await new OpenCampaign(Bench.Desk, new OpenOrder(Bench.Desk)).Run(Bench.Planner, names.Campaign, Ct)).Opened);
        var spare = Assert.Single(Must(await new CampaignBook(Bench.Desk, new Operations.Planning.ReadinessBoard(Bench.Desk)).One(names.Campaign, Ct)).Spares);
        Assert.Equal((1m, 1m), (spare.Reserved, spare.Short));
        names.Spare = spare.Lots[0].Id;
    }

    /// <summary>A manual, a draft that could be released, and a procedure without a draft.</summary>
    async Task Procedures(PlantNames names)
    {
        names.Document = Must(await new AddDocument(Bench.Desk).Run(Bench.Planner, new NewDocument("M30", null, DocumentKind.Manual, "Air valve manual", "4", "manual.pdf"), [.. "%PDF-1.7"u8], Ct));
        Must(await new DraftProcedure(Bench.Desk).Run(Bench.Planner, "PR", Ct));
        Must(await new KeepProcedure(Bench.Desk).Run(Bench.Planner, "PR", 3, Written.Out, Ct));
        Must(await new StartProcedure(Bench.Desk).Run(Bench.Planner, PlantNames.Undrafted, Ct));
        Must(await new KeepProcedure(Bench.Desk).Run(Bench.Planner, PlantNames.Undrafted, 1, Written.Out, Ct));
        Must(await new ReleaseProcedure(Bench.Desk).Run(Bench.Planner, PlantNames.Undrafted, 1, null, Ct));
    }

    async Task People(PlantNames names)
    {
        var ada = new Call(names.Everybody);
        names.Signed = Must(await new AddPerson(Bench.Desk).Run(ada, new NewPerson("Sam Signed", Roles.Administrator | Roles.Planner, "Fitters"), Ct));
        var link = Must(await new MakeSignIn(Bench.Desk).Run(ada, new NewSignIn(names.Signed, "s.signed"), Ct));
        Must(await new UseSignInLink(Bench.Desk).Run(link.Secret, PlantNames.Password, null, Ct));
        names.Linked = Must(await new AddPerson(Bench.Desk).Run(ada, new NewPerson("Lena Linked", Roles.Technician, "Fitters"), Ct));
        names.LinkSecret = Must(await new MakeSignIn(Bench.Desk).Run(ada, new NewSignIn(names.Linked, "l.linked"), Ct)).Secret;
        names.Token = Must(await new MakeToken(Bench.Desk).Run(ada, new NewToken(names.Linked, "nightly"), Ct)).Id;
        Must(await new SetPin(Bench.Desk).Run(Bench.Technician, PlantNames.Pin, Ct));
        await using var db = Bench.Db();
        var invented = db.People.Add(new Person { Name = "Ivo Invented", Roles = Roles.Planner, Demo = true }).Entity;
        await db.SaveChangesAsync(Ct);
        names.Invented = invented.Id;
    }
}

/// <summary>What the plant's orders and people are called.</summary>
public sealed class PlantNames
{
    public const string Password = "four dry words here";
    public const string Pin = "4711";

    /// <summary>A released procedure that nobody is writing at.</summary>
    public const string Undrafted = "PX";

    public required Actor Everybody { get; init; }
    public required Actor Planner { get; init; }
    public required Actor Clerk { get; init; }
    public required Actor Technician { get; init; }
    public required string Draft { get; init; }
    public required string Unanswered { get; init; }
    public required string Open { get; init; }
    public required string Picked { get; init; }
    public required string Staged { get; init; }
    public required string Underway { get; init; }
    public required string Held { get; init; }
    public required string Paused { get; init; }
    public required string Deviating { get; init; }
    public required string Done { get; init; }
    public required string Finished { get; init; }
    public required string Cancelled { get; init; }
    public required string Short { get; init; }

    /// <summary>An alternate stands in on it.</summary>
    public required string StoodIn { get; init; }

    public PersonId Signed { get; set; }
    public PersonId Linked { get; set; }
    public string LinkSecret { get; set; } = "";
    public int Token { get; set; }

    public PersonId Invented { get; set; }

    /// <summary>Makes the first administrator of the empty plant.</summary>
    public string FirstSecret { get; set; } = "";

    /// <summary>A manual attached to the pumps' model.</summary>
    public int Document { get; set; }

    /// <summary>What the differences of planning the open order again carry as seen.</summary>
    public string Replan { get; set; } = "";

    /// <summary>A campaign with an open order.</summary>
    public string Campaign { get; set; } = "";

    /// <summary>The reservation of the spare that it holds.</summary>
    public int Spare { get; set; }

    /// <summary>A movement that can be corrected.</summary>
    public long Receipt { get; set; }

    /// <summary>What the open order holds on the shelves.</summary>
    public List<Piece> Holds { get; } = [];

    /// <summary>What the picked order has in hand.</summary>
    public List<Piece> Picks { get; } = [];
}

public sealed record Piece(string Part, string Lot, string Bin, int Reservation, decimal Quantity);
