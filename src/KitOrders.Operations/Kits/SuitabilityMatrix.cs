using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>Which pumps and kits to hold against each other. What is left out leaves nobody out.</summary>
public sealed record MatrixFilter
{
    /// <summary>Tags of pumps.</summary>
    public IReadOnlyList<string>? Tags { get; init; }

    /// <summary>Somewhere in the tag or the serial number.</summary>
    public string? Search { get; init; }

    public string? Model { get; init; }
    public Control? Control { get; init; }

    /// <summary>Somewhere in the name of the area.</summary>
    public string? Area { get; init; }

    public Zone? Zone { get; init; }

    /// <summary>Only where no zone is recorded.</summary>
    public bool ZoneNotRecorded { get; init; }

    public string? Fluid { get; init; }

    /// <summary>Numbers of kits; otherwise every kit that has a current revision and fits some model or is used by some job.</summary>
    public IReadOnlyList<string>? Kits { get; init; }

    /// <summary>The kits of this job, judged together as one order would bring them.</summary>
    public string? Job { get; init; }

    /// <summary>The day they would be fitted; today when left out.</summary>
    public DateOnly? On { get; init; }
}

public sealed record MatrixChoice(string Code, string Description);

/// <summary>What the plant has of everything that pumps and kits are chosen by.</summary>
public sealed record MatrixChoices(IReadOnlyList<string> Models, IReadOnlyList<string> Areas, IReadOnlyList<string> Fluids,
    IReadOnlyList<MatrixChoice> Kits, IReadOnlyList<MatrixChoice> Jobs);

/// <summary>
/// Many pumps held against many kits: the facts of all pumps and all kits are read in a few statements, and every pair is
/// judged by the rule that judges a single one. Nothing is kept.
/// </summary>
public sealed class SuitabilityMatrix(Desk desk)
{
    /// <summary>More kits than this are not shown beside each other.</summary>
    public const int MostKits = 40;

    static readonly Dictionary<string, FitFacts> NoFits = [];

    public Task<Outcome<MatrixView>> Find(MatrixFilter filter, CancellationToken ct) => desk.Read<Outcome<MatrixView>>(async reading =>
    {
        var db = reading.Db;
        var asked = await Asked(reading, filter);
        if (asked.Refusal is { } refusal)
            return refusal;
        var all = asked.Value;
        var chosen = all.Take(MostKits).ToList();
        var on = filter.On ?? reading.Today;
        var catalogue = await KitCatalogue.Load(db, chosen.Select(k => k.Kit), ct);
        var lots = await Lots(reading, chosen, catalogue, together: filter.Job is not null, on);
        var facts = await MatrixReading.Read(db, filter, [.. chosen.Select(k => catalogue.Revisions[k.Kit].Id)], ct);
        var kits = chosen.Select((k, n) => new MatrixKit(catalogue.Parts[k.Kit].Number, catalogue.Revisions[k.Kit].Number, catalogue.Parts[k.Kit].Description)
        {
            Facts = SuitabilityReading.FactsOf(k.Kit, (catalogue.Revisions[k.Kit].Number, null), catalogue, lots[n]),
            Fits = facts.Fits.GetValueOrDefault(catalogue.Revisions[k.Kit].Id) ?? NoFits,
        }).ToList();
        return new MatrixView(on, kits, facts.Pumps, filter.Job is not null, all.Count - chosen.Count);
    }, ct);

    /// <summary>What there is to choose from.</summary>
    public Task<MatrixChoices> Choices(CancellationToken ct) => desk.Read(async reading =>
    {
        var trip = new Trip(reading.Db);
        var found = trip.Ask($"""
            select 'model', code, code from pump_model union all select 'area', area, area from position where area is not null group by area
            union all select 'fluid', name, name from fluid union all select 'job', j.code, j.description from job j where exists (select from job_kit k where k.job_id = j.id)
            union all select 'kit', p.number, p.description from part p where {Offered}
            order by 2
            """, row => (Kind: row.GetString(0), Code: row.GetString(1), Words: row.GetString(2)));
        await trip.Send(ct);
        IReadOnlyList<string> Of(string kind) => [.. found.Rows.Where(f => f.Kind == kind).Select(f => f.Code)];
        IReadOnlyList<MatrixChoice> Named(string kind) => [.. found.Rows.Where(f => f.Kind == kind).Select(f => new MatrixChoice(f.Code, f.Words))];
        return new MatrixChoices(Of("model"), Of("area"), Of("fluid"), Named("kit"), Named("job"));
    }, ct);

    /// <summary>Of a part p: it has a current revision, and fits some model or is used by some job.</summary>
    const string Offered = """
        exists (select from kit_revision r where r.part_id = p.id and r.state = 'released'
            and (exists (select from kit_fit f where f.kit_revision_id = r.id) or exists (select from job_kit k where k.kit_part_id = p.id)))
        """;

    /// <summary>The kits that are asked for, in the order of their numbers; of a job, in the order's own.</summary>
    static async Task<Outcome<IReadOnlyList<KitAsked>>> Asked(Reading reading, MatrixFilter filter)
    {
        var db = reading.Db;
        var current = db.Parts.Where(p => db.KitRevisions.Any(r => r.PartId == p.Id && r.State == RevisionState.Released));
        if (filter.Job is { } code)
        {
            if (await db.Jobs.Include(j => j.Kits).SingleOrDefaultAsync(j => j.Code == code, reading.Ct) is not { } job)
                return Refusal.NotFound("job-unknown", $"There is no job {code}. Look it up, or import it first.");
            var ids = job.Kits.Select(k => k.KitPartId).ToList();
            if (await db.Parts.Where(p => ids.Contains(p.Id) && !current.Any(c => c.Id == p.Id)).OrderBy(p => p.Number).Select(p => p.Number).FirstOrDefaultAsync(reading.Ct) is { } without)
                return Refusal.NotFound("kit-unknown", $"No current revision of kit {without}. Look it up under Kits, or release one.");
            return job.Kits.OrderBy(k => k.KitPartId.Value).Select(k => new KitAsked(k.KitPartId, k.Quantity)).ToList();
        }
        if (filter.Kits is { } numbers)
        {
            var named = await current.Where(p => numbers.Contains(p.Number)).ToDictionaryAsync(p => p.Number, p => p.Id, reading.Ct);
            return numbers.FirstOrDefault(n => !named.ContainsKey(n)) is { } unknown
                ? Refusal.NotFound("kit-unknown", $"No current revision of kit {unknown}. Look it up under Kits, or release one.")
                : numbers.Distinct().Select(n => new KitAsked(named[n], 1)).ToList();
        }
        var trip = new Trip(db);
        var every = trip.Ask($"select p.id from part p where {Offered} order by p.number", row => new KitAsked(new PartId(row.GetInt32(0)), 1));
        await trip.Send(reading.Ct);
        return every.Rows.ToList();
    }

    /// <summary>For each kit the lots that would be held for it on that day, alone or together with the others.</summary>
    static async Task<IReadOnlyList<IReadOnlyCollection<(PartId, string, DateOnly?, bool)>>> Lots(
        Reading reading, List<KitAsked> kits, KitCatalogue catalogue, bool together, DateOnly on)
    {
        var shelves = await Shelves.Of(reading.Db, catalogue.All, reading.Ct);
        var carried = await CarryOverRecord.Of(reading.Db, catalogue, reading.Ct);
        var known = shelves.DistinctBy(b => b.Lot).ToDictionary(b => b.Lot);
        IReadOnlyCollection<(PartId, string, DateOnly?, bool)> Planned(IReadOnlyList<KitAsked> asked) =>
            DemandPlanning.Plan(asked, catalogue, carried, shelves, on, reading.Plant.SpareRisk) is { IsDone: true, Value: var lines }
                ? [.. lines.SelectMany(l => l.Takes.Select(t => (l.Plan.Part, known[t.Lot].LotNumber, known[t.Lot].ExpiresOn, known[t.Lot].Quarantined)))] : [];
        if (!together)
            return [.. kits.Select(k => Planned([k]))];
        var all = Planned(kits);
        return [.. kits.Select(_ => all)];
    }
}
