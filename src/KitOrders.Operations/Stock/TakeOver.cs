using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <param name="From">Number of the order that loses it.</param>
public sealed record TakeOverAsk(string From, string Part, decimal Quantity, string Reason);

/// <summary>
/// Gives an order what another one holds on the shelf, by a planner's decision and for a reason. Nothing picked is taken; the
/// losing order shows its new shortage.
/// </summary>
public sealed class TakeOver(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, TakeOverAsk ask, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "take-over", async work =>
        {
            if (string.IsNullOrWhiteSpace(ask.Reason))
                return Refusal.Field("reason", "reason-missing", "Say why the part changes hands; both orders keep the reason.");
            if (number == ask.From)
                return Refusal.Field("from", "same-order", "An order cannot take over from itself. Name the order that holds the part.");
            var foundPart = await StockLookup.Part(work.Db, ask.Part, ct);
            if (foundPart.Refusal is { } noPart)
                return noPart;
            var part = foundPart.Value;
            if (StockQuantity.Refuse(ask.Quantity, part.Unit) is { } noQuantity)
                return noQuantity;
            var ledger = new StockLedger(work);
            await ledger.Lock([part.Id]);
            var found = await Both(work, number, ask.From);
            if (found.Refusal is { } unknown)
                return unknown;
            var (order, from) = found.Value;
            var waiting = await work.Db.DemandLines.AsNoTracking().Where(l => l.OrderId == order.Id && l.PartId == part.Id && l.Short > 0).ToListAsync(ct);
            var lacks = waiting.Sum(l => l.Short);
            if (lacks < ask.Quantity)
                return Refusal.Conflict("take-over-not-needed", lacks == 0
                    ? $"Order {number} is not short of {part.Number}." : $"Order {number} is short of {lacks:0.####} of {part.Number}, not {ask.Quantity:0.####}.");
            var holds = await Held(work, from, part.Id, order.FitOn);
            var held = holds.Sum(h => h.Held);
            if (held < ask.Quantity)
                return Refusal.Conflict("take-over-not-held",
                    $"Order {from.Number} holds {held:0.####} of {part.Number} on the shelf that is good on {order.FitOn:yyyy-MM-dd}, not {ask.Quantity:0.####}. What is picked is not taken over.");
            await Move(work, ledger, order, ask.Quantity, waiting, holds);

            order.Touch();
            from.Touch();
            var reason = ask.Reason.Trim();
            work.Audit($"order {number}", $"Took over {ask.Quantity:0.####} × {part.Number} from order {from.Number}: {reason}", order.Id);
            work.Audit($"order {from.Number}", $"Gave up {ask.Quantity:0.####} × {part.Number} to order {number}: {reason}", from.Id);
            work.Changed($"order:{number}");
            work.Changed($"order:{from.Number}");
            work.Changed($"part:{part.Number}");
            await CoverShortages.Run(work, [part.Id], "another lot");
            return number;
        }, ct);

    /// <summary>Both rows are locked in one order of numbers, so that two take-overs the other way round do not wait for each other.</summary>
    static async Task<Outcome<(WorkOrder, WorkOrder)>> Both(Work work, string number, string fromNumber)
    {
        await work.Db.Database.ExecuteSqlAsync($"select 1 from work_order where number in ({number}, {fromNumber}) order by number for no key update", work.Ct);
        var order = await OrderLookup.Find(work, number);
        if (order.Refusal is { } unknown)
            return unknown;
        var from = await work.Db.WorkOrders.SingleOrDefaultAsync(o => o.Number == fromNumber, work.Ct);
        if (from is null)
            return Refusal.Field("from", "order-unknown", OrderLookup.Unknown(fromNumber).Sentence);
        return order.Value.State is OrderState.Open or OrderState.Staged or OrderState.Underway ? (order.Value, from)
            : Refusal.Conflict("order-state", $"Order {number} is {Word.Of(order.Value.State)}. Only an order that is open, staged or underway takes parts over.");
    }

    static async Task<List<Reservation>> Held(Work work, WorkOrder giver, Rules.Parts.PartId part, DateOnly fitOn)
    {
        var rows = await (from held in work.Db.Reservations.AsNoTracking()
                          join lot in work.Db.Lots on held.LotId equals lot.Id
                          where held.OrderId == giver.Id && held.PartId == part && held.Held > 0
                          select new { held, lot }).ToListAsync(work.Ct);
        return [.. rows.Where(r => r.lot.IsUsableOn(fitOn)).OrderBy(r => r.lot.ExpiresOn).ThenBy(r => r.held.Id.Value).Select(r => r.held)];
    }

    static async Task Move(Work work, StockLedger ledger, WorkOrder order, decimal quantity, List<DemandLine> waiting, List<Reservation> holds)
    {
        var gives = new List<StockEntry>();
        var gets = new List<LineHold>();
        // Lines that a planner let go come last; the others in the order of their sources.
        var lines = new Queue<(DemandLine Line, decimal Short)>(waiting.OrderBy(l => l.ReleasedById is not null).ThenBy(l => l.Source).Select(l => (l, l.Short)));
        foreach (var hold in holds)
        {
            var left = Math.Min(hold.Held, quantity);
            if (left <= 0)
                break;
            quantity -= left;
            gives.Add(new StockEntry(hold.PartId, hold.LotId, hold.BinId)
            {
                Reserved = -left, Short = left, Reservation = hold.Id, Line = hold.DemandLineId, Order = hold.OrderId,
            });
            while (left > 0)
            {
                var (line, lacks) = lines.Peek();
                var part = Math.Min(left, lacks);
                gets.Add(new LineHold(line.Id, hold.PartId, hold.LotId, hold.BinId, part));
                left -= part;
                lines.Dequeue();
                if (part < lacks)
                    lines = new([(line, lacks - part), .. lines]);
            }
        }
        await ledger.Post(gives);
        await ledger.Reserve(gets);
    }
}
