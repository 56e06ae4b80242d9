using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Parts;

/// <summary>File <c>parts</c>: the catalogue, kits and assemblies included.</summary>
static class ImportParts
{
    public static readonly ImportSpec Spec = new("parts", Roles.Planner | Roles.Administrator,
        "part* description* unit* elastomers unit_cost lead_time_days barcode thread handed_out_in supplier", "part", Run);

    static async Task Run(ImportRun run)
    {
        var numbers = run.Values("part");
        var recorded = await run.Db.Parts.AsNoTracking().Where(p => numbers.Contains(p.Number)).ToDictionaryAsync(p => p.Number, run.Ct);
        var moved = await Moved(run, numbers);
        var parts = new List<Part>();
        foreach (var row in run.Rows())
        {
            var number = row.NeedIdentifier("part", Part.NumberMaxLength);
            var description = row.NeedText("description", Part.DescriptionMaxLength, lines: true);
            var unit = row.NeedWord<Unit>("unit");
            if (!recorded.TryGetValue(number, out var part))
                part = new Part { Number = number, Description = description, Unit = unit };
            else if (part.Unit != unit && moved.Contains(part.Id))
                row.Refuse("unit", $"Part {number} is counted in {Rules.Word.Of(part.Unit)} and its stock has moved in that unit. Keep it, or record a new part.");
            part.Description = description;
            part.Unit = unit;
            var elastomers = Elastomers(row, part.Elastomers);
            if (part.Elastomers != elastomers && moved.Contains(part.Id))
                run.Warn($"Part {number} now has the elastomers {elastomers ?? "none recorded"}. Lots received before keep the last good day they have.");
            part.Elastomers = elastomers;
            part.UnitCost = row.Amount("unit_cost", Bounds.NotNegative, part.UnitCost);
            part.LeadTimeDays = row.Whole("lead_time_days", 0, 3650, part.LeadTimeDays);
            part.Barcode = row.Text("barcode", 100, part.Barcode);
            part.Thread = Thread(row, part.Thread);
            part.HandedOutIn = row.Amount("handed_out_in", Bounds.AboveZero, part.HandedOutIn);
            part.Supplier = row.Text("supplier", 200, part.Supplier);
            parts.Add(part);
        }
        await WarnOfSharedBarcodes(run, parts);
        await run.Write(parts, nameof(Part.Number));
    }

    static string? Elastomers(CsvRow row, string? kept) => !row.Has("elastomers") ? kept
        : row["elastomers"] is { } text && row.Take("elastomers", Elastomer.Read(text)) is { Count: > 0 } read ? Elastomer.Write(read) : null;

    static string? Thread(CsvRow row, string? kept)
    {
        var text = row.Text("thread", 60, kept);
        if (text is not null && row.Has("thread"))
            row.Take("thread", PipeThread.Parse(text));
        return text;
    }

    static async Task<HashSet<PartId>> Moved(ImportRun run, string[] numbers) => await (
        from part in run.Db.Parts
        where numbers.Contains(part.Number) && run.Db.BinStocks.Any(s => s.PartId == part.Id)
        select part.Id).ToHashSetAsync(run.Ct);

    static async Task WarnOfSharedBarcodes(ImportRun run, List<Part> parts)
    {
        if (!run.Table.Has("barcode"))
            return;
        var codes = parts.Select(p => p.Barcode).OfType<string>().Distinct().ToArray();
        var here = parts.Select(p => p.Number).ToHashSet();
        var others = await run.Db.Parts.AsNoTracking().Where(p => codes.Contains(p.Barcode)).Select(p => new { p.Barcode, p.Number }).ToListAsync(run.Ct);
        var all = parts.Select(p => new { p.Barcode, p.Number }).Concat(others.Where(o => !here.Contains(o.Number)));
        foreach (var shared in all.Where(p => p.Barcode is not null).GroupBy(p => p.Barcode).Where(g => g.Count() > 1))
            run.Warn($"The barcode {shared.Key} stands on {string.Join(" and ", shared.Select(p => p.Number).Order(StringComparer.Ordinal).Take(3))}: a scan cannot tell them apart.");
    }
}
