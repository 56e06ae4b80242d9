using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Web.Access;
using KitOrders.Web.Api;
using KitOrders.Web.Paper;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>The close-out report of a campaign as a file: a row for every pump.</summary>
static class CampaignFiles
{
    public static void Map(IEndpointRouteBuilder app)
    {
        var readers = new ForAttribute(Roles.Planner | Roles.Storeroom | Roles.Technician | Roles.Manager);
        app.MapGet("/campaigns/{number}/close-out.csv", async (CampaignCloseOut reports, string number, CancellationToken ct) =>
            await reports.Read(number, ct) is { IsDone: true, Value: var report } ? Csv(report) : Problem.Of(CampaignUnknown(number))).RequireAuthorization(readers).ExcludeFromDescription();
        app.MapGet("/paper/campaigns/{number}/close-out.pdf", async (CampaignCloseOut reports, Printing printing, string number, string? size, CancellationToken ct) =>
            await reports.Read(number, ct) is { IsDone: true, Value: var report } ? await Pdf(printing, report, size) : Problem.Of(CampaignUnknown(number)))
            .RequireAuthorization(readers).ExcludeFromDescription();
    }

    public static Task<IResult> Pdf(Printing printing, CloseOutView report, string? size) =>
        printing.File(size, "Close-out report", report.Number, (paper, head) => CloseOutReport.Print(report, paper, head));

    public static IResult Csv(CloseOutView report) => Shared.Csv.File($"{report.Number}-close-out.csv",
        ["pump", "serial", "was", "is", "order", "state", "fit_on", "opened_at", "started_at", "finished_at", "closed_at", "hours_planned", "hours_actual",
            "parts_planned", "labour_planned", "cost_planned", "parts_actual", "labour_actual", "cost_actual", "currency", "parts", "pooled_spares_used", "not_as_specified", "unknowns_answered", "cancelled_because"],
        report.Pumps.Select(p => (IReadOnlyList<object?>)[p.Pump, p.Serial, p.Was, p.Is, p.Order, Word.Of(p.State), p.FitOn, At(p.OpenedAt), At(p.StartedAt), At(p.FinishedAt), At(p.ClosedAt),
            p.HoursPlanned, p.HoursActual, p.Cost.Planned.Parts, p.Cost.Planned.Labour, p.Cost.Planned.Total, p.Cost.Actual.Parts, p.Cost.Actual.Labour, p.Cost.Actual.Total, report.Currency,
            string.Join("; ", p.Parts), string.Join("; ", p.Spares), string.Join("; ", p.NotAsSpecified), string.Join("; ", p.Answered), p.CancelReason]));

    static string? At(DateTimeOffset? moment) => moment?.ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture);

    static Refusal CampaignUnknown(string number) => Refusal.NotFound("campaign-unknown", $"There is no campaign {number}. Look it up under Orders, Campaigns.");
}
