using Microsoft.AspNetCore.Diagnostics;
using KitOrders.Web.Access;
using MudBlazor.Services;

namespace KitOrders.Web.Layout;

/// <summary>What the screens need of the host, in two calls.</summary>
public static class Pages
{
    public static WebApplicationBuilder AddPages(this WebApplicationBuilder builder)
    {
        builder.Services.AddRazorComponents()
            .AddInteractiveServerComponents(circuit => circuit.DisconnectedCircuitRetentionPeriod = TimeSpan.FromMinutes(3))
            .AddHubOptions(hub =>
            {
                // The same rhythm as js/start.js: a dead line is noticed on both sides after twelve seconds.
                hub.KeepAliveInterval = TimeSpan.FromSeconds(4);
                hub.ClientTimeoutInterval = TimeSpan.FromSeconds(12);
            });
        builder.Services.AddMudServices();
        builder.Services.AddCascadingAuthenticationState();
        builder.Services.AddAuthorization();
        builder.Services.AddHttpContextAccessor();
        builder.Services.AddScoped<Paper.Printing>();
        builder.Services.AddSingleton<Planner.MatrixKept>();
        return builder;
    }

    /// <summary>Call after sign-in and authorisation have been put into the pipeline.</summary>
    public static WebApplication UsePages(this WebApplication app)
    {
        if (!app.Environment.IsDevelopment())
        {
            app.UseExceptionHandler("/error", createScopeForErrors: true);
        }

        app.UseStatusCodePagesWithReExecute("/not-found", createScopeForStatusCodePages: true);
        app.Use(OnlyPagesSpeakInPages);
        app.UseAntiforgery();
        app.MapStaticAssets().AllowAnonymous();
        Theme.Map(app);
        TextSize.Map(app);
        Planner.Downloads.Map(app);
        Planner.CampaignFiles.Map(app);
        Paper.Papers.Map(app);
        Api.Files.Map(app);
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode();
        return app;
    }

    // A program that posts, or asks the API, gets the plain status; re-running its request as a page would turn 404 into 400.
    static Task OnlyPagesSpeakInPages(HttpContext http, RequestDelegate next)
    {
        if (!HttpMethods.IsGet(http.Request.Method) || http.Request.Path.StartsWithSegments("/api"))
        {
            http.Features.Get<IStatusCodePagesFeature>()?.Enabled = false;
        }

        return next(http);
    }
}
