using KitOrders.Operations.Orders;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>What campaigns hold and wait for of a part, as rows of the lists that show who does.</summary>
internal static class CampaignStock
{
    public static async Task<IEnumerable<HeldRow>> Held(Reading reading, PartId part)
    {
        var rows = await (from held in reading.Db.PooledReservations.AsNoTracking()
                          join lot in reading.Db.Lots on held.LotId equals lot.Id
                          join bin in reading.Db.Bins on held.BinId equals bin.Id
                          where held.PartId == part && held.Held > 0
                          select new { held.CampaignId, Lot = lot.Number, bin.Code, held.Held }).ToListAsync(reading.Ct);
        var places = await CampaignPlaces.Of(reading.Db, rows.Select(r => r.CampaignId), reading.Ct);
        return rows.Select(r => new HeldRow(places[r.CampaignId].Number, "", r.Lot, r.Code, r.Held, places[r.CampaignId].LastFit, true, Campaign: true));
    }

    public static async Task<IEnumerable<(Priority Rank, WaitingRow Row)>> Waiting(Reading reading, PartId part)
    {
        var lines = await reading.Db.PooledLines.AsNoTracking().Where(l => l.PartId == part && l.Short > 0).ToListAsync(reading.Ct);
        var places = await CampaignPlaces.Of(reading.Db, lines.Select(l => l.CampaignId), reading.Ct);
        return lines.Select(l => (Line: l, Place: places[l.CampaignId])).Where(l => l.Place.First is not null)
            .Select(l => (l.Place.Rank, new WaitingRow(l.Place.Number, "", l.Line.Short, l.Place.Rank.Score, l.Place.LastFit, l.Line.ReleasedById is not null, Campaign: true)));
    }

    /// <summary>Campaigns with spares that still lie on the shelf, by the day on which the first of their orders is to be fitted.</summary>
    public static async Task<IEnumerable<(DateOnly FitOn, Priority Rank, QueueRow Row)>> ToPick(Reading reading)
    {
        var db = reading.Db;
        var lines = await db.PooledLines.AsNoTracking().Where(l => l.ReleasedById == null && l.Required > 0).ToListAsync(reading.Ct);
        var places = await CampaignPlaces.Of(db, lines.Select(l => l.CampaignId), reading.Ct);
        var ids = places.Keys.ToList();
        var jobs = await (from c in db.Campaigns join j in db.Jobs on c.JobId equals j.Id where ids.Contains(c.Id) select new { c.Id, j.Code }).ToDictionaryAsync(j => j.Id, j => j.Code, reading.Ct);
        var bins = (await db.PooledReservations.Where(r => r.Held > 0).Select(r => new { r.CampaignId, r.BinId }).Distinct().ToListAsync(reading.Ct)).ToLookup(b => b.CampaignId);
        return lines.GroupBy(l => places[l.CampaignId]).Where(c => c.Key.First is not null && c.Any(l => l.Reserved > 0)).Select(c => (c.Key.FirstFit, c.Key.Rank,
            new QueueRow(c.Key.Number, OrderState.Open, "pooled spares", jobs[c.Key.Id], c.Key.Rank.Score, c.Key.FirstFit, c.Count(l => l.Reserved > 0),
                c.Count(l => l.Picked > 0 && l.Reserved == 0), c.Count(l => l.Short > 0), bins[c.Key.Id].Count(), null) { Campaign = true }));
    }

    /// <summary>The campaigns that a run names beside its orders.</summary>
    /// <param name="orders">How many totes its orders take.</param>
    public static async Task<CampaignsInRun> Run(Reading reading, IReadOnlyList<string> numbers, int orders)
    {
        var db = reading.Db;
        var named = numbers.Where(n => n.StartsWith(Campaign.NumberBegins, StringComparison.OrdinalIgnoreCase)).ToList();
        if (named.Count == 0)
            return new CampaignsInRun(new Dictionary<CampaignId, RunOrder>(), []);
        var places = await CampaignPlaces.Of(db, await db.Campaigns.Where(c => named.Contains(c.Number)).Select(c => c.Id).ToListAsync(reading.Ct), reading.Ct);
        var ids = places.Keys.ToList();
        var missing = (await (from line in db.PooledLines
                              join part in db.Parts on line.PartId equals part.Id
                              where ids.Contains(line.CampaignId) && line.Short > 0 && line.ReleasedById == null
                              orderby part.Number
                              select new { line.CampaignId, line.Short, part.Number }).ToListAsync(reading.Ct)).ToLookup(m => m.CampaignId, m => $"{m.Short:0.####} × {m.Number}");
        var held = await (from pooled in db.PooledReservations.AsNoTracking()
                          join lot in db.Lots on pooled.LotId equals lot.Id
                          join bin in db.Bins on pooled.BinId equals bin.Id
                          join part in db.Parts on pooled.PartId equals part.Id
                          join stock in db.BinStocks on new { pooled.LotId, pooled.BinId } equals new { stock.LotId, stock.BinId }
                          where ids.Contains(pooled.CampaignId) && (pooled.Held > 0 || pooled.Picked > 0)
                          select new HeldPiece(pooled, lot, bin, part, stock.OnHand)).ToListAsync(reading.Ct);
        var heads = places.Values.OrderBy(p => p.Rank).Select((p, n) => (p.Id, Head: new RunOrder(p.Number, PickRun.ToteOf(orders + n), "pooled spares", OrderState.Open,
            p.FirstFit, [.. missing[p.Id]], null) { Campaign = true })).ToDictionary(h => h.Id, h => h.Head);
        return new CampaignsInRun(heads, held);
    }

    /// <summary>Holds on lots, by the day for which they have to last.</summary>
    public static async Task<IEnumerable<(LotId Lot, decimal Held, string Number, DateOnly FitOn)>> OfLots(Reading reading, IReadOnlyCollection<LotId> lots)
    {
        var rows = await reading.Db.PooledReservations.AsNoTracking().Where(r => lots.Contains(r.LotId) && r.Held > 0)
            .Select(r => new { r.LotId, r.Held, r.CampaignId }).ToListAsync(reading.Ct);
        var places = await CampaignPlaces.Of(reading.Db, rows.Select(r => r.CampaignId), reading.Ct);
        return rows.Select(r => (r.LotId, r.Held, places[r.CampaignId].Number, places[r.CampaignId].LastFit));
    }
}
