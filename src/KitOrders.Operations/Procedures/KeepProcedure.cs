using KitOrders.Operations.People;
using KitOrders.Rules;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

/// <summary>
/// Keeps a draft as a whole, as the editor shows it; steps are numbered by their places. Whoever looked at an older keeping is
/// refused, so that nobody's work is written over.
/// </summary>
public sealed class KeepProcedure(Desk desk)
{
    /// <returns>The version that the draft has now, to be seen by the next keeping.</returns>
    public Task<Outcome<long>> Run(Call call, string code, int number, IReadOnlyList<StepDraft> steps, CancellationToken ct) =>
        desk.Write<long>(call, Roles.Planner, "keep-procedure", async work =>
        {
            var found = await ProcedureLookup.Locked(work, code);
            if (found.Refusal is { } unknown)
                return unknown;
            var draft = ProcedureLookup.Draft(work, found.Value, number);
            if (draft.Refusal is { } noDraft)
                return noDraft;
            if (steps.Count > StepDraft.MostSteps)
                return Refusal.Invalid("steps-too-many", $"A procedure has at most {StepDraft.MostSteps} steps; these are {steps.Count}. Make two procedures of it.");
            var names = await NamesIn.Load(work, steps);
            if (Wrong(steps, names) is { } wrong)
                return wrong;
            var revision = draft.Value;
            await work.Db.ProcedureSteps.Where(s => s.ProcedureRevisionId == revision.Id).ExecuteDeleteAsync(work.Ct);
            work.Db.ProcedureSteps.AddRange(steps.OrderBy(s => s.PartOf).Select((s, n) => Tidy(s, names)
                .At(n + 1, revision.Id, s.Model is { } model ? names.Models[model] : null, Blank.ToNone(s.Part) is { } part ? names.Parts[part] : null)));
            revision.Kept();
            work.Audit($"procedure {code}", $"Draft of revision {number} kept, {steps.Count} steps.");
            work.Changed($"procedure:{code}");
            return revision.Version;
        }, ct);

    sealed record NamesIn(Dictionary<string, PumpModelId> Models, Dictionary<string, PartId> Parts, Dictionary<int, (string Title, string? Edition)> Documents, HashSet<string> Pictures)
    {
        public static async Task<NamesIn> Load(Work work, IReadOnlyList<StepDraft> steps)
        {
            var models = steps.Select(s => s.Model).OfType<string>().Distinct().ToList();
            var parts = steps.Select(s => Blank.ToNone(s.Part)).OfType<string>().Distinct().ToList();
            var documents = steps.Where(s => s.DocumentId is not null).Select(s => new DocumentId(s.DocumentId!.Value)).Distinct().ToList();
            var pictures = steps.SelectMany(s => s.Pictures).Select(p => p.Sha256).Distinct().ToList();
            return new NamesIn(
                await work.Db.PumpModels.Where(m => models.Contains(m.Code)).ToDictionaryAsync(m => m.Code, m => m.Id, work.Ct),
                await work.Db.Parts.Where(p => parts.Contains(p.Number)).ToDictionaryAsync(p => p.Number, p => p.Id, work.Ct),
                await work.Db.Documents.Where(d => documents.Contains(d.Id)).Select(d => new { d.Id, d.Title, d.Edition }).ToDictionaryAsync(d => d.Id.Value, d => (d.Title, d.Edition), work.Ct),
                await work.Db.PictureFiles.Where(p => pictures.Contains(p.Sha256)).Select(p => p.Sha256).ToHashSetAsync(work.Ct));
        }
    }

    /// <summary>Every value that cannot be kept, by step (from 0, in the order given) and field: "steps[3].bolts".</summary>
    static Refusal? Wrong(IReadOnlyList<StepDraft> steps, NamesIn names)
    {
        var faults = steps.SelectMany((s, n) => StepFaults.Of(s).Concat(Unknown(s, names)).Select(f => (Step: n, Fault: f))).ToList();
        return faults.Count == 0 ? null : Refusal.Invalid("steps-wrong",
            $"{(faults.Count == 1 ? "One value" : $"{faults.Count} values")} cannot be kept, the first in step {faults[0].Step + 1}: {faults[0].Fault.Sentence} Nothing was changed on record.") with
        {
            Errors = faults.GroupBy(f => $"steps[{f.Step}].{f.Fault.Field}").ToDictionary(g => g.Key, g => g.Select(f => f.Fault.Sentence).Distinct().ToArray()),
        };
    }

    static IEnumerable<StepFault> Unknown(StepDraft step, NamesIn names)
    {
        if (step.Model is { } model && !names.Models.ContainsKey(model))
            yield return new StepFault("model", $"There is no pump model {model}.");
        if (Blank.ToNone(step.Part) is { } part && !names.Parts.ContainsKey(part))
            yield return new StepFault("part", $"There is no part {part}. Write its number as the catalogue has it.");
        if (step.DocumentId is { } document && !names.Documents.ContainsKey(document))
            yield return new StepFault("document", "The cited document is not on record any more. Choose it anew.");
        if (step.Pictures.Any(p => StepPicture.IsDigest(p.Sha256) && !names.Pictures.Contains(p.Sha256)))
            yield return new StepFault("pictures", "A picture was not kept. Choose its file once more.");
    }

    /// <summary>Nothing typed is nothing said; a cited document on record is named as the record names it.</summary>
    static StepDraft Tidy(StepDraft s, NamesIn names)
    {
        var cited = s.DocumentId is { } id ? names.Documents[id] : (Blank.ToNone(s.Document), Blank.ToNone(s.Edition));
        return s with
        {
            Text = s.Text.Trim(), Hazard = Blank.ToNone(s.Hazard), Consequence = Blank.ToNone(s.Consequence), Avoid = Blank.ToNone(s.Avoid), Joint = Blank.ToNone(s.Joint),
            Unit = Blank.ToNone(s.Unit), Tool = Blank.ToNone(s.Tool), Document = cited.Item1, Edition = cited.Item2, Page = Blank.ToNone(s.Page),
            Pictures = [.. s.Pictures.Select(p => p with { Caption = p.Caption.Trim() })],
        };
    }
}
