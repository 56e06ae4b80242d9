using KitOrders.Rules;
using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>The drafts of a campaign, made inside its own transaction.</summary>
internal static class CampaignDrafts
{
    public static string? WrongPumps(IReadOnlyList<string>? pumps) => pumps switch
    {
        null or [] => "Choose at least one pump.",
        { Count: > CreateCampaign.MostPumps } => $"A campaign has at most {CreateCampaign.MostPumps} pumps; make two of it.",
        _ when pumps.Distinct(StringComparer.Ordinal).Count() != pumps.Count => "A pump stands in the list twice. Name each once.",
        _ => null,
    };

    public static string? WrongDays(DateOnly? first, int? perDay) =>
        perDay is { } given && given is < 1 or > CreateCampaign.MostPumps ? $"Pumps per day are a whole number from 1 to {CreateCampaign.MostPumps}."
        : perDay is not null && first is null ? "Pumps per day need a first day to count from." : null;

    /// <summary>A draft for every pump, the most pressing positions on the first days; answers how many.</summary>
    public static async Task<Outcome<int>> Make(
        Work work, Campaign campaign, string job, DateOnly neededBy, int workClass, IReadOnlyList<string> pumps, DateOnly? first, int? perDay)
    {
        var criticality = await work.Db.Positions.AsNoTracking().Where(p => pumps.Contains(p.Tag)).ToDictionaryAsync(p => p.Tag, p => p.Criticality, work.Ct);
        var ranked = pumps.OrderByDescending(p => criticality.GetValueOrDefault(p)).ThenBy(p => p, StringComparer.Ordinal).ToList();
        var days = first is { } day ? Campaign.Spread(ranked.Count, day, perDay ?? ranked.Count) : null;
        var create = new CreateOrder(Desk.Inside(work, new ClockAt(work.Now)));
        for (var n = 0; n < ranked.Count; n++)
        {
            var drafted = await create.Run(new Call(work.Actor), new NewOrder(ranked[n], job, neededBy, workClass) { PlannedFitOn = days?[n], Campaign = campaign.Id }, work.Ct);
            if (drafted.Refusal is { } refusal)
                return refusal.Errors is { } errors && errors.ContainsKey("pump") ? Refusal.Field("pumps", refusal.Code, refusal.Sentence) : refusal;
        }
        return ranked.Count;
    }
}
