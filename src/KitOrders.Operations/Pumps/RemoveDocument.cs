using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>Takes a document off the lists. Its file stays, so that steps and orders that cite it go on showing what they cited.</summary>
public sealed class RemoveDocument(Desk desk)
{
    public Task<Outcome<int>> Run(Call call, int document, CancellationToken ct) =>
        desk.Write<int>(call, Roles.Planner, "remove-document", async work =>
        {
            var id = new DocumentId(document);
            var found = await (from d in work.Db.Documents
                               where d.Id == id
                               select new
                               {
                                   d.Title,
                                   Model = work.Db.PumpModels.Where(m => m.Id == d.ModelId).Select(m => m.Code).FirstOrDefault(),
                                   Serial = work.Db.Pumps.Where(p => p.Id == d.PumpId).Select(p => p.Serial).FirstOrDefault(),
                                   Removed = work.Db.DocumentRemovals.Any(r => r.DocumentId == d.Id),
                               }).SingleOrDefaultAsync(work.Ct);
            if (found is null)
                return DocumentShelf.Unknown(document);
            if (found.Removed)
                return Refusal.Conflict("document-removed", $"\"{found.Title}\" was taken off the list already.");
            work.Db.DocumentRemovals.Add(new DocumentRemoval { DocumentId = id, PersonId = work.Actor.Person, At = work.Now });
            work.Audit(found.Model is { } code ? $"pump model {code}" : $"pump {found.Serial}", $"Document taken off the list: {found.Title}. Steps that cite it still open it.");
            work.Changed("documents");
            return document;
        }, ct);
}
