using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

/// <summary>Begins a draft: a copy of the current revision under the next number. A procedure has one draft at a time.</summary>
public sealed class DraftProcedure(Desk desk)
{
    public Task<Outcome<int>> Run(Call call, string code, CancellationToken ct) =>
        desk.Write<int>(call, Roles.Planner, "draft-procedure", async work =>
        {
            var found = await ProcedureLookup.Locked(work, code);
            if (found.Refusal is { } unknown)
                return unknown;
            var revisions = found.Value.Revisions;
            if (revisions.Find(r => r.State == RevisionState.Draft) is { } there)
                return Refusal.Conflict("draft-there", $"Revision {there.Number} of {code} is being written already. Go on with it, or throw it away first.");
            var current = revisions.Find(r => r.State == RevisionState.Released);
            var draft = new ProcedureRevision { ProcedureId = found.Value.Id, Number = (revisions.Count == 0 ? 0 : revisions.Max(r => r.Number)) + 1 };
            var steps = current is null ? [] : await work.Db.ProcedureSteps.AsNoTracking().Where(s => s.ProcedureRevisionId == current.Id).ToListAsync(work.Ct);
            draft.Steps.AddRange(current is null
                ? StepDraft.Begun.Select((s, n) => s.At(n + 1, default, null, null))
                : steps.OrderBy(s => s.PartOf).ThenBy(s => s.Number).Select((s, n) => StepDraft.Of(s, null, null).At(n + 1, default, s.ModelId, s.PartId)));
            work.Db.ProcedureRevisions.Add(draft);
            work.Audit($"procedure {code}", $"Draft of revision {draft.Number} begun{(current is null ? "" : $" from revision {current.Number}")}.");
            work.Changed($"procedure:{code}");
            return draft.Number;
        }, ct);
}
