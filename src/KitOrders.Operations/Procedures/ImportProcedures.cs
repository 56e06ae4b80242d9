using System.Globalization;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

/// <summary>
/// File <c>procedures</c>: procedure revisions by their steps. A revision arrives released; the highest of a procedure is
/// the current one. A revision that is there already may be named again as it stands, and is never changed.
/// </summary>
static class ImportProcedures
{
    public static readonly ImportSpec Spec = new("procedures", Roles.Planner | Roles.Administrator,
        "procedure* revision* step* part_of* kind* text* model signal_word hazard consequence avoid joint bolts sequence target low high unit tolerance_pct passes hold_point witnessed part minutes tool document edition page",
        "procedure revision step", Run, Export: ExportProcedures.Procedures);

    static async Task Run(ImportRun run)
    {
        var codes = run.Values("procedure");
        var parts = await run.PartIds("part");
        var models = await run.ModelIds("model");
        var names = models.ToDictionary(m => m.Value, m => m.Key);
        var recorded = await Recorded(run, codes);
        var added = new List<(string Code, ProcedureRevision Revision)>();
        foreach (var rows in run.Rows().GroupBy(r => (r["procedure"], r["revision"])).ToList())
        {
            var first = rows.First();
            var code = first.NeedText("procedure", 60);
            var number = first.NeedWhole("revision", 1, 9999);
            var known = recorded.GetValueOrDefault(code)?.Revisions.SingleOrDefault(r => r.Number == number);
            var steps = rows.Select(r => (Row: r, Step: StepRow.Read(r, parts, models, known))).ToList();
            if (known is not null)
            {
                RefuseChanges(known, code, steps);
                continue;
            }
            var revision = new ProcedureRevision { Number = number };
            revision.Steps.AddRange(steps.Select(s => s.Step).OrderBy(s => s.Number));
            if (steps.TrueForAll(s => s.Step.ModelId is null || names.ContainsKey(s.Step.ModelId.Value)))
                TakeFindings(run, ReleaseChecks.Of(revision.Steps, names), first, steps, $"Procedure {code} revision {number}");
            added.Add((code, revision));
        }
        if (!run.HasErrors)
            await Write(run, added, recorded);
    }

    static Task<Dictionary<string, Procedure>> Recorded(ImportRun run, string[] codes) => run.Db.Procedures.AsNoTracking()
        .Include(p => p.Revisions).ThenInclude(r => r.Steps).AsSplitQuery().Where(p => codes.Contains(p.Code)).ToDictionaryAsync(p => p.Code, run.Ct);

    /// <summary>
    /// Only what makes a step senseless keeps the file out. Missing energy steps, cautions that lack a word, joints with too few
    /// passes and the like are warnings here; the editor refuses a release with them.
    /// </summary>
    static void TakeFindings(ImportRun run, IReadOnlyList<ReleaseFinding> findings, CsvRow first, List<(CsvRow Row, ProcedureStep Step)> steps, string what)
    {
        foreach (var finding in findings)
            if (finding.WarningOnImport)
                run.Warn($"{what}: {finding.Sentence}");
            else
                (steps.FirstOrDefault(s => s.Step.Number.ToString(CultureInfo.InvariantCulture) == finding.Where).Row ?? first).Refuse(ColumnOf(finding.Code), finding.Sentence);
    }

    static string ColumnOf(string finding) => finding switch
    {
        "part-empty" => "part_of",
        "step-text-missing" => "text",
        "caution-incomplete" => "signal_word",
        "torque-incomplete" => "target",
        "reading-incomplete" => "unit",
        "limits-crossed" => "low",
        "carry-over-part-missing" => "part",
        _ => "kind",
    };

    static void RefuseChanges(ProcedureRevision known, string code, List<(CsvRow Row, ProcedureStep Step)> steps)
    {
        if (known.State == RevisionState.Draft)
            steps[0].Row.Refuse("revision", $"Revision {known.Number} of {code} is a draft in the editor. Release or discard it there, or import under another number.");
        else
            foreach (var (row, step) in steps)
                if (!StepRow.Same(known.Steps.SingleOrDefault(s => s.Number == step.Number), step))
                    row.Refuse("revision", $"Revision {known.Number} of {code} is released and cannot be changed; step by step it stays as it is. Import the change as a new revision.");
    }

    /// <summary>Of each procedure the highest revision is the current one; what was current before steps back first.</summary>
    static async Task Write(ImportRun run, List<(string Code, ProcedureRevision Revision)> added, Dictionary<string, Procedure> recorded)
    {
        var stepsBack = new List<ProcedureRevisionId>();
        foreach (var ofOne in added.GroupBy(a => a.Code))
        {
            var before = recorded.GetValueOrDefault(ofOne.Key)?.Revisions.FindAll(r => r.State != RevisionState.Draft) ?? [];
            var highest = before.Concat(ofOne.Select(a => a.Revision)).Max(r => r.Number);
            stepsBack.AddRange(before.Where(r => r.State == RevisionState.Released && r.Number != highest).Select(r => r.Id));
            foreach (var (_, revision) in ofOne)
            {
                revision.Release(run.Today);
                if (revision.Number != highest)
                    revision.Supersede();
            }
        }
        await run.Db.ProcedureRevisions.Where(r => stepsBack.Contains(r.Id))
            .ExecuteUpdateAsync(set => set.SetProperty(r => r.State, RevisionState.Superseded), run.Ct);
        var codes = added.Select(a => a.Code).Distinct().ToArray();
        await run.Write(codes.Select(c => new Procedure { Code = c }).ToList(), nameof(Procedure.Code));
        var ids = await run.Db.Procedures.Where(p => codes.Contains(p.Code)).Select(p => new { p.Code, p.Id }).ToDictionaryAsync(p => p.Code, p => p.Id, run.Ct);
        var procedureOf = added.ToDictionary(a => a.Revision, a => ids[a.Code]);
        await WriteMany.ByKey(run.Db, procedureOf.Keys, [nameof(ProcedureRevision.ProcedureId), nameof(ProcedureRevision.Number)], run.Ct,
            (nameof(ProcedureRevision.ProcedureId), r => procedureOf[r]));
        var revisions = await run.Db.ProcedureRevisions.Where(r => ids.Values.Contains(r.ProcedureId)).Select(r => new { r.ProcedureId, r.Number, r.Id })
            .ToDictionaryAsync(r => (r.ProcedureId, r.Number), r => r.Id, run.Ct);
        var revisionOf = procedureOf.SelectMany(p => p.Key.Steps.Select(s => (Step: s, Id: revisions[(p.Value, p.Key.Number)]))).ToDictionary(s => s.Step, s => s.Id);
        await WriteMany.ByKey(run.Db, revisionOf.Keys, [nameof(ProcedureStep.ProcedureRevisionId), nameof(Step.Number)], run.Ct,
            (nameof(ProcedureStep.ProcedureRevisionId), s => revisionOf[s]));
    }
}
