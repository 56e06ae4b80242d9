using KitOrders.Operations;
using KitOrders.SeedDemo;
using KitOrders.Storage;
using KitOrders.Web.Access;
using KitOrders.Web.Api;
using KitOrders.Web.Layout;

namespace KitOrders.Web.Start;

/// <summary>The app as people get it: every page, the API, sign-in, and the demo plant for an empty database.</summary>
static class WholeApp
{
    public static Served Served { get; } = new(
        BootstrapToken.Refuse,
        () => KitOrdersSchema.Schema,
        (builder, database) => Add(builder, database.AppConnectionString),
        Map,
        Fill);

    public static void Add(WebApplicationBuilder builder, string connectionString)
    {
        builder.Services.AddSingleton(TimeProvider.System);
        builder.Services.AddKitOrdersStorage(connectionString);
        builder.Services.AddOperations();
        builder.Services.AddSingleton<DemoFiles>();
        builder.AddPages();
        builder.AddAccess();
        builder.AddApi();
    }

    public static void Map(WebApplication app)
    {
        app.UseAccess();
        app.UseApi();
        app.UsePages();
        app.UsePlainAnswers();
    }

    static async Task<string> Fill(WebApplication app, Arguments arguments, CancellationToken stop)
    {
        if (!arguments.NoDemo)
            await app.Services.GetRequiredService<DemoFiles>().Load(stop);
        return await app.Services.GetRequiredService<Entrance>().Open(stop);
    }
}
