using KitOrders.Operations;
using KitOrders.Storage;
using KitOrders.Web.Access;
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
    },
    (app, _, _) =>
    {
        app.UseAccess();
        app.UsePages();
        return app.Services.GetRequiredService<Entrance>().Open(CancellationToken.None);
    }));
