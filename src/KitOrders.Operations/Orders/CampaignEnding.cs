using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>An order of a campaign has been closed or cancelled: the others need fewer spares, and after the last nobody needs any.</summary>
internal static class CampaignEnding
{
    /// <summary>Answers the parts that became free; the caller has the parts and the rows locked and covers waiting shortages.</summary>
    public static async Task<IReadOnlyList<PartId>> Of(Work work, WorkOrder order)
    {
        var campaign = await work.Db.Campaigns.AsNoTracking().SingleAsync(c => c.Id == order.CampaignId, work.Ct);
        if (order.PumpIs == PumpAfterCancel.Unchanged)
            await CampaignSpares.TakeBack(work, order.Id);
        var freed = await CampaignPool.Resize(work, campaign, ending: true);
        if (!await work.Db.WorkOrders.AnyAsync(o => o.CampaignId == campaign.Id && o.State != OrderState.Closed && o.State != OrderState.Cancelled, work.Ct))
        {
            var left = (await work.Db.PooledReservations.AsNoTracking().Where(r => r.CampaignId == campaign.Id && r.Picked > 0).ToListAsync(work.Ct)).Sum(r => r.Unaccounted);
            work.Audit($"campaign {campaign.Number}", $"Ended with order {order.Number}.{(left > 0 ? $" {left:0.####} picked spares wait to be given back." : "")}");
        }
        work.Changed($"campaign:{campaign.Number}");
        return freed;
    }
}
