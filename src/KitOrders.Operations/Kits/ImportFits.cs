using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>
/// File <c>fits</c>: the pump models a kit revision suits. A model may be added to a released revision; what a released
/// revision says of a model it has already is never changed.
/// </summary>
static class ImportFits
{
    public static readonly ImportSpec Spec = new("fits", Roles.Planner | Roles.Administrator,
        "kit* revision* model* converts_to needs_sensing_rod ports supply_kind volts volts_tolerance_pct amps ex_marking materials once requires_kits excludes_kits",
        "kit revision model", Run, Export: ExportKits.Fits);

    static async Task Run(ImportRun run)
    {
        var kits = await run.PartIds("kit");
        var models = await run.ModelIds("model", "converts_to");
        var others = await Others(run);
        var ids = kits.Values.ToArray();
        var revisions = await run.Db.KitRevisions.AsNoTracking().Include(r => r.Fits)
            .Where(r => ids.Contains(r.PartId)).ToDictionaryAsync(r => (r.PartId, r.Number), run.Ct);
        var added = new List<KitFit>();
        foreach (var row in run.Rows())
        {
            var kit = row.Need("kit", kits, "kit", "parts");
            var number = row.NeedWhole("revision", 1, 9999);
            var model = row.Need("model", models, "pump model", "pump-models");
            if (!revisions.TryGetValue((kit, number), out var revision))
            {
                if (row["kit"] is { } name && kits.ContainsKey(name))
                    row.Refuse("revision", $"Kit {name} has no revision {number}. Import it with kits first, or correct it here.");
                continue;
            }
            var known = revision.Fits.SingleOrDefault(f => f.ModelId == model);
            var fit = Fit(row, revision.Id, model, models, others, known);
            if (known is null)
                added.Add(fit);
            else if (!Same(known, fit))
                row.Refuse("revision", revision.State == RevisionState.Draft
                    ? $"Revision {number} of {row["kit"]} is a draft in the editor. Change the model {row["model"]} there."
                    : $"Revision {number} of {row["kit"]} is released and says something else of {row["model"]}. Import the change as a new revision.");
        }
        if (!run.HasErrors)
            run.Db.AddRange(added);
    }

    static KitFit Fit(CsvRow row, KitRevisionId revision, PumpModelId model, Dictionary<string, PumpModelId> models, HashSet<string> others, KitFit? known)
    {
        var marking = row.Text("ex_marking", 200, known?.ExMarking);
        if (marking is not null && row.Has("ex_marking"))
            row.Take("ex_marking", ExMarking.Parse(marking));
        var ports = row.Text("ports", 500, known?.Ports);
        if (ports is not null && row.Has("ports"))
            row.Take("ports", PortList.Parse(ports));
        return new KitFit
        {
            KitRevisionId = revision,
            ModelId = model,
            ConvertsToId = row.Has("converts_to") ? row.Find("converts_to", models, "pump model", "pump-models") : known?.ConvertsToId,
            NeedsSensingRod = row.Flag("needs_sensing_rod", known?.NeedsSensingRod) ?? false,
            Ports = ports,
            SupplyKind = row.Word("supply_kind", known?.SupplyKind),
            Volts = row.Amount("volts", Bounds.AboveZero, known?.Volts),
            VoltsTolerancePct = row.Amount("volts_tolerance_pct", Bounds.Between(0, 100), known?.VoltsTolerancePct),
            Amps = row.Amount("amps", Bounds.NotNegative, known?.Amps),
            ExMarking = marking,
            Materials = row.List("materials", 60, known?.Materials),
            Once = row.Flag("once", known?.Once) ?? false,
            RequiresKits = KitNumbers(row, "requires_kits", others, known?.RequiresKits),
            ExcludesKits = KitNumbers(row, "excludes_kits", others, known?.ExcludesKits),
        };
    }

    static List<string> KitNumbers(CsvRow row, string column, HashSet<string> others, List<string>? kept)
    {
        var numbers = row.List(column, Part.NumberMaxLength, kept);
        if (row.Has(column))
            foreach (var unknown in numbers.Where(n => !others.Contains(n)))
                row.Refuse(column, $"There is no kit {unknown}. Import it with parts first, or correct it here. Join several by \"+\".");
        return numbers;
    }

    static Task<HashSet<string>> Others(ImportRun run)
    {
        var numbers = run.Values("requires_kits", "excludes_kits").SelectMany(v => v.Split('+', StringSplitOptions.TrimEntries)).Distinct().ToArray();
        return run.Db.Parts.Where(p => numbers.Contains(p.Number)).Select(p => p.Number).ToHashSetAsync(run.Ct);
    }

    static bool Same(KitFit a, KitFit b) => a.ConvertsToId == b.ConvertsToId && a.NeedsSensingRod == b.NeedsSensingRod && a.Ports == b.Ports
        && a.SupplyKind == b.SupplyKind && a.Volts == b.Volts && a.VoltsTolerancePct == b.VoltsTolerancePct && a.Amps == b.Amps
        && a.ExMarking == b.ExMarking && a.Once == b.Once && a.Materials.SequenceEqual(b.Materials)
        && a.RequiresKits.SequenceEqual(b.RequiresKits) && a.ExcludesKits.SequenceEqual(b.ExcludesKits);
}
