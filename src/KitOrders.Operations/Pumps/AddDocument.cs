using KitOrders.Operations.Orders;
using KitOrders.Operations.People;
using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <param name="Model">The model it belongs to, by code; null where it belongs to a pump.</param>
/// <param name="Serial">The pump it belongs to.</param>
/// <param name="FileName">What the file is called where it comes from.</param>
public sealed record NewDocument(string? Model, string? Serial, DocumentKind Kind, string Title, string? Edition, string FileName);

/// <summary>Attaches a document to a pump model or to a pump. What the file is, its first bytes say.</summary>
public sealed class AddDocument(Desk desk)
{
    public Task<Outcome<int>> Run(Call call, NewDocument document, byte[] content, CancellationToken ct) =>
        desk.Write<int>(call, Roles.Planner, "add-document", async work =>
        {
            if (Form(document) is { } wrong)
                return wrong;
            var type = DocumentFile.TypeOf(content);
            if (type.Refusal is { } noDocument)
                return noDocument;
            var owner = await OwnerOf(work, document);
            if (owner.Refusal is { } unknown)
                return unknown;
            var (model, pump) = owner.Value;
            var sha = KeepPhotograph.Sha256Of(content);
            var same = await work.Db.Documents.Where(d => d.ModelId == model && d.PumpId == pump && d.Sha256 == sha && !work.Db.DocumentRemovals.Any(r => r.DocumentId == d.Id))
                .Select(d => d.Title).FirstOrDefaultAsync(work.Ct);
            if (same is not null)
                return Refusal.Conflict("document-there", $"This very file is attached already, as \"{same}\". Nothing was kept a second time.");
            var added = work.Db.Documents.Add(new Document
            {
                ModelId = model, PumpId = pump, Kind = document.Kind, Title = document.Title.Trim(), Edition = Blank.ToNone(document.Edition),
                FileName = NameOf(document.FileName), ContentType = type.Value, Sha256 = sha, Content = content, AddedById = work.Actor.Person, AddedAt = work.Now,
            }).Entity;
            await work.Db.SaveChangesAsync(work.Ct);
            work.Audit(document.Model is { } code ? $"pump model {code}" : $"pump {document.Serial}",
                $"Document attached: {added.Title}{(added.Edition is { } edition ? $", edition {edition}" : "")} ({Word.Of(added.Kind)}, {(content.Length + 1023) / 1024} kB).");
            work.Changed("documents");
            return added.Id.Value;
        }, ct);

    static Refusal? Form(NewDocument document)
    {
        if (string.IsNullOrWhiteSpace(document.Title) || document.Title.Trim().Length > Document.TitleMaxLength)
            return Refusal.Field("title", "title-missing", $"A document has a title of 1 to {Document.TitleMaxLength} characters. Write what stands on its cover.");
        if (document.Edition?.Trim().Length > Document.EditionMaxLength)
            return Refusal.Field("edition", "edition-too-long", $"The edition has at most {Document.EditionMaxLength} characters.");
        return (document.Model is null) == (document.Serial is null)
            ? Refusal.Field("model", "owner-missing", "A document belongs either to a pump model or to one pump. Say which.") : null;
    }

    static async Task<Outcome<(PumpModelId? Model, PumpId? Pump)>> OwnerOf(Work work, NewDocument document)
    {
        if (document.Model is { } code)
            return await work.Db.PumpModels.Where(m => m.Code == code).Select(m => (PumpModelId?)m.Id).SingleOrDefaultAsync(work.Ct) is { } model ? (model, null)
                : Refusal.NotFound("model-unknown", $"There is no pump model {code}. Import it first, or attach the document to a pump.");
        return await work.Db.Pumps.Where(p => p.Serial == document.Serial).Select(p => (PumpId?)p.Id).SingleOrDefaultAsync(work.Ct) is { } pump ? (null, pump)
            : Refusal.NotFound("pump-unknown", $"There is no pump with the serial number {document.Serial}.");
    }

    /// <summary>Without the folders some senders put before it, and short enough to keep.</summary>
    static string NameOf(string given)
    {
        var name = new string([.. given[(given.LastIndexOfAny(['/', '\\']) + 1)..].Where(c => !char.IsControl(c))]).Trim();
        return name.Length == 0 ? "document" : name.Length > Document.FileNameMaxLength ? name[^Document.FileNameMaxLength..] : name;
    }
}
