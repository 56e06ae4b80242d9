using KitOrders.Rules;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <param name="Model">The model it belongs to; null where it belongs to the pump itself.</param>
/// <param name="Bytes">Size of the file.</param>
public sealed record DocumentView(int Id, string? Model, DocumentKind Kind, string Title, string? Edition, string FileName, string ContentType, int Bytes,
    string AddedBy, DateTimeOffset AddedAt);

/// <param name="Content">The file as it came.</param>
public sealed record DocumentContent(string FileName, string ContentType, ReadOnlyMemory<byte> Content, string Sha256);

/// <summary>The documents of models and pumps. Everybody with a role reads them; a cited one opens even when it has left the lists.</summary>
public sealed class DocumentShelf(Desk desk)
{
    public Task<Outcome<IReadOnlyList<DocumentView>>> OfModel(string code, CancellationToken ct) =>
        desk.Read<Outcome<IReadOnlyList<DocumentView>>>(async reading =>
            await reading.Db.PumpModels.Where(m => m.Code == code).Select(m => (PumpModelId?)m.Id).SingleOrDefaultAsync(ct) is { } model
                ? await List(reading, reading.Db.Documents.Where(d => d.ModelId == model))
                : Refusal.NotFound("model-unknown", $"There is no pump model {code}."), ct);

    /// <summary>Those of the pump itself and those of its model.</summary>
    public Task<Outcome<IReadOnlyList<DocumentView>>> OfPump(string serial, CancellationToken ct) =>
        desk.Read<Outcome<IReadOnlyList<DocumentView>>>(async reading =>
            await reading.Db.Pumps.SingleOrDefaultAsync(p => p.Serial == serial, ct) is { } pump
                ? await List(reading, reading.Db.Documents.Where(d => d.PumpId == pump.Id || d.ModelId == pump.ModelId))
                : Refusal.NotFound("pump-unknown", $"There is no pump with the serial number {serial}."), ct);

    public Task<Outcome<DocumentContent>> One(int document, CancellationToken ct) =>
        desk.Read<Outcome<DocumentContent>>(async reading =>
            await reading.Db.Documents.SingleOrDefaultAsync(d => d.Id == new DocumentId(document), ct) is { } found
                ? new DocumentContent(found.FileName, found.ContentType, found.Content, found.Sha256) : Unknown(document), ct);

    internal static Refusal Unknown(int document) => Refusal.NotFound("document-unknown", $"There is no document {document}. Open it from the list of its pump or model.");

    internal static async Task<List<DocumentView>> List(Reading reading, IQueryable<Document> documents)
    {
        var db = reading.Db;
        var rows = await (from d in documents
                          join person in db.People on d.AddedById equals person.Id
                          where !db.DocumentRemovals.Any(r => r.DocumentId == d.Id)
                          orderby d.Title, d.Edition, d.Id
                          select new
                          {
                              d.Id, Model = db.PumpModels.Where(m => m.Id == d.ModelId).Select(m => m.Code).FirstOrDefault(), d.Kind, d.Title, d.Edition, d.FileName, d.ContentType,
                              Bytes = d.Content.Length, person.Name, d.AddedAt,
                          }).AsNoTracking().ToListAsync(reading.Ct);
        return [.. rows.OrderBy(d => d.Kind).Select(d => new DocumentView(d.Id.Value, d.Model, d.Kind, d.Title, d.Edition, d.FileName, d.ContentType, d.Bytes, d.Name, reading.Plant.TimeOf(d.AddedAt)))];
    }
}
