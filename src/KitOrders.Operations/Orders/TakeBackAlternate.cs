using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <param name="Source">Of the line that was short; null: wherever the alternate stands in for the part.</param>
public sealed record AlternateBack(string Part, string Alternate, string Reason, LineSource? Source = null);

/// <summary>
/// Takes an alternate back while nothing of it is picked: the order needs the first part again, and what was held of the
/// alternate is free for those who wait.
/// </summary>
public sealed class TakeBackAlternate(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, AlternateBack ask, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "take-back-alternate", async work =>
        {
            if (UseAlternate.ReasonRefused(ask.Reason) is { } noReason)
                return noReason;
            var found = await UseAlternate.Both(work, ask.Part, ask.Alternate);
            if (found.Refusal is { } unknown)
                return unknown;
            var (part, alternate) = found.Value;
            var ledger = new StockLedger(work);
            await ledger.Lock([part.Id, alternate.Id]);
            var foundOrder = await OrderLookup.FindLocked(work, number);
            if (foundOrder.Refusal is { } noOrder)
                return noOrder;
            var order = foundOrder.Value;
            if (UseAlternate.StateRefused(order) is { } wrongState)
                return wrongState;
            var rows = await (from r in work.Db.Replacements.AsNoTracking()
                              join line in work.Db.DemandLines on r.LineId equals line.Id
                              join other in work.Db.DemandLines on r.ByLineId equals other.Id
                              where r.OrderId == order.Id && line.PartId == part.Id && other.PartId == alternate.Id && (ask.Source == null || line.Source == ask.Source)
                              orderby line.Id
                              select new { Row = r, By = other }).ToListAsync(ct);
            if (rows.Count == 0)
                return Refusal.Conflict("alternate-not-used", $"{alternate.Number} does not stand in for {part.Number} on order {number}. Nothing was changed; load again.");
            foreach (var row in rows)
                if (Replacing.MayTakeBack(number, part.Number, alternate.Number, row.Row.Quantity, row.By) is { } no)
                    return no;

            foreach (var row in rows)
                await Free(work, ledger, row.By, row.Row.Quantity);
            Tell(work, [.. rows.Select(r => r.Row)]);
            order.Touch();
            await CoverShortages.Run(work, [part.Id, alternate.Id], $"{alternate.Number} taken back on order {number}");
            await ShelfLifeAgain.Judge(work, order);
            work.Audit($"order {number}", $"Took back {rows.Sum(r => r.Row.Quantity):0.####} × {alternate.Number} in place of {part.Number}: {ask.Reason.Trim()}", order.Id);
            Replaced.Changed(work, number, part, alternate);
            return number;
        }, ct);

    /// <summary>What the line is short of goes first; of what it holds, the lot that would have left the shelf last.</summary>
    static async Task Free(Work work, StockLedger ledger, DemandLine line, decimal quantity)
    {
        var held = await (from r in work.Db.Reservations.AsNoTracking()
                          join lot in work.Db.Lots on r.LotId equals lot.Id
                          join bin in work.Db.Bins on r.BinId equals bin.Id
                          join stock in work.Db.BinStocks on new { r.LotId, r.BinId } equals new { stock.LotId, stock.BinId }
                          where r.DemandLineId == line.Id && r.Held > 0
                          select new { Row = r, Lot = lot, Bin = bin, Stock = stock }).ToListAsync(work.Ct);
        var given = Replacing.GiveUp(held, h => new LotBalance(line.PartId, h.Lot.Id, h.Lot.Number, h.Bin.Id, h.Bin.WalkOrder, h.Lot.ReceivedOn, h.Lot.GoodUntil,
            h.Lot.Quarantine is not null, h.Stock.OnHand, h.Stock.Reserved), h => h.Row.Held, quantity - Math.Min(line.Short, quantity));
        await ledger.Post([.. given.Select(g => new StockEntry(line.PartId, g.Hold.Row.LotId, g.Hold.Row.BinId)
        {
            Reserved = -g.Quantity, Short = g.Quantity, Reservation = g.Hold.Row.Id, Line = line.Id, Order = line.OrderId,
        })]);
    }

    /// <summary>The quantity goes back to the line it came from; a line that was made for it alone leaves the order.</summary>
    static void Tell(Work work, IReadOnlyList<Replacement> rows)
    {
        work.Last.With("backLines", rows.Select(r => r.LineId.Value).ToArray()).With("backBy", rows.Select(r => r.ByLineId.Value).ToArray())
            .With("backQuantities", rows.Select(r => r.Quantity).ToArray())
            .Tell("""
                with t as (
                  select * from unnest(@backLines, @backBy, @backQuantities) t(line, by, quantity)
                ), gone as (
                  delete from replacement r using t where r.line_id = t.line and r.by_line_id = t.by
                )
                update demand_line l
                set gross = l.gross + x.quantity, required = l.required + x.quantity, short = l.short + x.quantity,
                    released_by_id = case when x.quantity > 0 then null else l.released_by_id end, release_reason = case when x.quantity > 0 then null else l.release_reason end
                from (select line, sum(quantity) quantity from (select line, quantity from t union all select by, -quantity from t) u group by line) x
                where l.id = x.line
                """);
        work.Last.Tell("""
            delete from reservation r using demand_line l
            where l.id = r.demand_line_id and l.id = any(@backBy) and l.gross = 0 and not exists (select from replacement o where l.id in (o.line_id, o.by_line_id))
            """);
        work.Last.Tell("""
            delete from demand_line l
            where l.id = any(@backBy) and l.gross = 0 and not exists (select from replacement o where l.id in (o.line_id, o.by_line_id))
            """);
    }
}
