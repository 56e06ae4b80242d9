using KitOrders.Operations;

namespace KitOrders.Web.Api;

/// <summary>The HTTP API: the same operations as the screens, for scripts, other systems and acceptance tests.</summary>
static class Api
{
    public static WebApplicationBuilder AddApi(this WebApplicationBuilder builder)
    {
        builder.Services.AddHttpContextAccessor();
        builder.Services.AddScoped(s => new ApiCall(
            s.GetRequiredService<IHttpContextAccessor>().HttpContext ?? throw new InvalidOperationException("There is no call of the API here."),
            s.GetRequiredService<Replies>()));
        builder.Services.ConfigureHttpJsonOptions(options => options.SerializerOptions.Converters.Add(new WordConverter()));
        builder.Services.AddDescription();
        return builder;
    }

    public static WebApplication UseApi(this WebApplication app)
    {
        var api = app.MapGroup("/api").RequireAuthorization();
        OrdersApi.Map(api);
        CampaignsApi.Map(api);
        PhotographsApi.Map(api);
        StockApi.Map(api);
        PlanningApi.Map(api);
        PumpsApi.Map(api);
        ImportsApi.Map(api);
        ExportsApi.Map(api);
        AuditApi.Map(api);
        api.MapFallback("{*path}", (HttpContext http) => Problem.Of(PlainAnswers.Unknown(http)));
        app.MapOpenApi().AllowAnonymous();
        return app;
    }
}
