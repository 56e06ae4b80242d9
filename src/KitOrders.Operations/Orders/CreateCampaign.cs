using System.Globalization;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>What a new campaign is to be: one job on many pumps.</summary>
/// <param name="Pumps">Tags of the positions.</param>
/// <param name="FirstDay">The first planned fit date; without it the needed-by date counts for every pump.</param>
/// <param name="PumpsPerDay">How many are fitted a day from the first day on; without it all on the first.</param>
public sealed record NewCampaign(string Name, string Job, DateOnly NeededBy, int WorkClass, IReadOnlyList<string> Pumps, DateOnly? FirstDay = null, int? PumpsPerDay = null);

/// <summary>Makes a campaign with a draft for every pump; nothing is held yet. The most pressing pumps get the first days.</summary>
public sealed class CreateCampaign(Desk desk)
{
    public const int MostPumps = 500;

    public Task<Outcome<string>> Run(Call call, NewCampaign wanted, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "create-campaign", async work =>
        {
            if (Wrong(wanted) is { } refusal)
                return refusal;
            var job = await work.Db.Jobs.AsNoTracking().SingleOrDefaultAsync(j => j.Code == wanted.Job, ct);
            if (job is null)
                return Refusal.Field("job", "job-unknown", $"There is no job {wanted.Job}. Choose one of the jobs under Kits, or import it first.");
            var campaign = new Campaign
            {
                Number = await NextNumber(work), Name = wanted.Name.Trim(), JobId = job.Id, NeededBy = wanted.NeededBy, MadeAt = work.Now, MadeById = work.Actor.Person,
            };
            work.Db.Campaigns.Add(campaign);
            await work.Db.SaveChangesAsync(ct);
            work.Db.ChangeTracker.Clear();
            var drafted = await CampaignDrafts.Make(work, campaign, job.Code, wanted.NeededBy, wanted.WorkClass, wanted.Pumps, wanted.FirstDay, wanted.PumpsPerDay);
            if (drafted.Refusal is { } cannot)
                return cannot;
            work.Audit($"campaign {campaign.Number}", $"Made for {drafted.Value} pumps: {job.Code}, needed by {wanted.NeededBy:yyyy-MM-dd}.");
            work.Changed($"campaign:{campaign.Number}");
            return campaign.Number;
        }, ct);

    static Refusal? Wrong(NewCampaign wanted)
    {
        var errors = new Dictionary<string, string[]>();
        if (string.IsNullOrWhiteSpace(wanted.Name) || wanted.Name.Trim().Length > Campaign.NameMaxLength)
            errors["name"] = [$"Give the campaign a name of 1 to {Campaign.NameMaxLength} characters, such as \"Press-hall stop, May\"."];
        if (string.IsNullOrWhiteSpace(wanted.Job))
            errors["job"] = ["Name the job."];
        if (wanted.WorkClass is < Priority.Lowest or > Priority.Highest)
            errors["workClass"] = ["The work class is a whole number from 1 to 10, 10 the most pressing."];
        if (wanted.NeededBy.Year is < 2000 or > 2199)
            errors["neededBy"] = ["The needed-by date lies outside 2000 to 2199."];
        if (wanted.FirstDay is { Year: < 2000 or > 2199 })
            errors["firstDay"] = ["The first day lies outside 2000 to 2199."];
        if (CampaignDrafts.WrongDays(wanted.FirstDay, wanted.PumpsPerDay) is { } days)
            errors["pumpsPerDay"] = [days];
        if (CampaignDrafts.WrongPumps(wanted.Pumps) is { } pumps)
            errors["pumps"] = [pumps];
        return errors.Count == 0 ? null : Refusal.Invalid("campaign-values", string.Join(" ", errors.Values.SelectMany(e => e))) with { Errors = errors };
    }

    static async Task<string> NextNumber(Work work)
    {
        while (true)
        {
            var next = Campaign.NumberBegins + (await work.Db.Database.SqlQuery<long>($"select nextval('campaign_number') as \"Value\"").ToListAsync(work.Ct))[0]
                .ToString(CultureInfo.InvariantCulture);
            if (!await work.Db.WorkOrders.AnyAsync(o => o.Number == next, work.Ct))
                return next;
        }
    }
}

/// <summary>Takes further pumps into a campaign, each with a draft of its own.</summary>
public sealed class AddToCampaign(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, IReadOnlyList<string> pumps, int workClass, DateOnly? fitOn, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "add-to-campaign", async work =>
        {
            if (CampaignDrafts.WrongPumps(pumps) is { } wrong)
                return Refusal.Field("pumps", "campaign-values", wrong);
            if (workClass is < Priority.Lowest or > Priority.Highest)
                return Refusal.Field("workClass", "campaign-values", "The work class is a whole number from 1 to 10, 10 the most pressing.");
            var campaign = await work.Db.Campaigns.FromSql($"select * from campaign where number = {number} for no key update").AsNoTracking().SingleOrDefaultAsync(ct);
            if (campaign is null)
                return CampaignBook.Unknown(number);
            var there = await (from order in work.Db.WorkOrders
                               join position in work.Db.Positions on order.PositionId equals position.Id
                               where order.CampaignId == campaign.Id && order.State != OrderState.Cancelled && pumps.Contains(position.Tag)
                               select new { position.Tag, order.Number }).FirstOrDefaultAsync(ct);
            if (there is not null)
                return Refusal.Field("pumps", "pump-in-campaign", $"{there.Tag} is in campaign {number} already, with order {there.Number}.");
            var job = await work.Db.Jobs.AsNoTracking().SingleAsync(j => j.Id == campaign.JobId, ct);
            var drafted = await CampaignDrafts.Make(work, campaign, job.Code, campaign.NeededBy, workClass, pumps, fitOn, null);
            if (drafted.Refusal is { } cannot)
                return cannot;
            work.Audit($"campaign {number}", $"Added {string.Join(", ", pumps)}.");
            work.Changed($"campaign:{number}");
            return number;
        }, ct);
}
