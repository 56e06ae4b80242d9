using KitOrders.Storage;

namespace KitOrders.Web.Start;

/// <summary>For whoever watches the app: does it run, and can it work.</summary>
static class Health
{
    public static void MapHealth(this WebApplication app, Database database)
    {
        app.MapGet("/health/live", () => Results.Text("live")).AllowAnonymous();
        app.MapGet("/health/ready", async (CancellationToken cancel) => await database.Answers(cancel)
            ? Results.Text("ready")
            : Results.Text("The database does not answer.", statusCode: StatusCodes.Status503ServiceUnavailable)).AllowAnonymous();
    }
}
