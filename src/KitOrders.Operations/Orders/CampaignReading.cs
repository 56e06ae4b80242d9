using KitOrders.Operations.Kits;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>Reads a campaign whole: its orders as every order is read, and its spares.</summary>
internal static class CampaignReading
{
    public static async Task<CampaignView> View(Reading reading, Campaign campaign, IReadOnlyDictionary<string, DateOnly?> days)
    {
        var (db, ct) = (reading.Db, reading.Ct);
        var views = await Orders(reading, campaign);
        var job = await db.Jobs.AsNoTracking().SingleAsync(j => j.Id == campaign.JobId, ct);
        var used = await UsedByOrder(reading, campaign);
        var orders = views.OrderBy(o => new Priority(o.Number, o.Criticality, o.WorkClass, o.NeededBy, o.OpenedAt))
            .Select(o => OrderOf(o, days.GetValueOrDefault(o.Number), used.GetValueOrDefault(o.Number))).ToList();
        var subject = $"campaign {campaign.Number}";
        return new CampaignView
        {
            Number = campaign.Number, Name = campaign.Name, Job = job.Code, JobDescription = job.Description, State = Campaign.StateOf(orders.Select(o => o.State)),
            NeededBy = campaign.NeededBy, MadeAt = reading.Plant.TimeOf(campaign.MadeAt),
            MadeBy = await db.People.Where(p => p.Id == campaign.MadeById).Select(p => p.Name).SingleAsync(ct),
            Today = reading.Today, Currency = reading.Plant.Currency, SpareRisk = reading.Plant.SpareRisk,
            Kits = [.. views.SelectMany(v => v.Kits).DistinctBy(k => (k.Kit, k.Revision)).OrderBy(k => k.Kit, StringComparer.Ordinal)],
            Orders = orders,
            Spares = await Spares(reading, campaign, [.. orders.Where(o => o.WouldOpen).Select(o => o.Number)]),
            History = [.. (await (from entry in db.Audit
                                  join person in db.People on entry.PersonId equals person.Id
                                  where entry.Subject == subject
                                  orderby entry.Id
                                  select new EventView(entry.At, person.Name, entry.Operation, entry.Sentence)).ToListAsync(ct)).Select(h => h with { At = reading.Plant.TimeOf(h.At) })],
        };
    }

    /// <summary>Its orders whole, in the order in which they were made.</summary>
    public static Task<IReadOnlyList<OrderView>> Orders(Reading reading, Campaign campaign) =>
        OrderReading.Views(reading, reading.Db.WorkOrders.Where(o => o.CampaignId == campaign.Id));

    static CampaignOrder OrderOf(OrderView o, DateOnly? readyOn, decimal used)
    {
        var lines = o.Demand.Where(d => d.Required > 0).ToList();
        return new CampaignOrder
        {
            Number = o.Number, Pump = o.Pump, Model = o.Model, State = o.State, Paused = o.Paused, StagedPlace = o.StagedPlace, Score = o.Score, FitOn = o.FitOn,
            Lines = lines.Count, LinesShort = lines.Count(d => d.Short > 0 && d.ReleasedBy is null), LinesPicked = lines.Count(d => d.Picked > 0 && d.Picked == d.Required),
            Short = [.. lines.Where(d => d.Short > 0 && d.ReleasedBy is null).Select(d => $"{d.Short:0.####} × {d.Part}")],
            ReadyOn = readyOn, DemandRefused = o.DemandRefused, Checks = o.Suitability, Steps = o.Steps.Count, StepsDone = o.Steps.Count(s => s.Recorded),
            HoursPlanned = o.EstimatedHours, HoursActual = o.Hours.Sum(h => h.Hours), Cost = o.Cost, SparesUsed = used,
        };
    }

    static async Task<Dictionary<string, decimal>> UsedByOrder(Reading reading, Campaign campaign) =>
        (await (from use in reading.Db.SpareUses
                join order in reading.Db.WorkOrders on use.OrderId equals order.Id
                where order.CampaignId == campaign.Id
                select new { order.Number, use.Quantity }).ToListAsync(reading.Ct)).GroupBy(u => u.Number).ToDictionary(u => u.Key, u => u.Sum(x => x.Quantity));

    /// <param name="drafts">Numbers of the drafts that would open: they are counted as if they had.</param>
    public static async Task<IReadOnlyList<CampaignSpare>> Spares(Reading reading, Campaign campaign, IReadOnlyList<string> drafts)
    {
        var (db, ct) = (reading.Db, reading.Ct);
        var shares = (await (from need in db.OrderSpareNeeds
                             join order in db.WorkOrders on need.OrderId equals order.Id
                             where order.CampaignId == campaign.Id && order.State != OrderState.Cancelled
                             select need).ToListAsync(ct)).ConvertAll(n => (Part: n.PartId, n.Share));
        shares.AddRange(await SharesOf(reading, drafts));
        var lines = await db.PooledLines.AsNoTracking().Where(l => l.CampaignId == campaign.Id).ToDictionaryAsync(l => l.PartId, ct);
        var ids = shares.Select(s => s.Part).Concat(lines.Keys).Distinct().ToList();
        var parts = await db.Parts.AsNoTracking().Where(p => ids.Contains(p.Id)).ToDictionaryAsync(p => p.Id, ct);
        var costs = await UnitCosts.Of(db, ids, ct);
        var names = await db.People.AsNoTracking().ToDictionaryAsync(p => p.Id, p => p.Name, ct);
        var lots = (await (from pooled in db.PooledReservations
                           join lot in db.Lots on pooled.LotId equals lot.Id
                           join bin in db.Bins on pooled.BinId equals bin.Id
                           where pooled.CampaignId == campaign.Id && (pooled.Held > 0 || pooled.Picked > 0)
                           orderby bin.WalkOrder, pooled.Id
                           select new { pooled, lot, bin }).AsNoTracking().ToListAsync(ct)).ToLookup(r => r.pooled.PartId, r => new ReservationView(r.pooled.Id.Value, r.lot.Number, r.bin.Code,
                               r.bin.WalkOrder, r.lot.GoodUntil, r.pooled.Held, r.pooled.Picked, r.pooled.Fitted, r.pooled.Returned, r.pooled.Scrapped));
        var incoming = (await db.Incomings.AsNoTracking().Where(i => ids.Contains(i.PartId) && i.Received < i.Quantity).ToListAsync(ct)).ToLookup(i => i.PartId);
        return [.. ids.OrderBy(p => parts[p].Number, StringComparer.Ordinal).Select(p =>
        {
            var line = lines.GetValueOrDefault(p);
            var size = SparePool.Size([.. shares.Where(s => s.Part == p).Select(s => s.Share)], reading.Plant.SpareRisk);
            return new CampaignSpare
            {
                Part = parts[p].Number, Description = parts[p].Description, Kept = size.Kept, Rate = size.Rate, Alone = size.Alone, Pooled = size.Quantity,
                Required = line?.Required ?? 0, Picked = line?.Picked ?? 0, Reserved = line?.Reserved ?? 0, Short = line?.Short ?? 0,
                Used = lots[p].Sum(l => l.Fitted), Returned = lots[p].Sum(l => l.Returned),
                Incoming = Math.Min(line?.Short ?? 0, incoming[p].Sum(i => i.Outstanding)), PromisedOn = incoming[p].Min(i => i.PromisedOn),
                UnitCost = line?.UnitCost ?? costs.GetValueOrDefault(p),
                ReleasedBy = line?.ReleasedById is { } by ? names[by] : null, ReleaseReason = line?.ReleaseReason, Lots = [.. lots[p]],
            };
        }).Where(s => s.Alone > 0 || s.Required > 0)];
    }

    /// <summary>What drafts would keep, counted as they would be if they opened now.</summary>
    static async Task<List<(PartId Part, SpareShare Share)>> SharesOf(Reading reading, IReadOnlyList<string> numbers)
    {
        if (numbers.Count == 0)
            return [];
        var (db, ct) = (reading.Db, reading.Ct);
        var drafts = await db.WorkOrders.AsNoTracking().Include(o => o.Kits).Where(o => numbers.Contains(o.Number)).ToListAsync(ct);
        var catalogue = await KitCatalogue.Load(db, drafts.SelectMany(d => d.Kits).Select(k => k.KitPartId).Distinct(), ct);
        var carried = await CarryOverRecord.Of(db, catalogue, ct);
        var facts = DemandPlanning.Facts(catalogue, carried);
        var shares = new List<(PartId, SpareShare)>();
        foreach (var draft in drafts)
        {
            _ = DemandPlanning.Plan([.. draft.Kits.Select(k => new KitAsked(k.KitPartId, k.Quantity)).OrderBy(k => k.Kit.Value)], catalogue, carried, [], draft.FitOn,
                reading.Plant.SpareRisk, true, out var spares);
            foreach (var need in spares.Where(s => s.ForAll + s.ByRate > 0))
            {
                var (alone, rate) = need.Hold(facts[need.Part], reading.Plant.SpareRisk);
                shares.Add((need.Part, new SpareShare(need.ForAll, need.ByRate, rate, alone)));
            }
        }
        return shares;
    }
}
