using System.Text.Json;
using KitOrders.Operations;
using KitOrders.Rules;
using Microsoft.AspNetCore.Http.Features;

namespace KitOrders.Web.Api;

/// <summary>
/// Import files over HTTP. A file is written as a whole or not at all, and sending it twice adds nothing, so a key is
/// honoured where one is sent and not asked for.
/// </summary>
static class ImportsApi
{
    const long MostBytes = 200 * 1024 * 1024;

    public static void Map(RouteGroupBuilder api) => api.MapPost("/imports/{file}", Import).WithTags("Imports")
        .Does<ImportReport>("Takes an import file (text/csv, or a workbook of one sheet under its own content type) as a whole or not at all; dryRun=true checks it only.");

    static async Task<IResult> Import(HttpContext http, ApiCall call, ImportFile import, string file)
    {
        if (http.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
            limit.MaxRequestBodySize = MostBytes;
        var asked = http.Request.Query["dryRun"].ToString();
        if (asked.Length > 0 && !bool.TryParse(asked, out _))
            return Problem.Of(Refusal.Field("dryRun", "dry-run", "dryRun is true or false."));
        var dryRun = bool.TryParse(asked, out var dry) && dry;
        using var csv = new MemoryStream();
        await http.Request.Body.CopyToAsync(csv, call.Ct);
        var key = call.KeyIfAny(csv.GetBuffer().AsSpan(0, (int)csv.Length));
        if (key.Refusal is { } badKey)
            return Problem.Of(badKey);
        csv.Position = 0;
        var form = http.Request.ContentType?.StartsWith(ExportsApi.Workbook, StringComparison.OrdinalIgnoreCase) == true ? FileForm.Xlsx : FileForm.Csv;
        var outcome = await import.Run(new Call(call.Actor, key.Value), file, form, csv, dryRun, null, call.Ct);
        if (outcome.Refusal is { } refusal)
            return Problem.Of(refusal);
        return outcome.Value.Refused && !dryRun ? Refused(outcome.Value) : Results.Json(outcome.Value, Json.Options);
    }

    /// <summary>Problem details that carry the report itself, so that a program reads it from one place either way.</summary>
    static IResult Refused(ImportReport report)
    {
        var body = JsonSerializer.SerializeToNode(report, Json.Options)!.AsObject();
        body["type"] = "about:blank";
        body["title"] = "The file was refused";
        body["status"] = StatusCodes.Status422UnprocessableEntity;
        body["detail"] = $"{report.Errors.Count} errors; nothing was written. Mend the file and send it again.";
        body["code"] = ImportReport.RefusedCode;
        return Results.Text(body.ToJsonString(Json.Options), "application/problem+json", System.Text.Encoding.UTF8, StatusCodes.Status422UnprocessableEntity);
    }
}
