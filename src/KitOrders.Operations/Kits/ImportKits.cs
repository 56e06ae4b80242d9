using System.Globalization;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>
/// File <c>kits</c>: kit revisions by their lines. A revision arrives released; the highest of a kit is the current one. A
/// revision that is there already may be named again as it stands, and is never changed.
/// </summary>
static class ImportKits
{
    const int LongestLineNumber = 99_999;

    public static readonly ImportSpec Spec = new("kits", Roles.Planner | Roles.Administrator,
        "kit* revision* line* part* quantity* source* spare_policy reject_rate wraps wraps_for buildable", "kit revision line", Run, Export: ExportKits.Kits);

    static async Task Run(ImportRun run)
    {
        await run.Db.Database.ExecuteSqlRawAsync(DraftLock.Statement, run.Ct);
        var facts = await Facts(run);
        var parts = facts.ToDictionary(p => p.Key, p => p.Value.Part);
        var kitIds = run.Values("kit").Where(parts.ContainsKey).Select(k => parts[k]).ToArray();
        var recorded = await run.Db.KitRevisions.AsNoTracking().Include(r => r.Lines).AsSplitQuery()
            .Where(r => kitIds.Contains(r.PartId)).ToDictionaryAsync(r => (r.PartId, r.Number), run.Ct);
        var byId = facts.Values.ToDictionary(f => f.Part);
        var added = new List<(KitRevision Revision, CsvRow First)>();
        foreach (var rows in run.Rows().GroupBy(r => (r["kit"], r["revision"])).ToList())
        {
            var first = rows.First();
            var kit = first.Need("kit", parts, "part", "parts");
            var number = first.NeedWhole("revision", 1, 9999);
            var known = recorded.GetValueOrDefault((kit, number));
            var lines = rows.Select(r => (Row: r, Line: Line(r, parts, known))).ToList();
            var buildable = first.Flag("buildable", known?.Buildable) ?? false;
            foreach (var later in rows.Skip(1).Where(r => r.Flag("buildable") is { } said && said != buildable))
                run.Warn($"Row {later.Number}: buildable is read on the first row of {rows.Key.Item1} revision {number} only.");
            if (known is not null)
            {
                RefuseChanges(known, first, rows.Key.Item1!, buildable, lines);
                continue;
            }
            var revision = new KitRevision { PartId = kit, Number = number, Buildable = buildable };
            revision.Lines.AddRange(lines.Select(l => l.Line));
            if (lines.TrueForAll(l => byId.ContainsKey(l.Line.PartId)))
                TakeFindings(run, KitReleaseChecks.Of(rows.Key.Item1 ?? "", revision, byId), first, lines, $"Kit {rows.Key.Item1} revision {number}");
            added.Add((revision, first));
        }
        if (run.HasErrors)
            return;
        var current = Release(run, added.ConvertAll(a => a.Revision), recorded.Values);
        await RefuseCycles(run, current, added, byId);
        await Write(run, added.ConvertAll(a => a.Revision), recorded.Values);
    }

    static async Task<Dictionary<string, PartFact>> Facts(ImportRun run)
    {
        var numbers = run.Values("kit", "part");
        return await run.Db.Parts.Where(p => numbers.Contains(p.Number)).Select(p => new PartFact(p.Id, p.Number, p.Unit)).ToDictionaryAsync(p => p.Number, run.Ct);
    }

    static void TakeFindings(ImportRun run, IReadOnlyList<ReleaseFinding> findings, CsvRow first, List<(CsvRow Row, KitLine Line)> lines, string what)
    {
        foreach (var finding in findings)
        {
            if (finding.WarningOnImport)
            {
                run.Warn($"{what}: {finding.Sentence}");
                continue;
            }
            var row = lines.FirstOrDefault(l => l.Line.Number.ToString(CultureInfo.InvariantCulture) == finding.Where).Row ?? first;
            row.Refuse(ColumnOf(finding.Code), finding.Sentence);
        }
    }

    static string ColumnOf(string finding) => finding switch
    {
        "line-unit" or "line-quantity" => "quantity",
        "reject-rate-missing" or "reject-rate-range" => "reject_rate",
        "wraps-source" => "wraps",
        "wraps-serve-nothing" or "wraps-serve-unknown" => "wraps_for",
        _ => "part",
    };

    static KitLine Line(CsvRow row, Dictionary<string, PartId> parts, KitRevision? known)
    {
        var number = row.NeedWhole("line", 1, LongestLineNumber);
        var before = known?.Lines.SingleOrDefault(l => l.Number == number);
        var source = row.NeedWord<LineSource>("source");
        var kept = source == LineSource.CarriedOver;
        var policy = row.Word("spare_policy", before?.SparePolicy) ?? SparePolicy.None;
        var rate = row.Amount("reject_rate", Bounds.Between(0, 1), before?.RejectRate);
        return new KitLine
        {
            Number = number,
            PartId = row.Need("part", parts, "part", "parts"),
            Quantity = row.NeedAmount("quantity", Bounds.AboveZero),
            Source = source,
            SparePolicy = kept ? policy : SparePolicy.None,
            RejectRate = kept ? rate : null,
            Wraps = row.Amount("wraps", Bounds.AboveZero, before?.Wraps),
            WrapsFor = row.Has("wraps_for") ? WrapsFor(row) : before?.WrapsFor ?? [],
        };
    }

    static List<int> WrapsFor(CsvRow row)
    {
        var lines = new List<int>();
        foreach (var word in (row["wraps_for"] ?? "").Split(['+', ',', ';', ' '], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
            if (int.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out var line))
                lines.Add(line);
            else
                row.Refuse("wraps_for", $"\"{word}\" is no line number. Name lines of the same kit joined by \"+\", such as 5+8.");
        return [.. lines.Distinct()];
    }

    static void RefuseChanges(KitRevision known, CsvRow first, string kit, bool buildable, List<(CsvRow Row, KitLine Line)> lines)
    {
        if (known.State == RevisionState.Draft)
        {
            first.Refuse("revision", $"Revision {known.Number} of {kit} is a draft in the editor. Release or discard it there, or import under another number.");
            return;
        }
        if (known.Buildable != buildable)
            first.Refuse("buildable", Released(known, kit));
        foreach (var (row, line) in lines)
            if (!Same(known.Lines.SingleOrDefault(l => l.Number == line.Number), line))
                row.Refuse("revision", Released(known, kit));
    }

    static string Released(KitRevision known, string kit) =>
        $"Revision {known.Number} of {kit} is released and cannot be changed; line by line it stays as it is. Import the change as a new revision.";

    static bool Same(KitLine? a, KitLine b) => a is not null && a.PartId == b.PartId && a.Quantity == b.Quantity && a.Source == b.Source
        && a.SparePolicy == b.SparePolicy && a.RejectRate == b.RejectRate && a.Wraps == b.Wraps && a.WrapsFor.Order().SequenceEqual(b.WrapsFor.Order());

    /// <summary>Of each kit the highest revision is the current one; answers those of the file that are.</summary>
    static List<KitRevision> Release(ImportRun run, List<KitRevision> added, IEnumerable<KitRevision> recorded)
    {
        var highest = Highest(added, recorded);
        foreach (var revision in added)
        {
            revision.Release(run.Today);
            if (highest[revision.PartId] != revision)
                revision.Supersede();
        }
        return added.FindAll(r => r.State == RevisionState.Released);
    }

    static Dictionary<PartId, KitRevision> Highest(List<KitRevision> added, IEnumerable<KitRevision> recorded) =>
        recorded.Where(r => r.State != RevisionState.Draft).Concat(added).GroupBy(r => r.PartId).ToDictionary(g => g.Key, g => g.MaxBy(r => r.Number)!);

    static async Task RefuseCycles(ImportRun run, List<KitRevision> current, List<(KitRevision Revision, CsvRow First)> added, Dictionary<PartId, PartFact> facts)
    {
        var catalogue = await KitCatalogue.Load(run.Db, facts.Keys, run.Ct);
        var structures = new Dictionary<PartId, KitStructure>(catalogue.Structures);
        foreach (var revision in current)
            structures[revision.PartId] = KitCatalogue.StructureOf(revision);
        string NumberOf(PartId part) => catalogue.Parts[part].Number;
        if (KitTree.LowLevelCodes(current.Select(r => r.PartId), structures, NumberOf).Refusal is not { } cycle)
            return;
        var onPath = cycle.Sentence.Split([' ', '.', ':'], StringSplitOptions.RemoveEmptyEntries).ToHashSet();
        added.Select(a => a.First).FirstOrDefault(r => onPath.Contains(r["kit"]!), added[0].First).Refuse("part", cycle.Sentence);
    }

    /// <summary>What was current before steps back first: a kit has one current revision at every moment.</summary>
    static async Task Write(ImportRun run, List<KitRevision> added, IEnumerable<KitRevision> recorded)
    {
        if (run.HasErrors)
            return;
        var highest = Highest(added, recorded);
        var stepsBack = recorded.Where(r => r.State == RevisionState.Released && highest[r.PartId] != r).Select(r => r.Id).ToArray();
        await run.Db.KitRevisions.Where(r => stepsBack.Contains(r.Id))
            .ExecuteUpdateAsync(set => set.SetProperty(r => r.State, RevisionState.Superseded), run.Ct);
        await run.Write(added, nameof(KitRevision.PartId), nameof(KitRevision.Number));
        var kits = added.Select(r => r.PartId).Distinct().ToArray();
        var ids = await run.Db.KitRevisions.Where(r => kits.Contains(r.PartId)).Select(r => new { r.PartId, r.Number, r.Id })
            .ToDictionaryAsync(r => (r.PartId, r.Number), r => r.Id, run.Ct);
        var revisionOf = added.SelectMany(r => r.Lines.Select(l => (Line: l, Id: ids[(r.PartId, r.Number)]))).ToDictionary(l => l.Line, l => l.Id);
        await WriteMany.ByKey(run.Db, revisionOf.Keys, [nameof(KitLine.KitRevisionId), nameof(KitLine.Number)], run.Ct, (nameof(KitLine.KitRevisionId), l => revisionOf[l]));
    }
}
