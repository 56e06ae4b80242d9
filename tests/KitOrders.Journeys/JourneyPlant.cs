using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;

namespace KitOrders.Journeys;

/// <summary>
/// A pump, its conversion kit and a short procedure of our own beside the demo plant, so that the main job is short enough to
/// be walked to its end and its figures are ours: one boxed kit, no elbow, two quick-exhaust valves in one bin and three in
/// another. Each call makes things of their own names.
/// </summary>
static class JourneyPlant
{
    static int made;

    /// <summary>Brings it all in and answers the prefix of its names.</summary>
    public static async Task<string> Make(ApiClient api)
    {
        var p = $"J{Interlocked.Increment(ref made)}";
        foreach (var (file, csv) in Files(p))
        {
            var answer = await api.Import(file, csv);
            if (answer.Status != HttpStatusCode.OK)
                throw new InvalidOperationException($"{file}: {answer}");
        }

        return p;
    }

    /// <summary>An order of its own, underway, whose next step is the torque; its acts are recorded as of now.</summary>
    public static async Task<string> UpToTheTorque(ApiClient api)
    {
        var p = await Make(api);
        await Ok(api.Post("/api/receipts", new { part = $"{p}-ELB", quantity = 1, bin = $"{p}-A" }));
        var made = await Ok(api.Post("/api/orders", new { pump = $"{p}-01", job = $"{p}-CONV", neededBy = Day(5), workClass = 7 }));
        var number = (string)made["number"]!;
        var order = await Ok(api.Post($"/api/orders/{number}/open", new { }));
        var lines = order["demand"]!.AsArray().SelectMany(l => l!["reservations"]!.AsArray()).Select(r => new { reservation = (int)r!["id"]!, quantity = (decimal)r["quantity"]! }).ToArray();
        await Ok(api.Post($"/api/orders/{number}/picks", new { lines }));
        await Ok(api.Post($"/api/orders/{number}/stage", new { place = "S-1" }));
        await Ok(api.Post($"/api/orders/{number}/start", new { }));
        foreach (var step in new[] { 1, 2, 3, 4, 5, 6, 6 })
        {
            await Ok(api.Post($"/api/orders/{number}/steps/{step}/results", Result(step)));
            if (step == 5)
                await Ok(api.Post($"/api/orders/{number}/steps/5/release", new { person = "bootstrap" }));
        }

        return number;
    }

    static object Result(int step) => step switch
    {
        5 => new { outcome = "asSpecified", value = 0.05, unit = "bar", recordedAt = DateTimeOffset.UtcNow },
        6 => new { outcome = "asSpecified", decision = "reuse", recordedAt = DateTimeOffset.UtcNow },
        _ => new { outcome = "asSpecified", recordedAt = DateTimeOffset.UtcNow },
    };

    static async Task<JsonNode> Ok(Task<Answer> asked)
    {
        var answer = await asked;
        return (int)answer.Status < 300 ? answer.Body : throw new InvalidOperationException($"{answer}");
    }

    public static string Day(int fromNow) => DateOnly.FromDateTime(DateTime.UtcNow.AddDays(fromNow)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    static (string File, string Csv)[] Files(string p) =>
    [
        ("bins", $"bin,walk_order\n{p}-A,9001\n{p}-B,9002\n{p}-C,9003\n"),
        ("parts", $"""
            part,description,unit,unit_cost,lead_time_days
            {p}-KIT,Conversion kit,each,200,20
            {p}-VLV,Solenoid valve assembly,each,190,20
            {p}-ELB,Street elbow,each,6,8
            {p}-QEV,Quick-exhaust valve,each,30,14
            """),
        ("fluids", $"fluid,hazard,approved,refused\n{p} water,none,PP+PTFE,\n"),
        ("pump-models", $"model,description,control,sensing_rod,displacement_ml,ports\n{p}-30,Pilot air,pilotAir,yes,200,exhaust=NPT 1/2 female\n{p}-30-S,Solenoid,solenoid,yes,200,exhaust=NPT 1/2 female\n"),
        ("pumps", $"tag,serial,model,area,zone,supply_kind,supply_volts,cable_m,cable_mm2,fluid,criticality,sensing_rod,strokes_per_pulse\n{p}-01,S-{p},{p}-30,Journey hall,none,dc,24.0,10,0.75,{p} water,8,yes,2\n"),
        ("kits", $"""
            kit,revision,line,part,quantity,source,spare_policy,buildable
            {p}-KIT,1,1,{p}-VLV,1,inTheBox,,
            {p}-KIT,1,2,{p}-ELB,1,boughtSeparately,,
            {p}-KIT,1,3,{p}-QEV,2,carriedOver,all,
            """),
        ("fits", $"kit,revision,model,converts_to,needs_sensing_rod,ports,supply_kind,volts,volts_tolerance_pct,amps,materials,once\n{p}-KIT,1,{p}-30,{p}-30-S,yes,exhaust=NPT 1/2 male,dc,24,10,0.2,PP+PTFE,yes\n"),
        ("procedures", $"""
            procedure,revision,step,part_of,kind,text,signal_word,hazard,consequence,avoid,joint,bolts,sequence,target,low,high,unit,tolerance_pct,passes,hold_point,part
            {p}-PR,1,1,preliminary,check,Hazards: the fluid card is read,DANGER,The pump held acid.,It burns skin at once.,Wear goggles and gloves.,,,,,,,,,,,
            {p}-PR,1,2,preliminary,instruction,Stop: stop the pump,,,,,,,,,,,,,,,
            {p}-PR,1,3,preliminary,instruction,"Isolate: lock air, electricity and both fluid sides",,,,,,,,,,,,,,,
            {p}-PR,1,4,preliminary,instruction,Relieve: vent and drain,,,,,,,,,,,,,,,
            {p}-PR,1,5,preliminary,reading,Verify: read the gauge,WARNING,Air can still be trapped.,It can break a hand.,Wait for the gauge.,,,,,0,0.1,bar,,,yes,
            {p}-PR,1,6,main,carryOver,Judge the quick-exhaust valves,,,,,,,,,,,,,,,{p}-QEV
            {p}-PR,1,7,main,torque,Tighten the cover,CAUTION,The cover is under a spring.,It can pinch a finger.,Press it down with the plate.,cover,4,star,9.4,,,Nm,5,2,,
            {p}-PR,1,8,closeUp,instruction,Clear: look around,,,,,,,,,,,,,,,
            {p}-PR,1,9,closeUp,functionTest,Run it,,,,,,,,,,,,,,,
            """),
        ("jobs", $"job,description,procedure,kits,crew,hours\n{p}-CONV,Convert {p} to solenoid,{p}-PR,{p}-KIT,Fitters,3.5\n"),
        ("stock", $"""
            part,lot,bin,quantity,received_on,unit_cost
            {p}-KIT,{p}-K1,{p}-A,1,today-30,200
            {p}-QEV,{p}-Q1,{p}-B,2,today-60,30
            {p}-QEV,{p}-Q2,{p}-C,3,today-10,30
            """),
    ];
}
