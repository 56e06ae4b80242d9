using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using KitOrders.Operations.Stock;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Rules.People;
using Npgsql;
using Xunit;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>
/// One database for many cases. Every case gets seven parts and four pumps of its own, which no other case touches, so that cases need no
/// database each and may run side by side.
/// </summary>
/// <remarks>
/// Each set: kits J and K, sealed box X (two seals and a plug), buildable assembly V (a plug and 0.35 m of hose), seal S, which
/// ages, plug A, hose M by the metre, handed out in 0.3 m.
/// </remarks>
public sealed class ProofPlant : IAsyncDisposable
{
    const int AtOnce = 40;

    public static readonly DateOnly FirstDay = new(2026, 3, 2);
    public static readonly string[] Bins = ["B-1", "B-2", "B-3"];

    /// <summary>Of the positions that every case has, the most pressing first.</summary>
    public static readonly int[] Criticalities = [9, 6, 3, 2];

    public static string Tag(string prefix, int position) => string.Create(CultureInfo.InvariantCulture, $"{prefix}-P{position}");

    readonly FreshDatabase database;
    readonly ConcurrentQueue<string> unused = new();
    readonly SemaphoreSlim making = new(1);
    int made;

    ProofPlant(FreshDatabase database) => this.database = database;

    public Call Call { get; private set; } = null!;

    public FreshDatabase Database => database;

    public NpgsqlDataSource Rows { get; private set; } = null!;

    internal Desk Desk(TimeProvider clock) => new(database.Contexts(), clock);

    internal static StoppedClock Clock() => new(FirstDay.ToDateTime(new TimeOnly(6, 0), DateTimeKind.Utc));

    public static async Task<ProofPlant> New(TestDatabase databases)
    {
        var plant = new ProofPlant(await databases.Fresh());
        plant.Rows = NpgsqlDataSource.Create(plant.database.AppConnectionString);
        await using (var db = plant.database.Context())
        {
            var person = new Person { Name = "Iris Imports", Roles = Roles.All };
            db.People.Add(person);
            await db.SaveChangesAsync();
            plant.Call = new Call(new Actor(person.Id, person.Name, person.Roles));
        }
        await plant.Import("plant", "key,value\nname,Proof Works\ntime_zone,UTC\ncurrency,EUR\n");
        // The walk is not the order of the codes.
        await plant.Import("bins", "bin,walk_order\nB-1,2\nB-2,3\nB-3,1\n");
        await plant.Import("pump-models", "model,control,ports\nDunlin,pilotAir,exhaust=NPT 1/2 female\n");
        await plant.Import("procedures", """
            procedure,revision,step,part_of,kind,text
            P,1,1,preliminary,instruction,Isolate and lock.
            P,1,2,main,instruction,Fit the parts.
            P,1,3,closeUp,functionTest,Run it.

            """);
        await plant.MakeParts();
        await plant.Import("jobs", "job,description,procedure,kits,crew,hours\nJOB,A job,P,C1-J,,4\n");
        return plant;
    }

    /// <summary>What the numbers of a case's parts and orders begin with.</summary>
    public async Task<string> NextCase()
    {
        while (true)
        {
            if (unused.TryDequeue(out var one))
                return one;
            await making.WaitAsync();
            try
            {
                if (unused.IsEmpty)
                    await MakeParts();
            }
            finally
            {
                making.Release();
            }
        }
    }

    /// <summary>A key for one command that was not used before.</summary>
    public static CommandKey NewKey() => new(Guid.NewGuid().ToString("N", CultureInfo.InvariantCulture), "hash");

    public async Task<IReadOnlyList<string>> Untruths() =>
        [.. (await new StockTruth(Desk(Clock())).Read(CancellationToken.None)).Where(c => !c.Holds).SelectMany(c => c.Broken.Select(b => $"{c.Check}: {b}"))];

    async Task MakeParts()
    {
        var parts = new StringBuilder("part,description,unit,elastomers,handed_out_in\n");
        var kits = new StringBuilder("kit,revision,line,part,quantity,source,spare_policy,buildable\n");
        var fits = new StringBuilder("kit,revision,model\n");
        var pumps = new StringBuilder("tag,serial,model,zone,criticality\n");
        var names = Enumerable.Range(made + 1, AtOnce).Select(n => string.Create(CultureInfo.InvariantCulture, $"C{n}")).ToList();
        foreach (var c in names)
        {
            parts.Append(CultureInfo.InvariantCulture, $"{c}-J,Kit,set,,\n{c}-K,Kit,set,,\n{c}-X,Box,set,,\n{c}-V,Assembly,set,,\n{c}-S,Seal,each,NBR,\n{c}-A,Plug,each,,\n{c}-M,Hose,m,,0.3\n");
            for (var n = 0; n < Criticalities.Length; n++)
                pumps.Append(CultureInfo.InvariantCulture, $"{Tag(c, n)},{c}-S{n},Dunlin,none,{Criticalities[n]}\n");
            foreach (var (kit, buildable, lines) in Kits.All)
            {
                for (var n = 0; n < lines.Length; n++)
                {
                    var (part, quantity, source) = lines[n];
                    kits.Append(CultureInfo.InvariantCulture,
                        $"{c}-{kit},1,{n + 1},{c}-{part},{quantity},{source},{(source == "carriedOver" ? "all" : "")},{(n > 0 ? "" : buildable ? "yes" : "no")}\n");
                }
            }
            fits.Append(CultureInfo.InvariantCulture, $"{c}-J,1,Dunlin\n{c}-K,1,Dunlin\n");
        }
        await Import("parts", parts.ToString());
        await Import("kits", kits.ToString());
        await Import("alternates", "part,alternate,both_ways\n" + string.Concat(names.SelectMany(c => Kits.Alternates.Select(a => $"{c}-{a.Part},{c}-{a.Alternate},{(a.BothWays ? "yes" : "no")}\n"))));
        await Import("fits", fits.ToString());
        await Import("pumps", pumps.ToString());
        made += AtOnce;
        names.ForEach(unused.Enqueue);
    }

    async Task Import(string file, string csv)
    {
        var outcome = await new ImportFile(Desk(Clock())).Run(Call, file, csv, dryRun: false, null, CancellationToken.None);
        Assert.True(outcome.IsDone, outcome.Refusal?.Sentence);
        Assert.True(outcome.Value.Errors.Count == 0, string.Join("\n", outcome.Value.Errors.Take(9).Select(e => $"{file} row {e.Row}, {e.Column}: {e.Message}")));
    }

    public async ValueTask DisposeAsync()
    {
        making.Dispose();
        await Rows.DisposeAsync();
        await database.DisposeAsync();
    }
}
