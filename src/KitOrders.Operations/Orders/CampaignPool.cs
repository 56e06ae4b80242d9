using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>
/// The spares that a campaign holds for all its orders, one line a part. Whoever changes them has the parts locked, then the
/// order's row where there is one, then the campaign's: that is the order for all, so that no two wait for each other.
/// </summary>
internal static class CampaignPool
{
    static readonly OrderState[] counted = [OrderState.Open, OrderState.Staged, OrderState.Underway, OrderState.Finished];
    static readonly OrderState[] ended = [OrderState.Closed, OrderState.Cancelled];

    /// <summary>Takes the campaign's row; the parts are locked already.</summary>
    public static Task<Campaign> Lock(Work work, CampaignId campaign) =>
        work.Db.Campaigns.FromSql($"select * from campaign where id = {campaign.Value} for no key update").AsNoTracking().SingleAsync(work.Ct);

    /// <summary>The parts that a campaign holds or may hold spares of; nothing for an order that stands alone.</summary>
    public static IQueryable<PartId> PartsOf(Work work, string order) =>
        from o in work.Db.WorkOrders
        join l in work.Db.PooledLines on o.CampaignId equals l.CampaignId
        where o.Number == order
        select l.PartId;

    /// <summary>Keeps what an order that is being opened or planned again may have to replace, and gives the campaign what it needs for it.</summary>
    public static async Task Planned(Work work, CampaignId campaign, OrderId order, string number, IReadOnlyList<SpareNeed> needs, IReadOnlyDictionary<PartId, PartFact> parts)
    {
        await work.Send();
        var before = await work.Db.OrderSpareNeeds.Where(n => n.OrderId == order).ToListAsync(work.Ct);
        work.Db.OrderSpareNeeds.RemoveRange(before);
        await work.Db.SaveChangesAsync(work.Ct);
        var held = needs.Where(n => n.ForAll + n.ByRate > 0).ToList();
        foreach (var need in held)
        {
            var (alone, rate) = need.Hold(parts[need.Part], work.Plant.SpareRisk);
            work.Db.OrderSpareNeeds.Add(new OrderSpareNeed { OrderId = order, PartId = need.Part, ForAll = need.ForAll, ByRate = need.ByRate, Rate = rate, Alone = alone });
        }
        await work.Db.SaveChangesAsync(work.Ct);
        if (held.Count + before.Count > 0)
            await CoverShortages.Run(work, await Resize(work, await Lock(work, campaign), [.. held.Select(n => n.Part).Concat(before.Select(n => n.PartId))]), $"free stock, for order {number}");
    }

    /// <summary>
    /// Counts the spares anew after something happened to an order; answers the parts of which something became free or is
    /// wanted, for the caller to cover.
    /// </summary>
    /// <param name="only">The parts that may change; null: all of the campaign.</param>
    /// <param name="ending">An order has ended.</param>
    public static async Task<IReadOnlyList<PartId>> Resize(Work work, Campaign campaign, IReadOnlyCollection<PartId>? only = null, bool ending = false)
    {
        await work.Db.SaveChangesAsync(work.Ct);
        await work.Send();
        var lines = await work.Db.PooledLines.AsNoTracking().Where(l => l.CampaignId == campaign.Id).ToDictionaryAsync(l => l.PartId, work.Ct);
        var needs = await Needs(work, campaign.Id);
        var rejected = await Rejected(work, campaign.Id);
        var used = await UsedByEnded(work, campaign.Id);
        var changes = new List<(PartId Part, PooledLine? Line, decimal By)>();
        foreach (var part in lines.Keys.Concat(needs.Keys).Concat(rejected.Keys).Distinct().Where(p => only?.Contains(p) ?? true).OrderBy(p => p.Value))
        {
            var line = lines.GetValueOrDefault(part);
            var size = needs.TryGetValue(part, out var shares) ? SparePool.Size(shares, work.Plant.SpareRisk).Quantity : 0;
            var required = SparePool.Required(line?.Required ?? 0, line?.Picked ?? 0, size, rejected.GetValueOrDefault(part), used.GetValueOrDefault(part), ending);
            if (required != (line?.Required ?? 0))
                changes.Add((part, line, required - (line?.Required ?? 0)));
        }
        if (changes.Count == 0)
            return [];
        await GiveUp(work, changes);
        await Write(work, campaign, changes);
        work.Audit($"campaign {campaign.Number}", $"Spares counted anew: {await Words(work, changes, lines)}.");
        work.Changed($"campaign:{campaign.Number}");
        return [.. changes.Select(c => c.Part)];
    }

    /// <summary>Gives up spares that would be past their last good day by the latest fit date of the orders; answers their parts.</summary>
    public static async Task<IReadOnlyList<PartId>> GiveUpPast(Work work, StockLedger ledger, CampaignId campaign)
    {
        var until = (await CampaignPlaces.Of(work.Db, [campaign], work.Ct))[campaign].LastFit;
        var rows = await (from pooled in work.Db.PooledReservations.AsNoTracking()
                          join lot in work.Db.Lots on pooled.LotId equals lot.Id
                          where pooled.CampaignId == campaign && pooled.Held > 0
                          select new { pooled, lot }).ToListAsync(work.Ct);
        var past = rows.Where(r => !r.lot.IsUsableOn(until)).Select(r => r.pooled).ToList();
        await ledger.Post([.. past.Select(r => new StockEntry(r.PartId, r.LotId, r.BinId) { Reserved = -r.Held, Short = r.Held, Reservation = r.Id, Line = r.DemandLineId })]);
        return [.. past.Select(r => r.PartId)];
    }

    /// <summary>A smaller line gives up first what it is short of, then what lasts longest on the shelf.</summary>
    static async Task GiveUp(Work work, IReadOnlyList<(PartId Part, PooledLine? Line, decimal By)> changes)
    {
        var giving = changes.Where(c => c.Line is not null && -c.By > c.Line.Short).ToDictionary(c => c.Line!.Id, c => -c.By - c.Line!.Short);
        if (giving.Count == 0)
            return;
        var ids = giving.Keys.ToList();
        var held = await (from pooled in work.Db.PooledReservations.AsNoTracking()
                          join lot in work.Db.Lots on pooled.LotId equals lot.Id
                          where ids.Contains(pooled.DemandLineId) && pooled.Held > 0
                          orderby lot.ExpiresOn descending, lot.ReceivedOn descending, pooled.Id descending
                          select pooled).ToListAsync(work.Ct);
        var entries = new List<StockEntry>();
        foreach (var hold in held)
        {
            var quantity = Math.Min(giving[hold.DemandLineId], hold.Held);
            giving[hold.DemandLineId] -= quantity;
            if (quantity > 0)
                entries.Add(new StockEntry(hold.PartId, hold.LotId, hold.BinId) { Reserved = -quantity, Short = quantity, Reservation = hold.Id, Line = hold.DemandLineId });
        }
        await new StockLedger(work).Post(entries);
    }

    static async Task Write(Work work, Campaign campaign, IReadOnlyList<(PartId Part, PooledLine? Line, decimal By)> changes)
    {
        var added = changes.Where(c => c.Line is null).ToList();
        var costs = await UnitCosts.Of(work.Db, added.Select(c => c.Part), work.Ct);
        foreach (var (part, _, quantity) in added)
            work.Db.PooledLines.Add(new PooledLine
            {
                CampaignId = campaign.Id, PartId = part, Source = LineSource.CarriedOver, Gross = quantity, Built = 0, Required = quantity, Short = quantity,
                Spare = true, UnitCost = costs.GetValueOrDefault(part),
            });
        await work.Db.SaveChangesAsync(work.Ct);
        // What is newly asked for has not been let go by anybody.
        foreach (var (_, line, by) in changes.Where(c => c.Line is not null))
            await work.Db.PooledLines.Where(l => l.Id == line!.Id).ExecuteUpdateAsync(set => set
                .SetProperty(l => l.Gross, l => l.Gross + by).SetProperty(l => l.Required, l => l.Required + by).SetProperty(l => l.Short, l => l.Short + by)
                .SetProperty(l => l.ReleasedById, l => by > 0 ? null : l.ReleasedById).SetProperty(l => l.ReleaseReason, l => by > 0 ? null : l.ReleaseReason), work.Ct);
    }

    static async Task<string> Words(Work work, IReadOnlyList<(PartId Part, PooledLine? Line, decimal By)> changes, IReadOnlyDictionary<PartId, PooledLine> before)
    {
        var ids = changes.Select(c => c.Part).ToList();
        var numbers = await work.Db.Parts.Where(p => ids.Contains(p.Id)).ToDictionaryAsync(p => p.Id, p => p.Number, work.Ct);
        return string.Join(", ", changes.Select(c => $"{numbers[c.Part]} {before.GetValueOrDefault(c.Part)?.Required ?? 0:0.####} → {(c.Line?.Required ?? 0) + c.By:0.####}"));
    }

    /// <summary>Of the orders that have been opened and not ended.</summary>
    static async Task<Dictionary<PartId, List<SpareShare>>> Needs(Work work, CampaignId campaign) =>
        (await (from need in work.Db.OrderSpareNeeds.AsNoTracking()
                join order in work.Db.WorkOrders on need.OrderId equals order.Id
                where order.CampaignId == campaign && counted.Contains(order.State)
                select need).ToListAsync(work.Ct)).GroupBy(n => n.PartId).ToDictionary(n => n.Key, n => n.Select(x => x.Share).ToList());

    static async Task<Dictionary<PartId, decimal>> Rejected(Work work, CampaignId campaign) =>
        (await CampaignSpares.Rejections(work.Db, campaign, counted, work.Ct)).GroupBy(r => r.Part).ToDictionary(r => r.Key, r => (decimal)r.Sum(x => x.Rejected));

    static async Task<Dictionary<PartId, decimal>> UsedByEnded(Work work, CampaignId campaign) =>
        (await (from use in work.Db.SpareUses.AsNoTracking()
                join order in work.Db.WorkOrders on use.OrderId equals order.Id
                join pooled in work.Db.PooledReservations on use.ReservationId equals pooled.Id
                where pooled.CampaignId == campaign && ended.Contains(order.State)
                select new { pooled.PartId, use.Quantity }).ToListAsync(work.Ct)).GroupBy(u => u.PartId).ToDictionary(u => u.Key, u => u.Sum(x => x.Quantity));
}
