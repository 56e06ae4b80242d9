using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Planning;

public enum JumpKind
{
    Order,
    Pump,
    Kit,
    Part,
    Bin,
    Lot,
}

/// <param name="Key">What the page of the thing is found by.</param>
/// <param name="Exact">The search is its number or barcode, letter for letter.</param>
public sealed record JumpHit(JumpKind Kind, string Key, string Title, string Beside, bool Exact);

/// <summary>Goes to any pump, part, kit, order, bin or lot by number, words or barcode.</summary>
public sealed class Jump(Desk desk)
{
    public const int EachKind = 12;

    /// <summary>What the search may mean: the exact hits first, then kind by kind.</summary>
    public Task<IReadOnlyList<JumpHit>> Find(string? search, CancellationToken ct) => desk.Read<IReadOnlyList<JumpHit>>(async reading =>
    {
        var words = search?.Trim() ?? "";
        if (words.Length == 0 || words.Length > 200)
            return [];
        var db = reading.Db;
        var like = OrderList.Like(words);
        var exact = like[1..^1];
        var orders = await (from order in db.WorkOrders
                            join position in db.Positions on order.PositionId equals position.Id
                            join job in db.Jobs on order.JobId equals job.Id
                            where EF.Functions.ILike(order.Number, like) || EF.Functions.ILike(job.Description, like)
                            orderby EF.Functions.ILike(order.Number, exact) descending, EF.Functions.ILike(order.Number, like) descending,
                                order.State == OrderState.Closed || order.State == OrderState.Cancelled, order.Id descending
                            select new { order.Number, position.Tag, job.Description, order.State }).Take(EachKind).ToListAsync(ct);
        var pumps = await (from pump in db.Pumps
                           join position in db.Positions on pump.PositionId equals position.Id
                           join model in db.PumpModels on pump.ModelId equals model.Id
                           where EF.Functions.ILike(position.Tag, like) || EF.Functions.ILike(pump.Serial, like) || EF.Functions.ILike(model.Code, like)
                               || (position.Area != null && EF.Functions.ILike(position.Area, like))
                           orderby EF.Functions.ILike(position.Tag, exact) || EF.Functions.ILike(pump.Serial, exact) descending, position.Tag
                           select new { position.Tag, pump.Serial, model.Code, position.Area }).Take(EachKind).ToListAsync(ct);
        var parts = await (from part in db.Parts
                           where EF.Functions.ILike(part.Number, like) || EF.Functions.ILike(part.Description, like) || part.Barcode == words
                           orderby EF.Functions.ILike(part.Number, exact) || part.Barcode == words descending, EF.Functions.ILike(part.Number, like) descending, part.Number
                           select new
                           {
                               part.Number, part.Description, part.Barcode,
                               Kit = db.KitRevisions.Any(r => r.PartId == part.Id && (r.Fits.Count > 0 || db.Jobs.Any(j => j.Kits.Any(k => k.KitPartId == part.Id)))),
                           }).Take(EachKind * 2).ToListAsync(ct);
        var bins = await db.Bins.Where(b => EF.Functions.ILike(b.Code, like)).OrderBy(b => b.WalkOrder)
            .Select(b => new { b.Code, Lots = db.BinStocks.Count(s => s.BinId == b.Id && s.OnHand > 0) }).Take(EachKind).ToListAsync(ct);
        var lots = await (from lot in db.Lots
                          join part in db.Parts on lot.PartId equals part.Id
                          where lot.Number == words
                          orderby part.Number
                          select new { lot.Number, Part = part.Number, part.Description }).Take(EachKind).ToListAsync(ct);
        JumpHit[] hits =
        [
            .. orders.Select(o => new JumpHit(JumpKind.Order, o.Number, o.Description, o.Tag, Same(o.Number))),
            .. pumps.Select(p => new JumpHit(JumpKind.Pump, p.Tag, p.Code, $"serial {p.Serial}{(p.Area is null ? "" : ", " + p.Area)}", Same(p.Tag) || Same(p.Serial))),
            .. parts.Where(p => p.Kit).Take(EachKind).Select(p => new JumpHit(JumpKind.Kit, p.Number, p.Description, "", Same(p.Number) || p.Barcode == words)),
            .. parts.Where(p => !p.Kit).Take(EachKind).Select(p => new JumpHit(JumpKind.Part, p.Number, p.Description, "", Same(p.Number) || p.Barcode == words)),
            .. bins.Select(b => new JumpHit(JumpKind.Bin, b.Code, b.Lots == 1 ? "1 lot in it" : $"{b.Lots} lots in it", "", Same(b.Code))),
            .. lots.Select(l => new JumpHit(JumpKind.Lot, l.Part, $"lot {l.Number} of {l.Part}", l.Description, true)),
        ];
        return [.. hits.OrderByDescending(h => h.Exact).ThenBy(h => h.Kind)];

        bool Same(string text) => text.Equals(words, StringComparison.OrdinalIgnoreCase);
    }, ct);
}
