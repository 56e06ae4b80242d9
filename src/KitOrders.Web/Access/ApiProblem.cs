using Microsoft.AspNetCore.Http.HttpResults;

namespace KitOrders.Web.Access;

/// <summary>What a program hears that may not come in: problem details with the stable code, never a page to sign in on.</summary>
static class ApiProblem
{
    public static bool Concerns(HttpRequest request) => request.Path.StartsWithSegments("/api");

    public static Task Unknown(HttpContext http)
    {
        http.Response.Headers.WWWAuthenticate = "Bearer";
        return Write(http, StatusCodes.Status401Unauthorized, "not-signed-in",
            "Nobody is known by this request. Send 'Authorization: Bearer TOKEN' with a token that stands, or sign in again.");
    }

    public static Task NotAllowed(HttpContext http) => Write(http, StatusCodes.Status403Forbidden, "not-allowed",
        $"{http.User.Identity?.Name ?? "This person"} holds no role that may do this. An administrator can give one.");

    public static Task TooMany(HttpContext http)
    {
        http.Response.Headers.RetryAfter = "5";
        return Write(http, StatusCodes.Status429TooManyRequests, "too-many-calls",
            "More calls came under this name than are taken at once or in a minute. Nothing was done; wait a little and send it again.");
    }

    public static Task NoAntiforgeryToken(HttpContext http) => Write(http, StatusCodes.Status400BadRequest, "antiforgery-token-missing",
        "A write from a browser needs the token of GET /api/csrf in the header X-CSRF-TOKEN. Nothing was done.");

    static Task Write(HttpContext http, int status, string code, string sentence)
    {
        ProblemHttpResult problem = TypedResults.Problem(sentence, statusCode: status, extensions: new Dictionary<string, object?> { ["code"] = code });
        return problem.ExecuteAsync(http);
    }
}
