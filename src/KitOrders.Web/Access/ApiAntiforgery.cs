using Microsoft.AspNetCore.Antiforgery;

namespace KitOrders.Web.Access;

/// <summary>
/// Writes to the API from a browser that is signed in by its cookie carry a token besides, so that no other site can have
/// them sent. Scripts with a token of their own need none.
/// </summary>
static class ApiAntiforgery
{
    public const string Header = "X-CSRF-TOKEN";

    public static void UseApiAntiforgery(this IApplicationBuilder app) => app.Use(async (http, next) =>
    {
        var harmless = HttpMethods.IsGet(http.Request.Method) || HttpMethods.IsHead(http.Request.Method) || HttpMethods.IsOptions(http.Request.Method);
        if (!harmless && ApiProblem.Concerns(http.Request) && http.User.AccountOf() is not null
            && !await http.RequestServices.GetRequiredService<IAntiforgery>().IsRequestValidAsync(http))
        {
            await ApiProblem.NoAntiforgeryToken(http);
            return;
        }

        await next(http);
    });

    /// <summary>The token to send, and for whom it holds: a tablet sends what it kept only for the person who recorded it.</summary>
    public static void MapApiAntiforgery(this IEndpointRouteBuilder app) => app.MapGet("/api/csrf", (HttpContext http, IAntiforgery antiforgery) =>
        // Asking for the tokens also says that this answer is not to be stored.
        TypedResults.Ok(new Csrf(antiforgery.GetAndStoreTokens(http).RequestToken!, http.User.ActorOf().Person.Value, http.User.ActorOf().Name)))
        .RequireAuthorization().ExcludeFromDescription();

    sealed record Csrf(string Token, int Person, string Name);
}
