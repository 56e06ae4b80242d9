using KitOrders.Operations.Planning;

namespace KitOrders.Web.Api;

/// <summary>Readiness, shortages and backlog over HTTP, as of any day.</summary>
static class PlanningApi
{
    sealed record ReadyAnswer(string Order, int Score, DateOnly? ReadyOn, DateOnly? ReadyIfBoughtToday, string? BindingPart, IReadOnlyList<PartQuantity> Uncovered);

    /// <param name="Orders">How many orders wait for it; their numbers stand beside.</param>
    sealed record ShortAnswer(string Part, decimal Quantity, int Orders, decimal Hours, DateOnly? FirstIncomingOn, IReadOnlyList<string> OrderNumbers);

    public static void Map(RouteGroupBuilder api)
    {
        var planning = api.MapGroup("").WithTags("Planning");
        planning.MapGet("/readiness", (ReadinessBoard board, string? asOf, CancellationToken ct) => On(asOf, async day =>
            (await board.Read(day, ct)).Select(r => new ReadyAnswer(r.Order, r.Score, r.ReadyOn, r.ReadyIfBoughtToday, r.BindingPart, r.Uncovered)).ToList()))
            .Does<List<ReadyAnswer>>("The first day on which each open or staged order can have all its parts, in priority order.");
        planning.MapGet("/shortages", (ShortageList list, string? asOf, CancellationToken ct) => On(asOf, async day =>
            (await list.Read(day, ct)).Select(s => new ShortAnswer(s.Part, s.Quantity, s.Orders.Count, s.Hours, s.FirstIncomingOn, s.Orders)).ToList()))
            .Does<List<ShortAnswer>>("What is short, worst first.");
        planning.MapGet("/best-set", async (BestSetOf sets, string? by, CancellationToken ct) =>
        {
            var day = QueryDay.Read(by, "by");
            return day.Refusal is { } unreadable ? Problem.Of(unreadable) : ApiCall.Read<BestSetView>(await sets.Read(day.Value, ct));
        }).Does<BestSetView>("The open and staged orders that together score highest by a day, each with all of its parts, and the take-overs that get there.");
        planning.MapGet("/backlog", (BacklogFigures figures, string? asOf, CancellationToken ct) => On(asOf, day => figures.Read(day, ct)))
            .Does<BacklogView>("Backlog and measures with the numbers they were made from.");
    }

    static async Task<IResult> On<T>(string? asOf, Func<DateOnly?, Task<T>> read)
    {
        var day = QueryDay.Read(asOf, "asOf");
        return day.Refusal is { } unreadable ? Problem.Of(unreadable) : ApiCall.Read<T>(await read(day.Value));
    }
}
