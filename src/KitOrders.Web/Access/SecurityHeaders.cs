namespace KitOrders.Web.Access;

/// <summary>What a browser is told to refuse on our behalf.</summary>
public static class SecurityHeaders
{
    // Styles may stand inline because MudBlazor and the coverage bars set widths on elements; scripts may not.
    const string Policy =
        "default-src 'self'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self'; " +
        "connect-src 'self'; object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'self'; " +
        "worker-src 'self'; manifest-src 'self'";

    public static IApplicationBuilder UseSecurityHeaders(this IApplicationBuilder app) => app.Use((http, next) =>
    {
        http.Response.OnStarting(() =>
        {
            Set(http.Response);
            return Task.CompletedTask;
        });
        return next(http);
    });

    static void Set(HttpResponse response)
    {
        var headers = response.Headers;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(self), microphone=(), geolocation=(), payment=()";
        if (response.ContentType?.StartsWith("text/html", StringComparison.OrdinalIgnoreCase) == true)
        {
            headers.ContentSecurityPolicy = Policy;
        }
    }
}
