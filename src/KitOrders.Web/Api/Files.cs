using KitOrders.Operations.Procedures;
using KitOrders.Operations.Pumps;
using KitOrders.Rules.People;
using KitOrders.Web.Access;
using Microsoft.Net.Http.Headers;

namespace KitOrders.Web.Api;

/// <summary>
/// Documents and pictures as they came, for everybody with a role. The type is the one told by the content when it was kept,
/// never the sender's, and browsers are told not to guess another.
/// </summary>
static class Files
{
    public static string Document(int id, string? page = null) => $"/files/documents/{id}{(page is not null && page.All(char.IsAsciiDigit) ? $"#page={page}" : "")}";

    public static string Picture(string sha256) => $"/files/pictures/{sha256}";

    public static void Map(IEndpointRouteBuilder app)
    {
        var files = app.MapGroup("/files").ExcludeFromDescription().RequireAuthorization(new ForAttribute(Roles.All));
        files.MapGet("/documents/{id:int}", SendDocument);
        files.MapGet("/pictures/{sha256}", SendPicture);
    }

    static async Task<IResult> SendDocument(DocumentShelf shelf, int id, HttpContext http, CancellationToken ct)
    {
        var found = await shelf.One(id, ct);
        return found.Refusal is { } refusal ? Problem.Of(refusal) : Sent(http, found.Value.Content, found.Value.ContentType, found.Value.FileName, found.Value.Sha256);
    }

    static async Task<IResult> SendPicture(PictureShelf shelf, string sha256, HttpContext http, CancellationToken ct)
    {
        var found = await shelf.One(sha256, ct);
        return found.Refusal is { } refusal ? Problem.Of(refusal)
            : Sent(http, found.Value.Content, found.Value.ContentType, $"{sha256[..8]}.{found.Value.ContentType.Split('/')[1]}", sha256);
    }

    static IResult Sent(HttpContext http, ReadOnlyMemory<byte> content, string type, string name, string sha256)
    {
        var headers = http.Response.Headers;
        var shown = new ContentDispositionHeaderValue("inline");
        shown.SetHttpFileName(name);
        headers.ContentDisposition = shown.ToString();
        headers.XContentTypeOptions = "nosniff";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        // A kept file never changes; who may see it may.
        headers.CacheControl = "private, max-age=86400, immutable";
        if (type.StartsWith("image/", StringComparison.Ordinal))
            headers.ContentSecurityPolicy = "default-src 'none'; sandbox";
        return Results.Bytes(content, type, entityTag: new EntityTagHeaderValue($"\"{sha256}\""));
    }
}
