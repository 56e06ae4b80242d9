using System.Globalization;
using KitOrders.Operations.People;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

/// <summary>File <c>jobs</c>: a procedure plus the kits it uses, written <c>LK-20*2+CK-11</c>; none is an inspection.</summary>
static class ImportJobs
{
    public static readonly ImportSpec Spec = new("jobs", Roles.Planner | Roles.Administrator,
        "job* description* procedure* kits* crew hours", "job", Run, Export: ExportProcedures.Jobs);

    static async Task Run(ImportRun run)
    {
        var codes = run.Values("job");
        var recorded = await run.Db.Jobs.Include(j => j.Kits).Where(j => codes.Contains(j.Code)).ToDictionaryAsync(j => j.Code, run.Ct);
        var names = run.Values("procedure");
        var procedures = await run.Db.Procedures.Where(p => names.Contains(p.Code)).Select(p => new { p.Code, p.Id }).ToDictionaryAsync(p => p.Code, p => p.Id, run.Ct);
        var parts = await run.PartIdsOf([.. run.Values("kits").SelectMany(v => v.Split('+')).Select(k => k.Split('*')[0].Trim()).Distinct()]);
        var ids = parts.Values.ToArray();
        var released = await run.Db.KitRevisions.Where(r => ids.Contains(r.PartId) && r.State == RevisionState.Released).Select(r => r.PartId).ToHashSetAsync(run.Ct);
        var crews = await run.Db.Crews.Select(c => c.Name).ToHashSetAsync(run.Ct);
        foreach (var row in run.Rows())
        {
            var code = row.NeedIdentifier("job");
            var procedure = row.Need("procedure", procedures, "procedure", "procedures");
            var description = row.NeedText("description", 300, lines: true);
            var kits = Kits(row, parts);
            if (!recorded.TryGetValue(code, out var job))
                run.Db.Add(job = new Job { Code = code, Description = description, ProcedureId = procedure });
            job.Description = description;
            job.ProcedureId = procedure;
            job.Crew = ImportCrews.Named(run, row, crews, job.Crew);
            job.Hours = row.Amount("hours", Bounds.NotNegative, job.Hours);
            Use(job, kits.ToDictionary(k => k.Value.Part, k => k.Value.Quantity));
            foreach (var (kit, _) in kits.Where(k => !released.Contains(k.Value.Part)))
                run.Warn($"Kit {kit} of job {code} has no released revision yet. Orders for the job cannot be made before it has.");
        }
    }

    static void Use(Job job, Dictionary<PartId, int> kits)
    {
        job.Kits.RemoveAll(k => !kits.ContainsKey(k.KitPartId));
        foreach (var (part, quantity) in kits)
            if (job.Kits.SingleOrDefault(k => k.KitPartId == part) is { } known)
                known.Quantity = quantity;
            else
                job.Kits.Add(new JobKit { KitPartId = part, Quantity = quantity });
    }

    static Dictionary<string, (PartId Part, int Quantity)> Kits(CsvRow row, Dictionary<string, PartId> parts)
    {
        var kits = new Dictionary<string, (PartId, int)>();
        foreach (var (kit, quantity) in KitList(row))
            if (!parts.TryGetValue(kit, out var part))
                row.Refuse("kits", $"There is no kit {kit}. Import it with parts and kits first, or correct it here.");
            else if (!kits.TryAdd(kit, (part, quantity)))
                row.Refuse("kits", $"Kit {kit} is named twice. Name it once with its quantity.");
        return kits;
    }

    /// <summary>Kits with their quantities as a cell of the column kits holds them.</summary>
    internal static List<(string Kit, int Quantity)> KitList(CsvRow row)
    {
        var kits = new List<(string, int)>();
        foreach (var entry in row["kits"]?.Split('+', StringSplitOptions.TrimEntries) ?? [])
        {
            var words = entry.Split('*', StringSplitOptions.TrimEntries);
            var quantity = 1;
            if (words.Length > 2 || words[0].Length == 0 || (words.Length == 2
                && (!int.TryParse(words[1], NumberStyles.None, CultureInfo.InvariantCulture, out quantity) || quantity is < 1 or > 9999)))
                row.Refuse("kits", $"\"{entry}\" is no kit with a quantity. Write kits joined by \"+\", with a whole number from 1 to 9999 after \"*\" if more than one: LK-20*2+CK-11.");
            else
                kits.Add((words[0], quantity));
        }
        return kits;
    }

    /// <summary>As <see cref="KitList"/> reads it.</summary>
    internal static string? Written(IEnumerable<(string Kit, decimal Quantity)> kits) => ExportRows.Joined(
        kits.OrderBy(k => k.Kit, StringComparer.Ordinal).Select(k => k.Quantity == 1 ? k.Kit : FormattableString.Invariant($"{k.Kit}*{k.Quantity:0}")));
}
