using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>
/// Picks spares that a campaign holds. They stand together for all its orders; an order that waits for one uses it at once.
/// What is not found is written off the shelf as at the pick of an order.
/// </summary>
public sealed class PickSpares(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, IReadOnlyList<PickInput> lines, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Storeroom, "pick-spares", async work =>
        {
            if (PickLines.Wrong(lines) is { } wrong)
                return wrong;
            var asked = lines.ToDictionary(l => new ReservationId(l.Reservation));
            var ids = asked.Keys.ToList();
            var parts = await work.Db.PooledReservations.Where(r => ids.Contains(r.Id)).Select(r => r.PartId).Distinct().ToListAsync(ct);
            var trip = new Trip(work.Db);
            var locked = StockLedger.AskLock(trip, parts);
            await trip.Send(ct);
            if (await work.Db.Campaigns.Where(c => c.Number == number).Select(c => (CampaignId?)c.Id).SingleOrDefaultAsync(ct) is not { } id)
                return CampaignBook.Unknown(number);
            var campaign = await CampaignPool.Lock(work, id);
            var held = await work.Db.PooledReservations.AsNoTracking().Where(r => ids.Contains(r.Id) && r.CampaignId == id).ToDictionaryAsync(r => r.Id, r => (HeldStock)r, ct);
            var info = locked.Rows.ToDictionary(p => p.Item.Id, p => p.Item);
            foreach (var (reservation, line) in asked)
                if (PickLines.Wrong($"Campaign {number}", line, held.GetValueOrDefault(reservation), info) is { } refusal)
                    return refusal;
            var costs = locked.Rows.ToDictionary(p => p.Item.Id, p => p.AverageCost ?? p.Item.UnitCost);
            if (await PickLines.Take(work, $"campaign {number}", asked, held, costs) is { } cannot)
                return cannot;
            await work.Send();
            await CampaignSpares.HandOut(work, campaign, parts);
            work.Audit($"campaign {number}", PickLines.Sentence(asked, held, info));
            work.Changed($"campaign:{number}");
            return number;
        }, ct);
}

/// <summary>A planner lets a campaign go on without a spare that is short, by name and reason: nobody waits for it any more.</summary>
public sealed class ReleaseSpare(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, string part, string reason, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "release-spare", async work =>
        {
            if (string.IsNullOrWhiteSpace(reason))
                return Refusal.Field("reason", "reason-missing", $"Say why the campaign may go on without {part}.");
            var found = await StockLookup.Part(work.Db, part, ct);
            if (found.Refusal is { } noPart)
                return noPart;
            await new StockLedger(work).Lock([found.Value.Id]);
            if (await work.Db.Campaigns.Where(c => c.Number == number).Select(c => (CampaignId?)c.Id).SingleOrDefaultAsync(ct) is not { } id)
                return CampaignBook.Unknown(number);
            await CampaignPool.Lock(work, id);
            var line = await work.Db.PooledLines.AsNoTracking().SingleOrDefaultAsync(l => l.CampaignId == id && l.PartId == found.Value.Id, ct);
            if (line is null || line.Short == 0 || line.ReleasedById is not null)
                return Refusal.Field("part", "line-not-short", $"Campaign {number} waits for no spare of {part}; there is nothing to release.");
            await work.Db.PooledLines.Where(l => l.Id == line.Id).ExecuteUpdateAsync(set => set
                .SetProperty(l => l.ReleasedById, work.Actor.Person).SetProperty(l => l.ReleaseReason, reason.Trim()), ct);
            work.Audit($"campaign {number}", $"Released without {line.Short:0.####} × {part}: {reason.Trim()}");
            work.Changed($"campaign:{number}");
            work.Changed($"part:{part}");
            return number;
        }, ct);
}
