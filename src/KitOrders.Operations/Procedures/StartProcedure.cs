using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

/// <summary>Starts a procedure: its first revision as a draft with the steps that every procedure needs, to be written out.</summary>
public sealed class StartProcedure(Desk desk)
{
    public const int CodeMaxLength = 60;

    public Task<Outcome<string>> Run(Call call, string code, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "start-procedure", async work =>
        {
            var named = code.Trim();
            if (named.Length is 0 or > CodeMaxLength || named.Any(char.IsControl))
                return Refusal.Field("code", "code-missing", $"A procedure has a code of 1 to {CodeMaxLength} characters, such as P-31.");
            if (await work.Db.Procedures.AnyAsync(p => p.Code == named, work.Ct))
                return Refusal.Conflict("procedure-there", $"There is a procedure {named} already. Open it and begin a draft of it, or take another code.").At("code");
            var procedure = new Procedure { Code = named };
            var revision = new ProcedureRevision { Number = 1 };
            revision.Steps.AddRange(StepDraft.Begun.Select((s, n) => s.At(n + 1, default, null, null)));
            procedure.Revisions.Add(revision);
            work.Db.Procedures.Add(procedure);
            work.Audit($"procedure {named}", "Started, with a draft of revision 1.");
            work.Changed($"procedure:{named}");
            return named;
        }, ct);
}
