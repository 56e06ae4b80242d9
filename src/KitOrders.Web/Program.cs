using KitOrders.Web.Start;

return await Serving.Run(args, WholeApp.Served);
