using KitOrders.Web.Layout;

var builder = WebApplication.CreateBuilder(args);
builder.AddPages();
var app = builder.Build();
app.MapGet("/health/live", () => Results.Text("live"));
app.UsePages();
app.Run();
