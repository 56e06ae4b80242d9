using KitOrders.Rules;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

public sealed record PictureContent(string ContentType, ReadOnlyMemory<byte> Content);

/// <summary>The pictures that steps show.</summary>
public sealed class PictureShelf(Desk desk)
{
    public Task<Outcome<PictureContent>> One(string sha256, CancellationToken ct) =>
        desk.Read<Outcome<PictureContent>>(async reading =>
            await reading.Db.PictureFiles.SingleOrDefaultAsync(p => p.Sha256 == sha256, ct) is { } found
                ? new PictureContent(found.ContentType, found.Content)
                : Refusal.NotFound("picture-unknown", "There is no such picture."), ct);
}
