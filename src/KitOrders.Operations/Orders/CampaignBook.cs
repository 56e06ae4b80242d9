using KitOrders.Operations.Planning;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>Campaigns as people read them: one whole, or all of them.</summary>
public sealed class CampaignBook(Desk desk, ReadinessBoard board)
{
    public async Task<Outcome<CampaignView>> One(string number, CancellationToken ct)
    {
        // An order's day depends on every order before it, so it is asked of all of them.
        var days = (await board.Read(null, ct)).ToDictionary(r => r.Order, r => r.ReadyOn);
        return await desk.Read<Outcome<CampaignView>>(async reading =>
            await reading.Db.Campaigns.AsNoTracking().SingleOrDefaultAsync(c => c.Number == number, ct) is { } campaign
                ? await CampaignReading.View(reading, campaign, days) : Unknown(number), ct);
    }

    /// <summary>The newest first.</summary>
    public Task<IReadOnlyList<CampaignRow>> All(CancellationToken ct) => desk.Read<IReadOnlyList<CampaignRow>>(async reading =>
    {
        var db = reading.Db;
        var campaigns = await (from campaign in db.Campaigns
                               join job in db.Jobs on campaign.JobId equals job.Id
                               orderby campaign.Id descending
                               select new { campaign.Id, campaign.Number, campaign.Name, job.Code, job.Description, campaign.NeededBy }).ToListAsync(ct);
        var orders = (await db.WorkOrders.Where(o => o.CampaignId != null)
            .Select(o => new { o.CampaignId, o.State, FitOn = o.PlannedFitOn ?? o.NeededBy }).ToListAsync(ct)).ToLookup(o => o.CampaignId!.Value);
        var lacking = (await db.PooledLines.Where(l => l.Short > 0 && l.ReleasedById == null).Select(l => new { l.CampaignId, l.Short }).ToListAsync(ct)).ToLookup(l => l.CampaignId, l => l.Short);
        return [.. campaigns.Select(c =>
        {
            var own = orders[c.Id].ToList();
            var going = own.FindAll(o => o.State != OrderState.Cancelled);
            return new CampaignRow(c.Number, c.Name, c.Code, c.Description, Campaign.StateOf(own.Select(o => o.State)), c.NeededBy, going.Count,
                own.Count(o => o.State == OrderState.Draft), own.Count(o => o.State is OrderState.Open or OrderState.Staged),
                own.Count(o => o.State is OrderState.Underway or OrderState.Finished), own.Count(o => o.State == OrderState.Closed), own.Count(o => o.State == OrderState.Cancelled),
                going.Count == 0 ? c.NeededBy : going.Min(o => o.FitOn), going.Count == 0 ? c.NeededBy : going.Max(o => o.FitOn), lacking[c.Id].Sum());
        })];
    }, ct);

    /// <summary>The jobs that a campaign can be about: those that bring a kit.</summary>
    public Task<IReadOnlyList<(string Code, string Description)>> Jobs(CancellationToken ct) => desk.Read<IReadOnlyList<(string, string)>>(async reading =>
        [.. (await reading.Db.Jobs.Where(j => j.Kits.Count > 0).OrderBy(j => j.Code).Select(j => new { j.Code, j.Description }).ToListAsync(ct)).Select(j => (j.Code, j.Description))], ct);

    internal static Refusal Unknown(string number) =>
        Refusal.NotFound("campaign-unknown", $"There is no campaign {number}. Look it up under Orders, Campaigns.");
}
