using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <param name="Version">The version that the next saving has to have seen.</param>
public sealed record KeptDraft(string Kit, int Revision, long Version);

/// <summary>Keeps a draft whole, lines, models and all, in place of what it said before.</summary>
public sealed class KeepDraft(Desk desk)
{
    public Task<Outcome<KeptDraft>> Run(Call call, string kit, int revision, DraftContent content, CancellationToken ct) =>
        desk.Write<KeptDraft>(call, Roles.Planner, "keep-kit-draft", async work =>
        {
            var db = work.Db;
            var found = await DraftLock.Find(work, kit, revision);
            if (found.Refusal is { } refused)
                return refused;
            var (part, draft) = found.Value;
            var read = await DraftReading.Read(db, part.Id, revision, content, ct);
            if (read.Refusal is { } unreadable)
                return unreadable;
            draft.Buildable = content.Buildable;
            draft.Touch();
            // First the revision itself: whoever saves or releases it at the same time stops here.
            await db.SaveChangesAsync(ct);
            await db.KitLines.Where(l => l.KitRevisionId == draft.Id).ExecuteDeleteAsync(ct);
            await db.KitFits.Where(f => f.KitRevisionId == draft.Id).ExecuteDeleteAsync(ct);
            draft.Lines.AddRange(read.Value.Lines);
            draft.Fits.AddRange(read.Value.Fits);
            work.Audit($"kit {kit}", $"Kept the draft of revision {revision}: {content.Lines.Count} lines, {content.Fits.Count} models.");
            work.Changed($"kits:{kit}");
            return new KeptDraft(kit, revision, draft.Version);
        }, ct);
}

/// <summary>Throws a draft away. What is released is never thrown away.</summary>
public sealed class DropDraft(Desk desk)
{
    public Task<Outcome<Done>> Run(Call call, string kit, int revision, CancellationToken ct) =>
        desk.Write<Done>(call, Roles.Planner, "drop-kit-draft", async work =>
        {
            var found = await DraftLock.Find(work, kit, revision);
            if (found.Refusal is { } refused)
                return refused;
            work.Db.KitRevisions.Remove(found.Value.Draft);
            work.Audit($"kit {kit}", $"Dropped the draft of revision {revision}.");
            work.Changed("kits");
            return Done.Value;
        }, ct);
}
