using KitOrders.FaultHost;
using KitOrders.Web.Start;

// The app as people get it, with a wire before its database that ends the program at a named point.
using var points = new FaultPoints();
return await Serving.Run(args, WholeApp.Served with
{
    Add = (builder, database) => WholeApp.Add(builder, points.Through(database.AppConnectionString)),
    Map = app =>
    {
        WholeApp.Map(app);
        points.Map(app);
    },
});
