using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

/// <summary>Throws a draft away. A procedure that never had another revision and that no job uses goes with it.</summary>
public sealed class ThrowDraftAway(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string code, int number, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "throw-draft-away", async work =>
        {
            var found = await ProcedureLookup.Locked(work, code);
            if (found.Refusal is { } unknown)
                return unknown;
            var procedure = found.Value;
            var draft = ProcedureLookup.Draft(work, procedure, number);
            if (draft.Refusal is { } noDraft)
                return noDraft;
            await work.Db.ProcedureSteps.Where(s => s.ProcedureRevisionId == draft.Value.Id).ExecuteDeleteAsync(work.Ct);
            work.Db.ProcedureRevisions.Remove(draft.Value);
            var goes = procedure.Revisions.Count == 1 && !await work.Db.Jobs.AnyAsync(j => j.ProcedureId == procedure.Id, work.Ct);
            if (goes)
                work.Db.Procedures.Remove(procedure);
            work.Audit($"procedure {code}", $"Draft of revision {number} thrown away{(goes ? ", and with it the procedure, which had no other" : "")}.");
            work.Changed($"procedure:{code}");
            return code;
        }, ct);
}
