using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Parts;

/// <summary>File <c>alternates</c>: which part may stand in for which.</summary>
static class ImportAlternates
{
    public static readonly ImportSpec Spec = new("alternates", Roles.Planner | Roles.Administrator,
        "part* alternate* preference both_ways", "part alternate", Run, Export: ExportParts.Alternates);

    static async Task Run(ImportRun run)
    {
        var parts = await run.PartIds("part", "alternate");
        var ids = parts.Values.ToArray();
        var units = await run.Units(ids);
        var recorded = await run.Db.PartAlternates.AsNoTracking().Where(a => ids.Contains(a.PartId)).ToDictionaryAsync(a => (a.PartId, a.AlternateId), run.Ct);
        var entries = new List<PartAlternate>();
        foreach (var row in run.Rows())
        {
            var part = row.Need("part", parts, "part", "parts");
            var alternate = row.Need("alternate", parts, "part", "parts");
            if (row["part"] is { } number && number == row["alternate"])
                row.Refuse("alternate", $"Part {number} cannot stand in for itself. Name another part.");
            else if (units.TryGetValue(part, out var unit) && units.TryGetValue(alternate, out var other) && unit != other)
                row.Refuse("alternate", $"{row["part"]} is counted in {Rules.Word.Of(unit)}, {row["alternate"]} in {Rules.Word.Of(other)}. One stands in for the other only in the same unit.");
            if (!recorded.TryGetValue((part, alternate), out var entry))
                entry = new PartAlternate { PartId = part, AlternateId = alternate };
            entry.Preference = row.Whole("preference", 1, 999, entry.Preference) ?? 1;
            entry.BothWays = row.Flag("both_ways", entry.BothWays) ?? false;
            entries.Add(entry);
        }
        await run.Write(entries, nameof(PartAlternate.PartId), nameof(PartAlternate.AlternateId));
    }
}
