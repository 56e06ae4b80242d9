using KitOrders.Rules;

namespace KitOrders.Web.Api;

/// <summary>
/// Whatever becomes of a call of the API, its sender hears problem details: of what the framework refuses by a bare status (a
/// query that cannot be read, a path without a call), and of a bug, whose trace goes to the log and nowhere else.
/// </summary>
static class PlainAnswers
{
    public static void UsePlainAnswers(this WebApplication app) => app.Use(async (http, next) =>
    {
        if (!http.Request.Path.StartsWithSegments("/api"))
        {
            await next(http);
            return;
        }
        try
        {
            if (http.Request.Query.Any(q => q.Value.Any(v => v?.Contains('\0', StringComparison.Ordinal) == true)))
            {
                await Problem.Of(Refusal.Invalid("query-unreadable", "The query holds a character (NUL) that nothing here is named with.")).ExecuteAsync(http);
                return;
            }
            await next(http);
        }
        catch (OperationCanceledException) when (http.RequestAborted.IsCancellationRequested)
        {
            return;
        }
        catch (BadHttpRequestException e) when (!http.Response.HasStarted)
        {
            http.Response.Clear();
            await Problem.Of(e.StatusCode == StatusCodes.Status413PayloadTooLarge
                ? Refusal.Invalid("body-too-large", "The body is larger than is taken here. Send it in pieces.")
                : Refusal.Invalid("request-unreadable", "The request cannot be read as HTTP states it. Nothing was done.")).ExecuteAsync(http);
            return;
        }
        catch (Exception e) when (!http.Response.HasStarted)
        {
            Log.Failed(http.RequestServices.GetRequiredService<ILoggerFactory>().CreateLogger(typeof(PlainAnswers)), http.Request.Method, http.Request.Path, e);
            http.Response.Clear();
            await Results.Problem("Something went wrong here, not with what you sent. It is in the log; what was not answered as done was not done.",
                statusCode: StatusCodes.Status500InternalServerError, extensions: new Dictionary<string, object?> { ["code"] = "internal-error" }).ExecuteAsync(http);
            return;
        }
        if (!http.Response.HasStarted && http.Response is { StatusCode: >= 400 and < 500, ContentType: null } && Bare(http) is { } refusal)
            await Problem.Of(refusal).ExecuteAsync(http);
    });

    static Refusal? Bare(HttpContext http) => http.Response.StatusCode switch
    {
        StatusCodes.Status400BadRequest => Refusal.Invalid("query-unreadable",
            $"A value of the query {http.Request.QueryString} cannot be read. Numbers are written in digits, days as 2026-03-02; /openapi/v1.json says which is which."),
        StatusCodes.Status404NotFound or StatusCodes.Status405MethodNotAllowed => Unknown(http),
        StatusCodes.Status413PayloadTooLarge => Refusal.Invalid("body-too-large", "The body is larger than is taken here. Send it in pieces."),
        _ => null,
    };

    public static Refusal Unknown(HttpContext http) => Refusal.NotFound("call-unknown",
        $"There is no call {http.Request.Method} {http.Request.Path}. /openapi/v1.json lists them.");
}

static partial class Log
{
    [LoggerMessage(Level = LogLevel.Error, Message = "{Method} {Path} failed")]
    public static partial void Failed(ILogger logger, string method, string path, Exception exception);
}
