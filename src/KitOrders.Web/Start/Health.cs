using KitOrders.Storage;

namespace KitOrders.Web.Start;

/// <summary>For whoever watches the app: does it run, and can it work.</summary>
static class Health
{
    /// <param name="filled">Whether everything that belongs into a new database is in it.</param>
    public static void MapHealth(this WebApplication app, Database database, Func<bool> filled)
    {
        app.MapGet("/health/live", () => Results.Text("live")).AllowAnonymous();
        app.MapGet("/health/ready", async (CancellationToken cancel) =>
            !filled() ? NotYet("The demo plant is still being loaded.")
            : await database.Answers(cancel) ? Results.Text("ready")
            : NotYet("The database does not answer.")).AllowAnonymous();
    }

    static IResult NotYet(string why) => Results.Text(why, statusCode: StatusCodes.Status503ServiceUnavailable);
}
