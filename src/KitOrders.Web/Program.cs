using KitOrders.Operations;
using KitOrders.SeedDemo;
using KitOrders.Storage;
using KitOrders.Web.Access;
using KitOrders.Web.Api;
using KitOrders.Web.Layout;
using KitOrders.Web.Start;

return await Serving.Run(args, new Served(
    BootstrapToken.Refuse,
    () => KitOrdersSchema.Schema,
    (builder, database) =>
    {
        builder.Services.AddSingleton(TimeProvider.System);
        builder.Services.AddKitOrdersStorage(database.AppConnectionString);
        builder.Services.AddOperations();
        builder.Services.AddSingleton<DemoFiles>();
        builder.AddPages();
        builder.AddAccess();
        builder.AddApi();
    },
    app =>
    {
        app.UseAccess();
        app.UseApi();
        app.UsePages();
        app.UsePlainAnswers();
    },
    async (app, arguments, stop) =>
    {
        if (!arguments.NoDemo)
            await app.Services.GetRequiredService<DemoFiles>().Load(stop);
        return await app.Services.GetRequiredService<Entrance>().Open(stop);
    }));
