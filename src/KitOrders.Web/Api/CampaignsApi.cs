using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Web.Paper;
using KitOrders.Web.Planner;

namespace KitOrders.Web.Api;

/// <summary>Campaigns over HTTP: one job on many pumps, spares held together.</summary>
static class CampaignsApi
{
    sealed record NewCampaignBody
    {
        public required string Name { get; init; }
        public required string Job { get; init; }
        public required DateOnly NeededBy { get; init; }
        public required int WorkClass { get; init; }
        public required IReadOnlyList<string> Pumps { get; init; }
        public DateOnly? FirstDay { get; init; }
        public int? PumpsPerDay { get; init; }
    }

    sealed record Nothing;

    sealed record AddBody
    {
        public required IReadOnlyList<string> Pumps { get; init; }
        public required int WorkClass { get; init; }
        public DateOnly? PlannedFitOn { get; init; }
    }

    sealed record PickBody(IReadOnlyList<PickInput>? Lines = null);

    sealed record ReleaseBody(string? Part = null, string? Reason = null);

    sealed record CampaignList(IReadOnlyList<CampaignRow> Items);

    public static void Map(RouteGroupBuilder api)
    {
        var campaigns = api.MapGroup("/campaigns").WithTags("Campaigns");
        campaigns.MapGet("/", async (CampaignBook book, CancellationToken ct) => ApiCall.Read<CampaignList>(new CampaignList(await book.All(ct))))
            .Does<CampaignList>("All campaigns, the newest first.");
        campaigns.MapGet("/{number}", async (CampaignBook book, string number, CancellationToken ct) => ApiCall.Read(await book.One(number, ct)))
            .Does<CampaignView>("One campaign with its orders, their checks, and the spares it holds for all of them.");
        campaigns.MapPost("/", (ApiCall call, CreateCampaign create, CampaignBook book) => call.Write<NewCampaignBody, string, CampaignView>(
            (c, b) => create.Run(c, new NewCampaign(b.Name, b.Job, b.NeededBy, b.WorkClass, b.Pumps, b.FirstDay, b.PumpsPerDay), call.Ct),
            Whole(book, call), StatusCodes.Status201Created)).Does<NewCampaignBody, CampaignView>("Makes a campaign with a draft for every pump; nothing is held yet.", StatusCodes.Status201Created);
        campaigns.MapPost("/{number}/pumps", (ApiCall call, AddToCampaign add, CampaignBook book, string number) => call.Write<AddBody, string, CampaignView>(
            (c, b) => add.Run(c, number, b.Pumps, b.WorkClass, b.PlannedFitOn, call.Ct), Whole(book, call))).Does<AddBody, CampaignView>("Takes further pumps into a campaign.");
        campaigns.MapPost("/{number}/open", (ApiCall call, OpenCampaign open, string number) => call.Write<Nothing, CampaignOpened>((c, _) => open.Run(c, number, call.Ct)))
            .Does<Nothing, CampaignOpened>("Opens the drafts one by one, the most pressing first; answers order by order which opened, and why others did not.");
        campaigns.MapPost("/{number}/picks", (ApiCall call, PickSpares pick, CampaignBook book, string number) => call.Write<PickBody, string, CampaignView>(
            (c, b) => pick.Run(c, number, b.Lines ?? [], call.Ct), Whole(book, call))).Does<PickBody, CampaignView>("Picks spares that the campaign holds; a short pick says why.");
        campaigns.MapPost("/{number}/release", (ApiCall call, ReleaseSpare release, CampaignBook book, string number) => call.Write<ReleaseBody, string, CampaignView>(
            (c, b) => release.Run(c, number, b.Part ?? "", b.Reason ?? "", call.Ct), Whole(book, call))).Does<ReleaseBody, CampaignView>("A planner goes on without a spare that is short.");
        campaigns.MapGet("/{number}/close-out", async (CampaignCloseOut reports, Printing printing, string number, string? format, string? size, CancellationToken ct) =>
        {
            var report = await reports.Read(number, ct);
            return report.Refusal is { } refusal ? Problem.Of(refusal) : format switch
            {
                null or "" or "json" => ApiCall.Read(report),
                "csv" => CampaignFiles.Csv(report.Value),
                "pdf" => await CampaignFiles.Pdf(printing, report.Value, size),
                _ => Problem.Of(Refusal.Field("format", "format-unknown", "The report comes as csv, pdf or json.")),
            };
        }).Does<CloseOutView>("What the campaign came to, pump by pump, as csv, pdf or json.");
    }

    static Func<string, Task<Outcome<CampaignView>>> Whole(CampaignBook book, ApiCall call) => number => book.One(number, call.Ct);
}
