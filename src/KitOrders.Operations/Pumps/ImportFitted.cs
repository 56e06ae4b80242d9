using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>File <c>fitted</c>: kits that were on a pump before orders were kept here.</summary>
static class ImportFitted
{
    public static readonly ImportSpec Spec = new("fitted", Roles.Planner | Roles.Administrator, "tag* kit* revision* fitted_on", "tag kit", Run, "fitted_on", ExportPumps.FittedKits);

    static async Task Run(ImportRun run)
    {
        var tags = run.Values("tag");
        var kits = await run.PartIds("kit");
        var standing = await (from position in run.Db.Positions
                              join pump in run.Db.Pumps on position.Id equals pump.PositionId
                              where tags.Contains(position.Tag)
                              select new { position.Tag, pump.Id, pump.CommissionedOn }).ToDictionaryAsync(p => p.Tag, run.Ct);
        var pumps = standing.ToDictionary(p => p.Key, p => p.Value.Id);
        var pumpIds = pumps.Values.ToArray();
        var kitIds = kits.Values.ToArray();
        var revisions = await run.Db.KitRevisions.AsNoTracking().Where(r => kitIds.Contains(r.PartId))
            .Select(r => new { r.PartId, r.Number, r.Id }).ToDictionaryAsync(r => (r.PartId, r.Number), r => r.Id, run.Ct);
        var recorded = await run.Db.FittedKits.Where(f => pumpIds.Contains(f.PumpId)).ToDictionaryAsync(f => (f.PumpId, f.KitPartId), run.Ct);
        foreach (var row in run.Rows())
        {
            var pump = row.Need("tag", pumps, "pump at the tag", "pumps");
            var kit = row.Need("kit", kits, "kit", "parts");
            var number = row.NeedWhole("revision", 1, 9999);
            if (row["kit"] is { } name && kits.ContainsKey(name) && !revisions.ContainsKey((kit, number)))
                row.Refuse("revision", $"Kit {name} has no revision {number}. Import it with kits first, or correct it here.");
            var revision = revisions.GetValueOrDefault((kit, number));
            var day = row.Date("fitted_on");
            if (recorded.TryGetValue((pump, kit), out var fitted))
            {
                fitted.KitRevisionId = revision;
                fitted.FittedOn = day ?? fitted.FittedOn;
            }
            else if (!run.HasErrors)
                run.Db.Add(new FittedKit { PumpId = pump, KitPartId = kit, KitRevisionId = revision, FittedOn = day ?? Otherwise(row["tag"]!, row["kit"]!) });
        }

        DateOnly Otherwise(string tag, string kit)
        {
            var day = standing[tag].CommissionedOn ?? run.Today;
            run.Warn($"When {kit} was fitted at {tag} is not given. It is recorded as {day:yyyy-MM-dd}, {(standing[tag].CommissionedOn is null ? "today" : "the day the pump was commissioned")}.");
            return day;
        }
    }
}
