using KitOrders.Rules.Orders;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>Where a campaign stands among the orders.</summary>
/// <param name="First">Its most pressing order that is open, staged or underway; the last of all where there is none.</param>
/// <param name="LastFit">The latest fit date of these orders: a spare has to last for any of them.</param>
internal sealed record CampaignPlace(CampaignId Id, string Number, OrderId? First, string FirstNumber, Priority Rank, DateOnly FirstFit, DateOnly LastFit);

/// <summary>A campaign has the place of its most pressing order.</summary>
internal static class CampaignPlaces
{
    static readonly OrderState[] living = [OrderState.Open, OrderState.Staged, OrderState.Underway];

    public static Task<Dictionary<CampaignId, CampaignPlace>> Of(KitOrdersDb db, IEnumerable<CampaignId> campaigns, CancellationToken ct) =>
        Of(db, campaigns, living, ct);

    /// <param name="states">Which of its orders count.</param>
    public static async Task<Dictionary<CampaignId, CampaignPlace>> Of(KitOrdersDb db, IEnumerable<CampaignId> campaigns, OrderState[] states, CancellationToken ct)
    {
        var ids = campaigns.Distinct().ToList();
        if (ids.Count == 0)
            return [];
        var numbers = await db.Campaigns.AsNoTracking().Where(c => ids.Contains(c.Id)).Select(c => new { c.Id, c.Number, c.NeededBy }).ToListAsync(ct);
        var orders = (await (from order in db.WorkOrders.AsNoTracking()
                             join position in db.Positions on order.PositionId equals position.Id
                             where order.CampaignId != null && ids.Contains(order.CampaignId.Value) && states.Contains(order.State)
                             select new { order.CampaignId, order.Id, order.Number, position.Criticality, order.WorkClass, order.NeededBy, order.PlannedFitOn, order.OpenedAt })
            .ToListAsync(ct)).ToLookup(o => o.CampaignId!.Value, o => (o.Id, FitOn: o.PlannedFitOn ?? o.NeededBy,
                Rank: new Priority(o.Number, o.Criticality, o.WorkClass, o.NeededBy, o.OpenedAt)));
        return numbers.ToDictionary(c => c.Id, c => orders[c.Id].OrderBy(o => o.Rank).ToList() is [var first, ..] all
            ? new CampaignPlace(c.Id, c.Number, first.Id, first.Rank.Number, first.Rank, all.Min(o => o.FitOn), all.Max(o => o.FitOn))
            : new CampaignPlace(c.Id, c.Number, null, "", new Priority(c.Number, Priority.Lowest, Priority.Lowest, DateOnly.MaxValue, null), c.NeededBy, c.NeededBy));
    }
}
