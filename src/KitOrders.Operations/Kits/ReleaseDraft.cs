using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <param name="Superseded">The revision that was current until now.</param>
/// <param name="KeptBy">Orders that have not ended and stay with it.</param>
public sealed record ReleasedRevision(string Kit, int Revision, int? Superseded, IReadOnlyList<string> KeptBy);

/// <summary>
/// Releases a draft: it is frozen, the former revision is superseded, and orders that open from now on take it. Every release check
/// is made again with what is recorded at that moment. Whoever holds the trees of kits in memory asks for the current revision with
/// each order, so nothing has to be told to them.
/// </summary>
public sealed class ReleaseDraft(Desk desk)
{
    static readonly OrderState[] Ended = [OrderState.Closed, OrderState.Cancelled];

    public Task<Outcome<ReleasedRevision>> Run(Call call, string kit, int revision, CancellationToken ct) =>
        desk.Write<ReleasedRevision, int>(call, Roles.Planner, "release-kit", DraftLock.OneAtATime, async (work, _) =>
        {
            var db = work.Db;
            var found = await DraftLock.Find(work, kit, revision);
            if (found.Refusal is { } refused)
                return refused;
            var (part, draft) = found.Value;
            await db.Entry(draft).Collection(d => d.Lines).LoadAsync(ct);
            await db.Entry(draft).Collection(d => d.Fits).LoadAsync(ct);
            var checks = KitRelease.Judge(await ReleaseReading.Facts(db, kit, draft, ct));
            if (Against(checks, kit, revision) is { } against)
                return against;
            var former = await db.KitRevisions.AsNoTracking().SingleOrDefaultAsync(r => r.PartId == part.Id && r.State == RevisionState.Released, ct);
            if (former?.Number > revision)
                return Refusal.Conflict("revision-overtaken",
                    $"Revision {former.Number} of {kit} was imported and is current; revision {revision} would go back behind it. Drop this draft and start one from revision {former.Number}.");
            if (former is not null)
                await db.KitRevisions.Where(r => r.Id == former.Id).ExecuteUpdateAsync(set => set
                    .SetProperty(r => r.State, RevisionState.Superseded).SetProperty(r => r.Version, r => r.Version + 1), ct);
            draft.Release(work.Today, work.Actor.Person);
            var keeping = former is null ? [] : await (from of in db.OrderKits
                                                       join order in db.WorkOrders on of.OrderId equals order.Id
                                                       where of.KitRevisionId == former.Id && !Ended.Contains(order.State)
                                                       orderby order.Id
                                                       select order.Number).ToListAsync(ct);
            work.Audit($"kit {kit}", $"Released revision {revision}{(former is null ? "" : $"; revision {former.Number} is superseded and kept by {keeping.Count} orders")}.");
            work.Changed("kits");
            return new ReleasedRevision(kit, revision, former?.Number, keeping);
        }, ct);

    static Refusal? Against(IReadOnlyList<ReleaseCheck> checks, string kit, int revision)
    {
        var against = checks.SelectMany(c => c.Against.Select(f => (c.Topic, Finding: f))).ToList();
        return against.Count == 0 ? null : Refusal.Invalid("release-checks",
            $"{(against.Count == 1 ? "One thing stands" : $"{against.Count} things stand")} against releasing revision {revision} of {kit}. {against[0].Finding.Sentence}") with
        {
            Errors = against.GroupBy(a => a.Finding.Where is { } line ? $"line {line}" : Word.Of(a.Topic)).ToDictionary(g => g.Key, g => g.Select(a => a.Finding.Sentence).ToArray()),
        };
    }
}
