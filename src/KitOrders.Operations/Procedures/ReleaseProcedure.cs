using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

/// <summary>
/// Releases a draft: from then on it never changes, orders that open take it, and the revision before is superseded. Orders that
/// are open keep the copy they opened with. Every release check has to be passed.
/// </summary>
public sealed class ReleaseProcedure(Desk desk)
{
    /// <param name="over">A revision that was released after the draft was begun, seen and meant to be replaced.</param>
    /// <returns>The number of the released revision.</returns>
    public Task<Outcome<int>> Run(Call call, string code, int number, int? over, CancellationToken ct) =>
        desk.Write<int>(call, Roles.Planner, "release-procedure", async work =>
        {
            var found = await ProcedureLookup.Locked(work, code);
            if (found.Refusal is { } unknown)
                return unknown;
            var draft = ProcedureLookup.Draft(work, found.Value, number);
            if (draft.Refusal is { } noDraft)
                return noDraft;
            var (revision, revisions) = (draft.Value, found.Value.Revisions);
            var newest = revisions.Where(r => r != revision).Select(r => r.Number).DefaultIfEmpty(0).Max();
            if (newest > number && newest != over)
                return Refusal.Conflict("revision-overtaken",
                    $"Revision {newest} of {code} was released after this draft was begun, and the draft lacks what it changed. Nothing was released; look at the differences, then release the draft over it.");
            if (Against(await Findings(work, revision), number, code) is { } notYet)
                return notYet;
            var before = revisions.Find(r => r.State == RevisionState.Released);
            if (before is not null)
            {
                before.Supersede();
                await work.Db.SaveChangesAsync(work.Ct);
            }
            revision.Number = Math.Max(number, newest + 1);
            revision.Release(work.Today);
            work.Audit($"procedure {code}", $"Revision {revision.Number} released{(before is null ? "" : $"; revision {before.Number} is superseded, orders that are open keep it")}.");
            work.Changed($"procedure:{code}");
            return revision.Number;
        }, ct);

    static async Task<IReadOnlyList<ReleaseFinding>> Findings(Work work, ProcedureRevision revision)
    {
        var steps = await work.Db.ProcedureSteps.AsNoTracking().Where(s => s.ProcedureRevisionId == revision.Id).OrderBy(s => s.Number).ToListAsync(work.Ct);
        var ids = steps.Select(s => s.ModelId).OfType<Rules.Pumps.PumpModelId>().Distinct().ToList();
        return ReleaseChecks.Of(steps, await work.Db.PumpModels.Where(m => ids.Contains(m.Id)).ToDictionaryAsync(m => m.Id, m => m.Code, work.Ct));
    }

    static Refusal? Against(IReadOnlyList<ReleaseFinding> findings, int number, string code) => findings.Count == 0 ? null
        : Refusal.Conflict("release-checks", $"Revision {number} of {code} was not released: {(findings.Count == 1 ? "one check stands" : $"{findings.Count} checks stand")} against it. {findings[0].Sentence}") with
        {
            Errors = findings.GroupBy(f => f.Code).ToDictionary(g => g.Key, g => g.Select(f => f.Sentence).ToArray()),
        };
}
