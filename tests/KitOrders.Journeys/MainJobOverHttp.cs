using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>
/// The main job as an outside program sees it, from the import files to the closed order, on the worked example of demand:
/// two orders need the same kit, one box is on the shelf, the second is built and goes short.
/// </summary>
public sealed class MainJobOverHttp(BareApp bare) : IClassFixture<BareApp>
{
    static readonly string today = DateOnly.FromDateTime(DateTime.UtcNow).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
    static readonly string soon = DateOnly.FromDateTime(DateTime.UtcNow.AddDays(5)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    static readonly (string File, string Csv)[] plant =
    [
        ("plant", "key,value\nname,Worked Example Works\ntime_zone,UTC\ncurrency,EUR\n"),
        ("bins", "bin,walk_order\nA-1,1\nA-2,2\nB-1,3\n"),
        ("parts", """
            part,description,unit,elastomers,unit_cost,lead_time_days
            K,Conversion kit,each,,,
            V,Valve assembly,each,,,
            B,Valve body,each,,100,10
            C,Coil,each,,40,12
            S,Seal set,set,NBR,20,5
            P,Plug,each,,2,3
            E,Elbow,each,,6,8
            Q,Quick-exhaust valve,each,,30,14
            """),
        ("fluids", "fluid,hazard,approved,refused\nwater,none,PP+PTFE,\n"),
        ("pump-models", "model,description,control,sensing_rod,displacement_ml,ports\nM30,Pilot air,pilotAir,yes,200,exhaust=NPT 1/2 female\nM30-S,Solenoid,solenoid,yes,200,exhaust=NPT 1/2 female\n"),
        ("pumps", """
            tag,serial,model,area,zone,supply_kind,supply_volts,cable_m,cable_mm2,fluid,criticality,sensing_rod,strokes_per_pulse
            P-1,S-1,M30,Hall,none,dc,24.0,10,0.75,water,8,yes,2
            P-2,S-2,M30,Hall,none,dc,24.0,10,0.75,water,5,yes,2
            """),
        ("kits", """
            kit,revision,line,part,quantity,source,spare_policy,buildable
            V,1,1,B,1,inTheBox,,yes
            V,1,2,C,1,inTheBox,,
            V,1,3,S,1,inTheBox,,
            K,1,1,V,1,inTheBox,,yes
            K,1,2,P,1,inTheBox,,
            K,1,3,E,1,boughtSeparately,,
            K,1,4,Q,2,carriedOver,all,
            """),
        ("fits", "kit,revision,model,converts_to,needs_sensing_rod,ports,supply_kind,volts,volts_tolerance_pct,amps,materials,once\nK,1,M30,M30-S,yes,exhaust=NPT 1/2 male,dc,24,10,0.2,PP+PTFE,yes\n"),
        ("procedures", """
            procedure,revision,step,part_of,kind,text,signal_word,hazard,consequence,avoid,joint,bolts,sequence,target,low,high,unit,tolerance_pct,passes,hold_point,part
            PR,1,1,preliminary,check,Hazards: read the fluid card,,,,,,,,,,,,,,,
            PR,1,2,preliminary,instruction,Stop: stop the pump,,,,,,,,,,,,,,,
            PR,1,3,preliminary,instruction,"Isolate: lock air, electricity and both fluid sides",WARNING,Stored air,It can break a hand,Lock it,,,,,,,,,,,
            PR,1,4,preliminary,instruction,Relieve: vent and drain,,,,,,,,,,,,,,,
            PR,1,5,preliminary,reading,Verify: read the gauge,,,,,,,,,0,0,bar,,,yes,
            PR,1,6,main,carryOver,Judge the quick-exhaust valves,,,,,,,,,,,,,,,Q
            PR,1,7,main,torque,Tighten the cover,,,,,cover,4,alternate,9.4,,,Nm,5,2,,
            PR,1,8,closeUp,instruction,Clear: look around,,,,,,,,,,,,,,,
            PR,1,9,closeUp,functionTest,Run it,,,,,,,,,,,,,,,
            """),
        ("crews", "crew,people,hours_per_week,hourly_rate\nFitters,2,80,50\n"),
        ("jobs", "job,description,procedure,kits,crew,hours\nCONV,Convert control,PR,K,Fitters,3.5\n"),
        ("stock", """
            part,lot,bin,quantity,received_on,cured_on,unit_cost
            K,K-1,A-1,1,today-30,today-60,200
            B,B-1,A-2,4,today-30,,100
            S,S-1,A-2,2,today-30,today-60,20
            P,P-1,A-1,9,today-30,,2
            E,E-1,B-1,1,today-30,,6
            Q,Q-1,B-1,3,today-30,,30
            """),
        ("incoming", "reference,part,quantity,promised_on,supplier\nPO-1,C,1,today+3,Maker\n"),
    ];

    [Fact]
    public async Task Two_orders_for_one_box_are_opened_supplied_done_and_closed()
    {
        using var api = bare.App.Api();
        foreach (var (file, csv) in plant)
            Expect(HttpStatusCode.OK, await api.Import(file, csv));

        var first = await Draft(api, "P-1");
        var second = await Draft(api, "P-2");
        var opened = Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{first}/open", new { }));
        Assert.Equal("open", (string?)opened["state"]);
        Assert.Equal([("E", 1m, 0m), ("K", 1m, 0m), ("Q", 2m, 0m)], Lines(opened, "reserved"));

        var built = Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{second}/open", new { }));
        Assert.Equal(
            [("B", 1m, 0m), ("C", 0m, 1m), ("E", 0m, 1m), ("K", 0m, 0m), ("P", 1m, 0m), ("Q", 1m, 1m), ("S", 1m, 0m), ("V", 0m, 0m)],
            Lines(built, "reserved"));
        Assert.Equal(1m, (decimal)Line(built, "C")["incoming"]!);

        await Receive(api, "C", 1, "PO-1");
        await Receive(api, "E", 1, null);
        await Receive(api, "Q", 1, null);
        var covered = Expect(HttpStatusCode.OK, await api.Get($"/api/orders/{second}"));
        Assert.All(covered["demand"]!.AsArray(), line => Assert.Equal(0m, (decimal)line!["short"]!));

        var closed = await DoTheWork(api, second);
        Assert.Equal("closed", (string?)closed["state"]);
        // 100 body + 40 coil + 20 seals + 2 plug + 6 elbow + 2 × 30 valves, and 3 h at 50.
        Assert.Equal(228m, (decimal)closed["cost"]!["actual"]!["parts"]!);
        Assert.Equal(150m, (decimal)closed["cost"]!["actual"]!["labour"]!);

        var pump = Expect(HttpStatusCode.OK, await api.Get("/api/pumps/P-2"));
        Assert.Equal("M30-S", (string?)pump["model"]);
        Assert.Equal("solenoid", (string?)pump["control"]);
        Assert.Contains("K", pump["fitted"]!.ToJsonString(), StringComparison.Ordinal);

        var again = await api.Get("/api/suitability?pump=P-2&kit=K");
        Expect(HttpStatusCode.OK, again);
        Assert.Contains(again.Body.AsArray(), c => (string?)c!["check"] == "alreadyFitted" && (string?)c["result"] == "failed"
            || (string?)c!["check"] == "model" && (string?)c["result"] == "failed");

        var truth = Expect(HttpStatusCode.OK, await api.Get("/api/stock-truth"));
        Assert.NotEmpty(truth.AsArray());
        Assert.All(truth.AsArray(), check => Assert.True((bool)check!["holds"]!, check.ToJsonString()));

        var cancelled = Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{first}/cancel", new { reason = "not needed" }));
        Assert.Equal("cancelled", (string?)cancelled["state"]);
        var kit = Expect(HttpStatusCode.OK, await api.Get("/api/parts/K"));
        Assert.Equal(1m, (decimal)kit["totals"]!["available"]!);
    }

    static async Task<string> Draft(ApiClient api, string pump)
    {
        var draft = Expect(HttpStatusCode.Created, await api.Post("/api/orders", new { pump, job = "CONV", neededBy = soon, workClass = 7 }));
        Assert.Equal("draft", (string?)draft["state"]);
        return (string)draft["number"]!;
    }

    static async Task Receive(ApiClient api, string part, int quantity, string? incoming) =>
        Expect(HttpStatusCode.OK, await api.Post("/api/receipts", new { part, quantity, bin = "B-1", incoming }));

    static async Task<JsonNode> DoTheWork(ApiClient api, string number)
    {
        var order = Expect(HttpStatusCode.OK, await api.Get($"/api/orders/{number}"));
        var lines = order["demand"]!.AsArray().SelectMany(l => l!["reservations"]!.AsArray())
            .Select(r => new { reservation = (int)r!["id"]!, quantity = (decimal)r["quantity"]! }).ToArray();
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/picks", new { lines }));
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/stage", new { place = "S-1" }));
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/start", new { permits = new[] { new { kind = "lockout", reference = "L-1", validTo = today } } }));

        var early = await Result(api, number, 6, new { outcome = "asSpecified", decision = "reuse" });
        Assert.Equal(HttpStatusCode.Conflict, early.Status);
        for (var step = 1; step <= 4; step++)
            Expect(HttpStatusCode.OK, await Result(api, number, step, new { outcome = "asSpecified" }));
        var high = await Result(api, number, 5, new { outcome = "asSpecified", value = 0.4, unit = "bar" });
        Assert.Equal(HttpStatusCode.UnprocessableEntity, high.Status);
        Expect(HttpStatusCode.OK, await Result(api, number, 5, new { outcome = "asSpecified", value = 0, unit = "bar" }));
        var held = await Result(api, number, 6, new { outcome = "asSpecified", decision = "reuse" });
        Assert.Equal("hold-point-not-released", held.Code);
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/steps/5/release", new { person = "bootstrap" }));
        Expect(HttpStatusCode.OK, await Result(api, number, 6, new { outcome = "asSpecified", decision = "reuse" }));
        Expect(HttpStatusCode.OK, await Result(api, number, 6, new { outcome = "asSpecified", decision = "replace" }));
        for (var pass = 1; pass <= 2; pass++)
            for (var bolt = 1; bolt <= 4; bolt++)
                Expect(HttpStatusCode.OK, await Result(api, number, 7, new { outcome = "asSpecified", value = pass == 1 ? 4.7 : 9.4, unit = "Nm", pass, bolt }));
        Expect(HttpStatusCode.OK, await Result(api, number, 8, new { outcome = "asSpecified" }));
        Expect(HttpStatusCode.OK, await Result(api, number, 9, new { outcome = "asSpecified" }));
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/finish", new { hours = new[] { new { person = "bootstrap", hours = 3 } }, downtimeHours = 4, strokeCount = 1000 }));
        return Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/close", new { }));
    }

    static Task<Answer> Result(ApiClient api, string number, int step, object result)
    {
        var body = System.Text.Json.JsonSerializer.SerializeToNode(result)!;
        body["recordedAt"] = DateTimeOffset.UtcNow.ToString("O", CultureInfo.InvariantCulture);
        return api.Post($"/api/orders/{number}/steps/{step}/results", body);
    }

    static (string, decimal, decimal)[] Lines(JsonNode order, string field) => [.. order["demand"]!.AsArray()
        .Select(l => ((string)l!["part"]!, (decimal)l[field]!, (decimal)l["short"]!)).OrderBy(l => l.Item1, StringComparer.Ordinal)];

    static JsonNode Line(JsonNode order, string part) => order["demand"]!.AsArray().Single(l => (string?)l!["part"] == part)!;

    static JsonNode Expect(HttpStatusCode status, Answer answer)
    {
        Assert.True(status == answer.Status, $"expected {(int)status}, was {answer}");
        return answer.Body;
    }
}

/// <summary>The app with an empty database and no demo.</summary>
public sealed class BareApp : IAsyncLifetime
{
    RunningApp? app;

    public RunningApp App => app ?? throw new InvalidOperationException("The app has not started.");

    public async ValueTask InitializeAsync() => app = await RunningApp.Start("--no-demo");

    public ValueTask DisposeAsync() => app?.DisposeAsync() ?? ValueTask.CompletedTask;
}
