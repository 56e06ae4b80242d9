using KitOrders.Storage.People;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;

namespace KitOrders.Web.Access;

/// <summary>Ends the session of this browser. A form with its antiforgery token, so that no other site can do it.</summary>
static class SignOut
{
    public const string Path = "/sign-out";

    public static void Map(IEndpointRouteBuilder app) => app.MapPost(Path, Leave).ExcludeFromDescription();

    // A form parameter makes the endpoint ask for the antiforgery token.
    static async Task<RedirectHttpResult> Leave(SignInManager<Account> signIn, [FromForm] string? leave)
    {
        await signIn.SignOutAsync();
        return TypedResults.LocalRedirect("/sign-in");
    }
}
