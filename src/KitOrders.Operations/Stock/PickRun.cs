using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>A walk that collects one or more orders.</summary>
public sealed record PickRunView(IReadOnlyList<RunOrder> Orders, IReadOnlyList<RunLine> Lines, IReadOnlyList<string> Unknown);

/// <param name="Tote">A, B, …: the tote the clerk puts its pieces into.</param>
/// <param name="Missing">What is short, in words: "1 × 30-11".</param>
public sealed record RunOrder(string Order, string Tote, string Pump, OrderState State, DateOnly FitOn, IReadOnlyList<string> Missing, string? Place)
{
    /// <summary>A campaign, for whose orders together these spares are picked.</summary>
    public bool Campaign { get; init; }
}

/// <summary>One lot of a part in one bin, for all orders of the run.</summary>
/// <param name="OtherLots">Other lots of the part, so that a scan of one can be told apart.</param>
/// <param name="LotsHere">How many lots of the part lie in this bin: with more than one, the lot has to be scanned.</param>
public sealed record RunLine(string Bin, int WalkOrder, string Part, string Description, Unit Unit, string? Barcode, string Lot, DateOnly? ExpiresOn,
    decimal OnShelf, int LotsHere, IReadOnlyList<string> OtherLots, IReadOnlyList<RunPiece> Pieces)
{
    public decimal Held => Pieces.Sum(p => p.Held);

    public decimal Picked => Pieces.Sum(p => p.Picked);

    /// <summary>"in place of 30-2201 on order 10482"; null where nothing of it stands in.</summary>
    public string? InPlaceOf => Pieces.Where(p => p.InPlaceOf is not null).Select(p => $"{p.InPlaceOf} on order {p.Order}").Distinct().ToList() is { Count: > 0 } said
        ? $"in place of {string.Join(", ", said)}" : null;
}

/// <param name="InPlaceOf">The parts that this one stands in for on the order, "30-2201"; null where it stands for itself.</param>
public sealed record RunPiece(string Order, string Tote, int Reservation, decimal Held, decimal Picked, string? InPlaceOf = null);

/// <summary>Reads a run of some orders, bins in walking order. What has been picked stays in it, so that it keeps its place.</summary>
public sealed class PickRun(Desk desk)
{
    public Task<PickRunView> Read(IReadOnlyList<string> numbers, CancellationToken ct) => desk.Read(async reading =>
    {
        var db = reading.Db;
        var asked = numbers.Distinct().Take(26).ToList();
        var orders = await (from order in db.WorkOrders.AsNoTracking()
                            join position in db.Positions on order.PositionId equals position.Id
                            where asked.Contains(order.Number)
                            select new { order, position.Tag, position.Criticality }).ToListAsync(ct);
        var ranked = orders.OrderBy(o => new Priority(o.order.Number, o.Criticality, o.order.WorkClass, o.order.NeededBy, o.order.OpenedAt)).ToList();
        var ids = ranked.ConvertAll(o => o.order.Id);
        var totes = ids.Select((id, n) => (id, Tote: ToteOf(n))).ToDictionary(t => t.id, t => t.Tote);
        var names = ranked.ToDictionary(o => o.order.Id, o => o.order.Number);
        var missing = (await (from line in db.DemandLines.AsNoTracking()
                              join part in db.Parts on line.PartId equals part.Id
                              where ids.Contains(line.OrderId) && line.Short > 0 && line.ReleasedById == null
                              orderby part.Number
                              select new { line.OrderId, line.Short, part.Number }).ToListAsync(ct)).ToLookup(m => m.OrderId, m => $"{m.Short:0.####} × {m.Number}");
        var held = await (from reservation in db.Reservations.AsNoTracking()
                          join lot in db.Lots on reservation.LotId equals lot.Id
                          join bin in db.Bins on reservation.BinId equals bin.Id
                          join part in db.Parts on reservation.PartId equals part.Id
                          join stock in db.BinStocks on new { reservation.LotId, reservation.BinId } equals new { stock.LotId, stock.BinId }
                          where ids.Contains(reservation.OrderId) && (reservation.Held > 0 || reservation.Picked > 0)
                          select new HeldPiece(reservation, lot, bin, part, stock.OnHand)).ToListAsync(ct);
        var campaigns = await CampaignStock.Run(reading, asked, ids.Count);
        held.AddRange(campaigns.Held);
        var parts = held.Select(h => h.Part.Id).Distinct().ToList();
        var lots = (await (from stock in db.BinStocks.AsNoTracking()
                           join lot in db.Lots on stock.LotId equals lot.Id
                           where parts.Contains(stock.PartId) && stock.OnHand > 0
                           select new { stock.PartId, stock.BinId, lot.Number }).ToListAsync(ct)).ToLookup(l => l.PartId);
        var standsIn = (await (from kept in db.Replacements.AsNoTracking()
                               join line in db.DemandLines on kept.LineId equals line.Id
                               join part in db.Parts on line.PartId equals part.Id
                               where ids.Contains(kept.OrderId)
                               orderby part.Number
                               select new { kept.ByLineId, part.Number }).ToListAsync(ct)).ToLookup(s => s.ByLineId, s => s.Number);
        return new PickRunView(
            [.. ranked.Select(o => new RunOrder(o.order.Number, totes[o.order.Id], o.Tag, o.order.State, o.order.FitOn, [.. missing[o.order.Id]], o.order.StagedPlace)), .. campaigns.Heads.Values],
            [.. held.GroupBy(h => (h.Bin.Id, h.Lot.Id)).Select(g => (First: g.First(), Group: g))
                .OrderBy(l => l.First.Bin.WalkOrder).ThenBy(l => l.First.Bin.Code, StringComparer.Ordinal)
                .ThenBy(l => l.First.Part.Number, StringComparer.Ordinal).ThenBy(l => l.First.Lot.ExpiresOn).ThenBy(l => l.First.Lot.Number, StringComparer.Ordinal)
                .Select(l => new RunLine(l.First.Bin.Code, l.First.Bin.WalkOrder, l.First.Part.Number, l.First.Part.Description, l.First.Part.Unit, l.First.Part.Barcode,
                    l.First.Lot.Number, l.First.Lot.GoodUntil, l.First.OnHand,
                    lots[l.First.Part.Id].Count(x => x.BinId == l.First.Bin.Id),
                    [.. lots[l.First.Part.Id].Select(x => x.Number).Where(n => n != l.First.Lot.Number).Distinct()],
                    [.. l.Group.OrderBy(h => h.Reservation is Reservation r ? ids.IndexOf(r.OrderId) : ids.Count).ThenBy(h => h.Reservation.Id.Value).Select(h =>
                        PieceOf(h.Reservation, h.Reservation is Reservation r ? (names[r.OrderId], totes[r.OrderId]) : campaigns.Of((PooledReservation)h.Reservation),
                            standsIn.Contains(h.Reservation.DemandLineId) ? string.Join(", ", standsIn[h.Reservation.DemandLineId].Distinct()) : null))]))],
            [.. asked.Except(names.Values).Except(campaigns.Heads.Values.Select(c => c.Order))]);
    }, ct);

    internal static string ToteOf(int n) => ((char)('A' + n)).ToString();

    static RunPiece PieceOf(HeldStock held, (string Order, string Tote) whose, string? standsInFor) =>
        new(whose.Order, whose.Tote, held.Id.Value, held.Held, held.Picked, standsInFor);
}

/// <summary>What is held of a lot in a bin, with all that a line of the walk says about it.</summary>
internal sealed record HeldPiece(HeldStock Reservation, Lot Lot, Bin Bin, Part Part, decimal OnHand);

/// <summary>The campaigns of a run, and what they hold.</summary>
internal sealed record CampaignsInRun(IReadOnlyDictionary<CampaignId, RunOrder> Heads, IReadOnlyList<HeldPiece> Held)
{
    public (string Order, string Tote) Of(PooledReservation held) => (Heads[held.CampaignId].Order, Heads[held.CampaignId].Tote);
}
