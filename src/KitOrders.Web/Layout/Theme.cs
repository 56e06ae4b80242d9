using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace KitOrders.Web.Layout;

/// <summary>Light, dark, or as the system says. Kept in a cookie, so that static pages follow it too.</summary>
public sealed record Theme(string Word)
{
    public const string Cookie = "theme";

    public static readonly Theme Light = new("light");
    public static readonly Theme Dark = new("dark");
    public static readonly Theme System = new("system");

    /// <summary>What stands on the html element; none leaves it to the system.</summary>
    public string? Attribute => this == System ? null : Word;

    public static Theme Of(string? word) => word switch
    {
        "light" => Light,
        "dark" => Dark,
        _ => System,
    };

    public static Theme From(HttpContext http) => Of(http.Request.Cookies[Cookie]);

    /// <summary>Takes the choice of <see cref="Shared.ThemeChoice"/> and goes back to the page it was made on.</summary>
    public static void Map(IEndpointRouteBuilder app) =>
        // The worst a forged request could do is to darken a screen, so it carries no antiforgery token.
        app.MapPost("/theme", Choose).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();

    static RedirectHttpResult Choose(HttpContext http, [FromForm] string? theme, [FromForm] string? back)
    {
        var chosen = Of(theme);
        if (chosen == System)
        {
            http.Response.Cookies.Delete(Cookie);
        }
        else
        {
            http.Response.Cookies.Append(Cookie, chosen.Word, new CookieOptions
            {
                HttpOnly = true,
                SameSite = SameSiteMode.Lax,
                Secure = http.Request.IsHttps,
                MaxAge = TimeSpan.FromDays(365),
            });
        }

        return TypedResults.LocalRedirect(IsOurs(back) ? back : "/");
    }

    static bool IsOurs([global::System.Diagnostics.CodeAnalysis.NotNullWhen(true)] string? path) =>
        path is ['/'] or ['/', not '/' and not '\\', ..];
}
