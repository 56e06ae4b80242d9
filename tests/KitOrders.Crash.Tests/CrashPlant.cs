using System.Globalization;

namespace KitOrders.Crash.Tests;

/// <summary>A plant with few parts and many who want them, as import files.</summary>
static class CrashPlant
{
    public static readonly string[] Parts = ["PLUG", "SEAL", "RING", "HOSE"];
    public static readonly string[] Bins = ["A-01", "A-02", "B-01"];
    public static readonly string[] Kits = ["JP", "JPS", "JRH"];
    public const int Pumps = 12;

    public static string Day(int fromNow) => DateTime.UtcNow.Date.AddDays(fromNow).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    public static readonly (string File, string Csv)[] Files =
    [
        ("plant", "key,value\nname,Works of the kill\ntime_zone,UTC\ncurrency,EUR\n"),
        ("parts", """
            part,description,unit,elastomers,unit_cost,lead_time_days
            PLUG,"Plug, 1/4",each,,2.00,5
            SEAL,"Seal, valve",each,,4.00,10
            RING,"Ring, PTFE",each,PTFE,3.00,
            HOSE,"Hose, 8 mm",each,,1.50,3
            JP,Plug job,set,,,
            JPS,Plug and seal job,set,,,
            JRH,Ring and hose job,set,,,

            """),
        ("bins", "bin,walk_order\nA-01,1\nA-02,2\nB-01,3\n"),
        ("kits", """
            kit,revision,line,part,quantity,source,buildable
            JP,1,1,PLUG,1,inTheBox,yes
            JPS,1,1,PLUG,1,inTheBox,yes
            JPS,1,2,SEAL,2,inTheBox,
            JRH,1,1,RING,1,inTheBox,yes
            JRH,1,2,HOSE,2,inTheBox,
            JRH,1,3,PLUG,1,inTheBox,

            """),
        ("pump-models", "model,control,ports\nDunlin,pilotAir,exhaust=NPT 1/2 female\n"),
        ("fits", "kit,revision,model\nJP,1,Dunlin\nJPS,1,Dunlin\nJRH,1,Dunlin\n"),
        ("pumps", "tag,serial,model,zone,criticality\n" + string.Concat(Enumerable.Range(1, Pumps).Select(n => $"P-{n},S-{n},Dunlin,none,{1 + (n % 10)}\n"))),
        ("procedures", """
            procedure,revision,step,part_of,kind,text
            P,1,1,preliminary,instruction,Isolate and lock.
            P,1,2,main,instruction,Fit the parts.
            P,1,3,closeUp,functionTest,Run it.

            """),
        ("jobs", "job,description,procedure,kits,crew,hours\nJOB,A job,P,JP,,4\n"),
        ("stock", """
            part,lot,bin,quantity,received_on,unit_cost
            PLUG,P-1,A-01,6,today-9,2
            PLUG,P-2,A-02,4,today-8,2
            SEAL,S-1,A-01,5,today-9,4
            RING,R-1,B-01,4,today-9,3
            HOSE,H-1,B-01,7,today-9,1.5

            """),
    ];
}
