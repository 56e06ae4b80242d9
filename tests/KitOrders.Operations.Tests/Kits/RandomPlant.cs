using System.Globalization;
using System.Text;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Tests.Imports;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.Kits;

/// <summary>Pumps, kits and stock drawn so that every check passes somewhere, fails somewhere and is unknown somewhere.</summary>
sealed class RandomPlant(int seed)
{
    public const int Pumps = 10;
    public const int Kits = 7;

    static readonly string[] threads = ["NPT 1/4", "NPT 1/2", "BSPP 1/2", "BSPT 1/2"];
    static readonly string[] materials = ["PP", "PTFE", "NBR", "316"];
    static readonly string[] markings = ["", "Gb IIC T4", "Gc IIB T3", "Db IIIC T120°C", "Ex ia IIC T4 Ga"];
    static readonly string[] zones = ["", "none", "1", "2", "21"];

    readonly Random random = new(seed);

    public async Task Fill(ImportBench plant)
    {
        await plant.Good("plant", "key,value\nname,Drawn Works\ntime_zone,UTC\ncurrency,EUR\n");
        await plant.Good("bins", "bin,walk_order\nA-1,1\n");
        await plant.Good("parts", Parts());
        await plant.Good("fluids", $"fluid,hazard,approved,refused,ignition_c,bonding\nwater,none,PP+PTFE+316,,,\nsolvent,flammable,{Pick("PP", "PTFE", "316")},NBR,{Maybe("110")},yes\nslurry,,,,,\n");
        await plant.Good("pump-models", "model,control,sensing_rod,displacement_ml,ports\n" + Lines(3, n =>
            $"M{n},{(n == 1 ? "solenoid" : "pilotAir")},{Pick("yes", "no", "")},200,exhaust={Pick(threads)} female; pilot={Pick(threads)} female"));
        await plant.Good("pumps", "tag,serial,model,area,zone,ex_group,temperature_class,supply_kind,supply_volts,cable_m,cable_mm2,fluid,criticality,sensing_rod\n" + Lines(Pumps, n =>
            $"P-{n},S-{n},M{random.Next(3)},Hall {n % 2},{Zone()},{Pick("dc", "ac50", "")},{Pick("24", "20.8", "48", "")},{Pick("0", "60", "")},{Pick("0.5", "0.75", "9", "")},{Pick("water", "solvent", "slurry", "")},{random.Next(1, 11)},{Pick("yes", "no", "")}"));
        // Boxes that came before anybody recorded what is in them: their last good day is not known.
        await plant.Good("stock", "part,lot,bin,quantity,received_on,cured_on\n" + Lines(Kits, k => $"K{k},EK{k},A-1,1,2025-01-02,"));
        await plant.Good("kits", "kit,revision,line,part,quantity,source,spare_policy,buildable\n" + Lines(Kits, n =>
            $"K{n},1,1,P{random.Next(6)},{random.Next(1, 4)},inTheBox,,{Pick("yes", "no")}\nK{n},1,2,Q{random.Next(3)},1,{Pick("boughtSeparately", "inTheBox")},,"));
        await plant.Good("fits", "kit,revision,model,converts_to,needs_sensing_rod,ports,supply_kind,volts,volts_tolerance_pct,amps,ex_marking,materials,once,requires_kits,excludes_kits\n"
            + string.Concat(Enumerable.Range(0, Kits).SelectMany(k => Enumerable.Range(0, 3).Where(_ => random.Next(5) > 0).Select(m => $"K{k},1,M{m},{Fit()}\n"))));
        await plant.Good("stock", Stock());
        await plant.Good("fitted", "tag,kit,revision,fitted_on\n" + string.Concat(Enumerable.Range(0, Pumps).Where(_ => random.Next(2) == 0).Select(n => $"P-{n},K{random.Next(Kits)},1,2026-01-05\n")));
        await plant.Good("procedures", Procedure);
        await plant.Good("jobs", "job,description,procedure,kits,hours\nONE,One kit,PR,K0,1\n" + $"ALL,Several kits,PR,{string.Join("+", Enumerable.Range(1, 3).Select(k => $"K{k}"))},2\n");
    }

    const string Procedure = """
        procedure,revision,step,part_of,kind,text,hold_point
        PR,1,1,preliminary,check,Hazards: read the fluid card,
        PR,1,2,preliminary,instruction,Stop: stop the pump,
        PR,1,3,preliminary,instruction,Isolate: lock air and both fluid sides,
        PR,1,4,preliminary,instruction,Relieve: vent and drain,
        PR,1,5,preliminary,check,Verify: try to start,yes
        PR,1,6,main,instruction,Fit it,
        PR,1,7,closeUp,instruction,Clear: look around,
        PR,1,8,closeUp,functionTest,Run it,

        """;

    /// <summary>Orders of the pumps, as if they had been opened: whether they could have been is no matter here.</summary>
    public async Task Orders(ImportBench plant)
    {
        var create = new CreateOrder(plant.Desk);
        for (var n = 0; n < 12; n++)
            Assert.True((await create.Run(new Call(plant.Actor), new NewOrder($"P-{random.Next(Pumps)}", "ONE", new DateOnly(2026, 3, 1).AddDays(random.Next(1, 30)), 5) { Kits = [new KitAsk($"K{random.Next(Kits)}", 1)] }, CancellationToken.None)).IsDone);
        await using var db = plant.Db();
        await db.Database.ExecuteSqlRawAsync("update work_order set state = (array['draft', 'open', 'staged', 'underway', 'finished'])[1 + id % 5]", CancellationToken.None);
    }

    string Parts() => "part,description,unit,elastomers\n" + Lines(Kits, n => $"K{n},Kit {n},each,") + Lines(6, n => $"P{n},Part {n},each,{Pick("NBR", "", "FKM", "EPDM")}") + Lines(3, n => $"Q{n},Other part {n},each,");

    string Stock() => "part,lot,bin,quantity,received_on,cured_on\n"
        + string.Concat(Enumerable.Range(0, 6).SelectMany(p => Enumerable.Range(0, random.Next(3)).Select(l => $"P{p},L{p}{l},A-1,{random.Next(1, 4)},2026-01-02,{random.Next(2020, 2026)}-0{random.Next(1, 10)}-11\n")))
        + Lines(3, n => $"Q{n},LQ{n},A-1,2,2026-01-02,")
        + string.Concat(Enumerable.Range(0, Kits).Where(_ => random.Next(3) == 0).Select(k => $"K{k},LK{k},A-1,1,2026-01-02,2021-0{random.Next(1, 10)}-11\n"));

    string Fit() => string.Join(',', random.Next(3) == 0 ? "M1" : "", Pick("yes", "no", ""), random.Next(2) == 0 ? $"exhaust={Pick(threads)} male" : random.Next(4) == 0 ? $"drain={Pick(threads)} male" : "",
        Coil(), Pick(markings), random.Next(2) == 0 ? $"{Pick(materials)}+{Pick("PTFE", "PVDF")}" : "", Pick("yes", "no"),
        random.Next(3) == 0 ? $"K{random.Next(Kits)}" : "", random.Next(3) == 0 ? $"K{random.Next(Kits)}" : "");

    string Coil() => random.Next(3) switch
    {
        0 => ",,,",
        1 => $"dc,24,10,{Pick("0.2", "0.5")}",
        _ => $"{Pick("dc", "ac50", "")},{Pick("24", "")},{Pick("10", "")},{Pick("0.2", "")}",
    };

    string Zone() => Pick(zones) switch
    {
        "1" or "2" => $"{Pick("1", "2")},{Pick("IIA", "IIC", "")},{Pick("T3", "T4", "T6", "")}",
        "21" => $"21,{Pick("IIIB", "")},{Pick("T135°C", "T100°C")}",
        var zone => $"{zone},,",
    };

    string Pick(params string[] from) => from[random.Next(from.Length)];

    string Maybe(string text) => random.Next(2) == 0 ? text : "";

    static string Lines(int count, Func<int, string> line)
    {
        var text = new StringBuilder();
        for (var n = 0; n < count; n++)
            text.Append(CultureInfo.InvariantCulture, $"{line(n)}\n");
        return text.ToString();
    }
}
