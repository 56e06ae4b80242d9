using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>How a draft is found by those who change it.</summary>
internal static class DraftLock
{
    /// <summary>
    /// One start or release at a time, the import of kits among them: two revisions released side by side could each be right
    /// and make a circle together. Orders that read and open meanwhile do not wait.
    /// </summary>
    public static Func<int> OneAtATime(Trip trip)
    {
        trip.Tell(Statement);
        return () => 0;
    }

    public const string Statement = "lock table kit_revision in share row exclusive mode";

    /// <summary>
    /// The draft as it stands. Refusals: <c>kit-unknown</c>, <c>revision-unknown</c>, <c>revision-frozen</c> when it is no draft
    /// any more, <c>changed-meanwhile</c>.
    /// </summary>
    public static async Task<Outcome<(Part Kit, KitRevision Draft)>> Find(Work work, string kit, int number)
    {
        var part = await work.Db.Parts.AsNoTracking().SingleOrDefaultAsync(p => p.Number == kit, work.Ct);
        if (part is null)
            return Refusal.NotFound("kit-unknown", $"There is no kit {kit}. Look it up under Kits.");
        var draft = await work.Db.KitRevisions.SingleOrDefaultAsync(r => r.PartId == part.Id && r.Number == number, work.Ct);
        if (draft is null)
            return Refusal.NotFound("revision-unknown", $"Kit {kit} has no revision {number}; if it was a draft, it has been dropped.");
        if (draft.State != RevisionState.Draft)
            return await Frozen(work, kit, draft);
        return work.SeenIsStale(draft.Version) is { } stale ? stale : (part, draft);
    }

    static async Task<Refusal> Frozen(Work work, string kit, KitRevision revision)
    {
        var by = revision.ReleasedBy is { } person ? await work.Db.People.Where(p => p.Id == person).Select(p => p.Name).SingleOrDefaultAsync(work.Ct) : null;
        var when = revision.ReleasedOn is { } on ? FormattableString.Invariant($" on {on:yyyy-MM-dd}") : "";
        return Refusal.Conflict("revision-frozen",
            $"Revision {revision.Number} of {kit} was released{when}{(by is null ? "" : $" by {by}")} and cannot be changed any more. Nothing of yours was written; start a new draft from it.");
    }
}
