using KitOrders.Operations;
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
        builder.AddPages();
        builder.AddAccess();
        builder.AddApi();
    },
    (app, _, _) =>
    {
        app.UseAccess();
        app.UseApi();
        app.UsePages();
        return app.Services.GetRequiredService<Entrance>().Open(CancellationToken.None);
    }));
