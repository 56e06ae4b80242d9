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
        "part* description* unit* elastomers unit_cost lead_time_days barcode thread handed_out_in supplier superseded_by", "part", Run, Export: ExportParts.Parts);

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
        var supersessions = await ReadSupersessions(run, parts);
        await run.Write(parts, nameof(Part.Number));
        await WriteSupersessions(run, supersessions);
    }

    /// <summary>What the file says supersedes what; a successor may stand in the same file. Empty is nothing.</summary>
    static async Task<IReadOnlyList<(string Part, string? By)>> ReadSupersessions(ImportRun run, List<Part> parts)
    {
        if (!run.Table.Has("superseded_by"))
            return [];
        await run.Db.Database.ExecuteSqlRawAsync(SupersedePart.OneAtATime, run.Ct);
        var units = parts.GroupBy(p => p.Number).ToDictionary(p => p.Key, p => p.First().Unit);
        var named = run.Values("superseded_by");
        foreach (var other in await run.Db.Parts.Where(p => named.Contains(p.Number)).Select(p => new { p.Number, p.Unit }).ToListAsync(run.Ct))
            units.TryAdd(other.Number, other.Unit);
        var all = await SupersedePart.Numbers(run.Work);
        var said = run.Table.Rows.Where(r => r["part"] is not null).Select(r => (Row: r, Part: r["part"]!, By: r["superseded_by"])).ToList();
        foreach (var (_, part, by) in said)
            if (by is null)
                all.Remove(part);
            else
                all[part] = by;
        foreach (var (row, part, by) in said.Where(s => s.By is not null))
            if (!units.TryGetValue(by!, out var unit))
                row.Refuse("superseded_by", $"There is no part {by}, here or on record. Correct it, or import that part first.");
            else if (units.TryGetValue(part, out var own) && own != unit)
                row.Refuse("superseded_by", $"{part} is counted in {Rules.Word.Of(own)}, {by} in {Rules.Word.Of(unit)}. One supersedes the other only in the same unit.");
            else if (StandIns.RefuseCircle(part, all) is { } circle)
                row.Refuse("superseded_by", circle.Sentence);
        return [.. said.Select(s => (s.Part, s.By))];
    }

    static Task WriteSupersessions(ImportRun run, IReadOnlyList<(string Part, string? By)> supersessions)
    {
        if (run.HasErrors || supersessions.Count == 0)
            return Task.CompletedTask;
        var parts = supersessions.Select(s => s.Part).ToArray();
        var by = supersessions.Select(s => s.By).ToArray();
        return run.Db.Database.ExecuteSqlAsync($"""
            update part p set superseded_by_id = s.id
            from unnest({parts}, {by}) t(part, by) left join part s on s.number = t.by
            where p.number = t.part and p.superseded_by_id is distinct from s.id
            """, run.Ct);
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
