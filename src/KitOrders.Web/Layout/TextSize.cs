using KitOrders.Web.Access;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace KitOrders.Web.Layout;

/// <summary>How large a person reads on this device. Kept in a cookie, like light and dark.</summary>
public sealed record TextSize(string Word, string Label)
{
    public const string Cookie = "text-size";

    public static readonly TextSize Usual = new("usual", "Usual");

    public static readonly IReadOnlyList<TextSize> All = [Usual, new("large", "Large"), new("largest", "Largest")];

    /// <summary>What stands on the html element.</summary>
    public string? Attribute => this == Usual ? null : Word;

    public static TextSize Of(string? word) => All.FirstOrDefault(size => size.Word == word) ?? Usual;

    public static TextSize From(HttpContext http) => Of(http.Request.Cookies[Cookie]);

    public static void Map(IEndpointRouteBuilder app) =>
        // The worst a forged request could do is to enlarge a screen, so it carries no antiforgery token.
        app.MapPost("/text-size", Choose).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();

    static RedirectHttpResult Choose(HttpContext http, [FromForm] string? size, [FromForm] string? back)
    {
        http.Response.Cookies.Append(Cookie, Of(size).Word, new CookieOptions
        {
            HttpOnly = true,
            SameSite = SameSiteMode.Lax,
            Secure = http.Request.IsHttps,
            MaxAge = TimeSpan.FromDays(365),
        });
        return TypedResults.LocalRedirect(Local.OrToday(back));
    }
}
