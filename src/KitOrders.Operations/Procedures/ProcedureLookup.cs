using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

/// <summary>Finds procedures and their drafts by the code that people know them by.</summary>
internal static class ProcedureLookup
{
    /// <summary>
    /// The procedure with its revisions, its row locked: two people who keep, release or throw away at a time wait for each
    /// other, and the second sees what the first has done.
    /// </summary>
    public static async Task<Outcome<Procedure>> Locked(Work work, string code)
    {
        var procedure = await work.Db.Procedures.FromSql($"select * from procedure where code = {code} for no key update").SingleOrDefaultAsync(work.Ct);
        if (procedure is null)
            return Unknown(code);
        await work.Db.ProcedureRevisions.Where(r => r.ProcedureId == procedure.Id).OrderBy(r => r.Number).LoadAsync(work.Ct);
        return procedure;
    }

    /// <summary>The draft under that number, as it was seen. Refused: <c>revision-unknown</c>, <c>revision-not-draft</c>, <c>changed-meanwhile</c>.</summary>
    public static Outcome<ProcedureRevision> Draft(Work work, Procedure procedure, int number)
    {
        var revision = procedure.Revisions.Find(r => r.Number == number);
        if (revision is null)
            return Refusal.NotFound("revision-unknown", $"Procedure {procedure.Code} has no revision {number}. It may have been thrown away; look at what there is.");
        if (revision.State != RevisionState.Draft)
            return Refusal.Conflict("revision-not-draft", string.Create(System.Globalization.CultureInfo.InvariantCulture,
                $"Revision {number} of {procedure.Code} was released{(revision.ReleasedOn is { } on ? $" on {on:yyyy-MM-dd}" : "")} and is frozen. Begin a new draft to change it."));
        return work.SeenIsStale(revision.Version) is { } stale ? stale : revision;
    }

    public static Refusal Unknown(string code) => Refusal.NotFound("procedure-unknown", $"There is no procedure {code}. Look it up under Procedures, or start it.");
}
