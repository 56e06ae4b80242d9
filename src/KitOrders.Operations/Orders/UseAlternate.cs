using KitOrders.Operations.Parts;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using KitOrders.Storage.Orders;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <param name="Part">What the order is short of.</param>
/// <param name="Source">Of the short line; null: its lines in the order in which stock goes to them.</param>
public sealed record AlternateAsk(string Part, string Alternate, decimal Quantity, string Reason, LineSource? Source = null);

/// <summary>
/// Uses an approved alternate for what an order is short of, by a planner's decision and for a reason. The quantity moves from
/// the line that is short to the line of the alternate, which holds what is free of it; never by itself.
/// </summary>
public sealed class UseAlternate(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, AlternateAsk ask, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "use-alternate", async work =>
        {
            if (ReasonRefused(ask.Reason) is { } noReason)
                return noReason;
            var found = await Both(work, ask.Part, ask.Alternate);
            if (found.Refusal is { } unknown)
                return unknown;
            var (part, alternate) = found.Value;
            await new StockLedger(work).Lock([part.Id, alternate.Id]);
            var foundOrder = await OrderLookup.FindLocked(work, number);
            if (foundOrder.Refusal is { } noOrder)
                return noOrder;
            var order = foundOrder.Value;
            if (StateRefused(order) is { } wrongState)
                return wrongState;
            var waiting = await work.Db.DemandLines.AsNoTracking()
                .Where(l => l.OrderId == order.Id && l.PartId == part.Id && l.Short > 0 && (ask.Source == null || l.Source == ask.Source)).ToListAsync(ct);
            var standIns = await PartStandIns.Of(work.Db, [part.Id], ct);
            if (Replacing.MayUse(number, part, alternate, ask.Quantity, waiting.Sum(l => l.Short), standIns.Of(part.Id), standIns.NumberOf) is { } no)
                return no;

            await Tell(work, order, alternate, Split(waiting, ask.Quantity), ask.Reason.Trim());
            order.Touch();
            var covered = await CoverShortages.Run(work, [alternate.Id], $"the use of {alternate.Number} in place of {part.Number}");
            var held = covered.Where(c => c.Order == order.Id).Sum(c => c.Quantity);
            await ShelfLifeAgain.Judge(work, order);
            work.Audit($"order {number}", $"Uses {ask.Quantity:0.####} × {alternate.Number} in place of {part.Number}, {(held < ask.Quantity ? $"{held:0.####} of it reserved, the rest short" : "all of it reserved")}: {ask.Reason.Trim()}", order.Id);
            Replaced.Changed(work, number, part, alternate);
            return number;
        }, ct);

    internal static Refusal? ReasonRefused(string? reason) =>
        string.IsNullOrWhiteSpace(reason) ? Refusal.Field("reason", "reason-missing", "Say why; the order keeps the reason.")
        : reason.Trim().Length > Replacement.ReasonMaxLength ? Refusal.Field("reason", "reason-too-long", $"The reason has at most {Replacement.ReasonMaxLength} characters.") : null;

    internal static Refusal? StateRefused(WorkOrder order) => order.State is OrderState.Open or OrderState.Staged or OrderState.Underway ? null
        : Refusal.Conflict("order-state", $"Order {order.Number} is {Word.Of(order.State)}. An alternate is used on an order that is open, staged or underway.");

    internal static async Task<Outcome<(Part, Part)>> Both(Work work, string? number, string? alternate)
    {
        var part = await StockLookup.Part(work.Db, number, work.Ct);
        if (part.Refusal is { } unknown)
            return unknown;
        var other = await StockLookup.Part(work.Db, alternate, work.Ct);
        if (other.Refusal is { } noOther)
            return noOther.At("alternate");
        return part.Value.Id == other.Value.Id
            ? Refusal.Field("alternate", "alternate-of-itself", $"Part {part.Value.Number} cannot stand in for itself. Name another part.") : (part.Value, other.Value);
    }

    /// <summary>The quantity on the lines that are short: those that nobody let go first, then in the order in which stock goes to them.</summary>
    static List<(DemandLine Line, decimal Quantity)> Split(IEnumerable<DemandLine> waiting, decimal quantity)
    {
        var split = new List<(DemandLine, decimal)>();
        foreach (var line in waiting.OrderBy(l => l.ReleasedById is not null).ThenBy(l => l.Source))
        {
            var here = Math.Min(quantity, line.Short);
            if (here > 0)
                split.Add((line, here));
            quantity -= here;
        }
        return split;
    }

    /// <summary>The quantity leaves the short lines, and the lines of the alternate are short of it until stock covers them.</summary>
    static async Task Tell(Work work, WorkOrder order, Part alternate, List<(DemandLine Line, decimal Quantity)> split, string reason)
    {
        var ids = split.ConvertAll(s => s.Line.Id);
        var before = await (from r in work.Db.Replacements.AsNoTracking()
                            join other in work.Db.DemandLines on r.ByLineId equals other.Id
                            where ids.Contains(r.LineId)
                            select new { r.LineId, r.Quantity, other.PartId }).ToListAsync(work.Ct);
        var origins = split.Select(s =>
        {
            var others = before.Where(b => b.LineId == s.Line.Id && b.PartId != alternate.Id).Sum(b => b.Quantity);
            var same = before.Where(b => b.LineId == s.Line.Id && b.PartId == alternate.Id).Sum(b => b.Quantity);
            return DemandOrigins.Text(Replacing.OriginsOf(s.Line.Origins, others, same + s.Quantity));
        }).ToArray();
        var cost = (await UnitCosts.Of(work.Db, [alternate.Id], work.Ct)).GetValueOrDefault(alternate.Id);
        work.Last.With("replacedOrder", order.Id.Value).With("replacedLines", ids.Select(i => i.Value).ToArray())
            .With("replacedSources", split.Select(s => Word.Of(s.Line.Source)).ToArray()).With("replacedQuantities", split.Select(s => s.Quantity).ToArray())
            .With("replacedSpares", split.Select(s => s.Line.Spare).ToArray()).With("replacedOrigins", origins)
            .With("alternate", alternate.Id.Value).With("alternateCost", cost)
            .With("replacedReason", reason).With("replacedBy", work.Actor.Person.Value).With("replacedAt", work.Now)
            .Tell("""
                with t as (
                  select * from unnest(@replacedLines, @replacedSources, @replacedQuantities, @replacedSpares, @replacedOrigins) t(line, source, quantity, spare, origins)
                ), lowered as (
                  update demand_line l set gross = l.gross - t.quantity, required = l.required - t.quantity, short = l.short - t.quantity
                  from t where l.id = t.line
                ), raised as (
                  insert into demand_line (order_id, part_id, source, gross, built, required, picked, reserved, short, spare, unit_cost, origins)
                  select @replacedOrder, @alternate, source, quantity, 0, quantity, 0, 0, quantity, spare, @alternateCost, '[]'::jsonb from t
                  on conflict (order_id, part_id, source) do update
                  set gross = demand_line.gross + excluded.gross, required = demand_line.required + excluded.required, short = demand_line.short + excluded.short,
                      released_by_id = null, release_reason = null
                  returning id, source
                )
                insert into replacement (order_id, line_id, by_line_id, quantity, origins, reason, made_by_id, made_at)
                select @replacedOrder, t.line, r.id, t.quantity, t.origins::jsonb, @replacedReason, @replacedBy, @replacedAt
                from t join raised r on r.source = t.source
                on conflict (line_id, by_line_id) do update
                set quantity = replacement.quantity + excluded.quantity, origins = excluded.origins, reason = excluded.reason,
                    made_by_id = excluded.made_by_id, made_at = excluded.made_at
                """);
    }
}

/// <summary>What both ways of an alternate have in common.</summary>
internal static class Replaced
{
    public static void Changed(Work work, string order, Part part, Part alternate)
    {
        work.Changed($"order:{order}");
        work.Changed($"part:{part.Number}");
        work.Changed($"part:{alternate.Number}");
    }
}
