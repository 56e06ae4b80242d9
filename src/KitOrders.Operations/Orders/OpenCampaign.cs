using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>What became of one order of a campaign that was to be opened.</summary>
/// <param name="Code">Why it could not be opened; null where it was, or was not tried.</param>
/// <param name="Why">The same in words.</param>
public sealed record OpenedInCampaign(string Order, string Pump, bool Opened, string? Code, string? Why);

public sealed record CampaignOpened(string Campaign, IReadOnlyList<OpenedInCampaign> Orders)
{
    public int Opened => Orders.Count(o => o.Opened);
}

/// <summary>
/// Opens the drafts of a campaign one after the other, the most pressing first, each in a transaction of its own: what is open
/// stays open whatever becomes of the others. Every order locks its parts in part order, then its row, then the campaign's.
/// </summary>
public sealed class OpenCampaign(Desk desk, OpenOrder open)
{
    const string NotTried = "It was not tried: opening was stopped before it. It is a draft as before.";

    public Task<Outcome<CampaignOpened>> Run(Call call, string number, CancellationToken ct) => Run(call, number, null, default, ct);

    /// <param name="told">Called after each order, for whoever watches.</param>
    /// <param name="stop">Stops before the next order; the one that is being opened is finished.</param>
    public async Task<Outcome<CampaignOpened>> Run(Call call, string number, Func<OpenedInCampaign, int, Task>? told, CancellationToken stop, CancellationToken ct)
    {
        if (await Before(call, ct) is { } answered)
            return answered;
        var found = await desk.Read<List<(string Number, string Pump)>>(call.Actor, Roles.Planner, reading => Drafts(reading, number), ct);
        if (found.Refusal is { } refusal)
            return refusal;
        var done = new List<OpenedInCampaign>();
        foreach (var (order, pump) in found.Value)
        {
            done.Add(stop.IsCancellationRequested ? new OpenedInCampaign(order, pump, false, null, NotTried) : await One(call, order, pump, ct));
            if (told is not null)
                await told(done[^1], found.Value.Count);
        }
        return await Keep(call, number, done, ct);
    }

    /// <summary>Keeps what became of the drafts as the answer to the command.</summary>
    internal Task<Outcome<CampaignOpened>> Keep(Call call, string number, IReadOnlyList<OpenedInCampaign> done, CancellationToken ct) =>
        desk.Write<CampaignOpened>(call with { SeenVersion = null }, Roles.Planner, "open-campaign", work =>
        {
            var answer = new CampaignOpened(number, done);
            work.Audit($"campaign {number}", $"Opened {answer.Opened} of {done.Count} drafts.{Left(done)}");
            work.Changed($"campaign:{number}");
            return Task.FromResult<Outcome<CampaignOpened>>(answer);
        }, ct);

    async Task<OpenedInCampaign> One(Call call, string order, string pump, CancellationToken ct)
    {
        var outcome = await open.Run(new Call(call.Actor, KeyOf(call.Key, order)), order, ct);
        return new OpenedInCampaign(order, pump, outcome.IsDone, outcome.Refusal?.Code, outcome.Refusal?.Sentence);
    }

    /// <summary>The answer of the same command, where it ran to its end before: nothing is tried again.</summary>
    Task<Outcome<CampaignOpened>?> Before(Call call, CancellationToken ct) => desk.Read(async reading =>
    {
        if (call.Key is not { } key)
            return null;
        var kept = await reading.Db.Commands.AsNoTracking().SingleOrDefaultAsync(c => c.PersonId == call.Actor.Person && c.Key == key.Key, ct);
        if (kept?.Answer is not { } answer)
            return null;
        return (Outcome<CampaignOpened>?)(kept.BodyHash == key.BodyHash ? JsonSerializer.Deserialize<CampaignOpened>(answer, Json.Options)! : Desk.KeyReused(key.Key));
    }, ct);

    static async Task<Outcome<List<(string Number, string Pump)>>> Drafts(Reading reading, string number)
    {
        var campaign = await reading.Db.Campaigns.SingleOrDefaultAsync(c => c.Number == number, reading.Ct);
        if (campaign is null)
            return CampaignBook.Unknown(number);
        var drafts = await (from order in reading.Db.WorkOrders
                            join position in reading.Db.Positions on order.PositionId equals position.Id
                            where order.CampaignId == campaign.Id && order.State == OrderState.Draft
                            select new { order.Number, position.Tag, position.Criticality, order.WorkClass, order.NeededBy }).ToListAsync(reading.Ct);
        return drafts.Count == 0
            ? Refusal.Conflict("nothing-to-open", $"Campaign {number} has no draft left to open.")
            : drafts.OrderBy(d => new Priority(d.Number, d.Criticality, d.WorkClass, d.NeededBy, null)).Select(d => (d.Number, d.Tag)).ToList();
    }

    /// <summary>Each order's opening is a command of its own, so that the same call again goes on where it was broken off.</summary>
    static CommandKey? KeyOf(CommandKey? key, string order)
    {
        if (key is null)
            return null;
        var hash = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{key.Key}\n{order}")));
        return new CommandKey($"campaign-{hash}", key.BodyHash);
    }

    static string Left(IReadOnlyList<OpenedInCampaign> done) =>
        done.Where(o => !o.Opened).ToList() is { Count: > 0 } left ? $" Left as drafts: {string.Join(", ", left.Select(o => $"{o.Order} ({o.Code ?? "not tried"})"))}." : "";
}
