using KitOrders.Operations.Pumps;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>A job as it would be on one pump.</summary>
/// <param name="Failed">The first check that failed, in words; null when the job applies.</param>
/// <param name="ModelFails">The kit is made for another model: the job is not about this pump at all.</param>
public sealed record JobOnPump(string Job, string Description, IReadOnlyList<string> Kits, decimal? Hours, string? Crew, string? Failed, bool ModelFails, int Unknown)
{
    public bool Applies => Failed is null;
}

/// <summary>Which jobs may be done on a pump; for those that may not, the first reason.</summary>
public sealed class JobsFor(Desk desk)
{
    public Task<Outcome<IReadOnlyList<JobOnPump>>> Pump(string tag, DateOnly? on, CancellationToken ct) =>
        desk.Read<Outcome<IReadOnlyList<JobOnPump>>>(async reading =>
        {
            var db = reading.Db;
            var position = await db.Positions.SingleOrDefaultAsync(p => p.Tag == tag, ct);
            var pump = position is null ? null : await db.Pumps.SingleOrDefaultAsync(p => p.PositionId == position.Id, ct);
            if (position is null || pump is null)
                return PumpRecord.Unknown(tag, position is not null);
            var jobs = await db.Jobs.Include(j => j.Kits).OrderBy(j => j.Code).ToListAsync(ct);
            var catalogue = await KitCatalogue.Load(db, jobs.SelectMany(j => j.Kits.Select(k => k.KitPartId)).Distinct(), ct);
            var model = pump.ModelId;
            var fitting = (await db.KitFits.Where(f => f.ModelId == model).Select(f => f.KitRevisionId).ToListAsync(ct)).ToHashSet();
            var rows = new List<JobOnPump>();
            foreach (var job in jobs)
                rows.Add(await Judged(reading, job, pump, position, catalogue, fitting, on ?? reading.Today));
            return rows.OrderByDescending(r => r.Applies).ThenBy(r => r.ModelFails).ThenBy(r => r.Job, StringComparer.Ordinal).ToList();
        }, ct);

    static async Task<JobOnPump> Judged(
        Reading reading, Job job, Rules.Pumps.Pump pump, Rules.Pumps.Position position, KitCatalogue catalogue, HashSet<KitRevisionId> fitting, DateOnly on)
    {
        var kits = job.Kits.Select(k => k.KitPartId).OrderBy(k => k.Value).ToList();
        var row = new JobOnPump(job.Code, job.Description,
            [.. job.Kits.Select(k => (Text: Named(catalogue, k), k.KitPartId)).OrderBy(k => k.Text, StringComparer.Ordinal).Select(k => k.Text)],
            job.Hours, job.Crew, null, false, 0);
        if (kits.Find(k => !catalogue.Revisions.ContainsKey(k)) is var missing && kits.Exists(k => !catalogue.Revisions.ContainsKey(k)))
            return row with { Failed = $"No revision of {catalogue.Parts[missing].Number} is released." };
        // Without an entry for the model every other check is beside the point.
        if (kits.Exists(k => !fitting.Contains(catalogue.Revisions[k].Id)))
        {
            var kit = kits.Find(k => !fitting.Contains(catalogue.Revisions[k].Id));
            return row with { Failed = $"{catalogue.Parts[kit].Number} is made for other models.", ModelFails = true };
        }
        var judged = await SuitabilityReading.Judge(reading.Db, pump, position, kits, catalogue, [], on, null, reading.Ct);
        return row with
        {
            Failed = judged.FirstOrDefault(j => j.Result == CheckResult.Failed)?.Reason,
            Unknown = judged.Count(j => j.Result == CheckResult.Unknown),
        };
    }

    static string Named(KitCatalogue catalogue, JobKit kit) =>
        catalogue.Parts[kit.KitPartId].Number
        + (catalogue.Revisions.TryGetValue(kit.KitPartId, out var revision) ? $" rev {revision.Number}" : "")
        + (kit.Quantity == 1 ? "" : string.Create(System.Globalization.CultureInfo.InvariantCulture, $" ×{kit.Quantity:0.####}"));
}
