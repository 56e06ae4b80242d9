using KitOrders.Operations;
using KitOrders.Rules;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Net.Http.Headers;

namespace KitOrders.Web.Api;

/// <summary>Files as they stand, over HTTP: written while they are read, so that a large one takes no more memory than a small one.</summary>
static class ExportsApi
{
    public const string Workbook = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

    public static void Map(RouteGroupBuilder api) => api.MapGet("/exports/{file}", Export).WithTags("Imports")
        .WithSummary("A file as it stands, with the columns of its import (text/csv, or with format=xlsx a workbook); catalogue is all of them in one zip.")
        .Produces<string>(StatusCodes.Status200OK, "text/csv", Workbook, "application/zip");

    static async Task<IResult> Export(HttpContext http, ApiCall call, ExportFile export, string file, string? format)
    {
        if (!string.IsNullOrEmpty(format) && !Word.TryRead<FileForm>(format, out _))
            return Problem.Of(Refusal.Field("format", "format-unknown", $"format is {string.Join(" or ", Word.All<FileForm>())}."));
        var form = Word.TryRead<FileForm>(format, out var asked) ? asked : FileForm.Csv;
        var done = await export.Run(call.Actor, file, form, () =>
        {
            var (type, ending) = file == ExportFile.Catalogue ? ("application/zip", "zip") : form == FileForm.Csv ? ("text/csv; charset=utf-8", "csv") : (Workbook, "xlsx");
            // Closing a part of a packed file writes its last bytes in no other way.
            http.Features.Get<IHttpBodyControlFeature>()?.AllowSynchronousIO = true;
            http.Response.ContentType = type;
            http.Response.Headers.ContentDisposition = new ContentDispositionHeaderValue("attachment") { FileName = $"{file}.{ending}" }.ToString();
            return http.Response.Body;
        }, call.Ct);
        return done.Refusal is { } refusal ? Problem.Of(refusal) : Results.Empty;
    }
}
