using KitOrders.Storage;
using KitOrders.Web.Layout;
using KitOrders.Web.Start;

return await Serving.Run(args, new Served(
    () => KitOrdersSchema.Schema,
    (builder, _) => builder.AddPages(),
    (app, _, _) =>
    {
        app.UsePages();
        return Task.FromResult("");
    }));
