using KitOrders.Operations.Stock;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Planning;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Planning;

/// <param name="From">The order that would give it up.</param>
public sealed record TakeOverProposed(string Order, string From, string Part, decimal Quantity);

/// <param name="Orders">Those that would be completed, in the order of priority.</param>
/// <param name="StrictScore">What serving strictly by priority completes by the same day.</param>
/// <param name="Bound">No choice scores higher.</param>
/// <param name="Gap">How far the score may lie below the best there is, as a share of the bound; 0 is proved.</param>
/// <param name="StrictOrders">What serving strictly by priority completes.</param>
public sealed record BestSetView(
    DateOnly By, IReadOnlyList<string> Orders, int Score, int StrictScore, int Bound, decimal Gap, IReadOnlyList<TakeOverProposed> TakeOvers, IReadOnlyList<string> StrictOrders);

/// <summary>The best set of the open and staged orders by a day; see <see cref="BestSet"/>. It changes nothing: a planner decides on each take-over.</summary>
public sealed class BestSetOf(Desk desk)
{
    static readonly OrderState[] states = [OrderState.Open, OrderState.Staged];
    static readonly TimeSpan most = TimeSpan.FromSeconds(5);

    sealed record Held(OrderId Order, PartId Part, DateOnly ExpiresOn, bool Quarantined, decimal Quantity);

    /// <param name="by">Today when not given. What is promised by then counts as in hand.</param>
    public Task<BestSetView> Read(DateOnly? by, CancellationToken ct) => desk.Read(async reading =>
    {
        var day = by ?? reading.Today;
        var rule = new PromiseRule(reading.Today, reading.Plant.LatePromiseDays);
        var plans = await OrdersInPlan.Of(reading.Db, states, ct);
        var wanted = plans.SelectMany(p => p.Lines).Where(l => l.Required - l.Picked - l.Reserved > 0).Select(l => l.PartId).Distinct().ToList();
        var shelves = await Shelves.Of(reading.Db, wanted, ct);
        var incoming = await OrdersInPlan.Incoming(reading.Db, wanted, ct);
        var parts = await reading.Db.Parts.Where(p => wanted.Contains(p.Id)).Select(p => new { p.Id, p.Number, p.LeadTimeDays }).ToDictionaryAsync(p => p.Id, ct);
        var held = (await (from r in reading.Db.Reservations
                           join lot in reading.Db.Lots on r.LotId equals lot.Id
                           join order in reading.Db.WorkOrders on r.OrderId equals order.Id
                           where states.Contains(order.State) && wanted.Contains(r.PartId) && r.Held > 0
                           select new Held(r.OrderId, r.PartId, lot.ExpiresOn, lot.Quarantine != null, r.Held)).ToListAsync(ct)).ToLookup(h => h.Order);
        var ready = Readiness.Of(new ReadinessFacts(rule,
            [.. plans.Select(o => new OrderFact(o.Order.Id, o.Order.FitOn, [.. o.Lines.Select(l => new LineFact(l.Id, l.PartId, l.Required, l.Picked, l.Reserved))]))],
            shelves, incoming, parts.ToDictionary(p => p.Key, p => new LeadFact(p.Key, p.Value.Number, p.Value.LeadTimeDays))));
        var strict = ready.Where(r => r.ReadyOn <= day).Select(r => r.Order).ToHashSet();
        var free = shelves.Where(s => !s.Quarantined).Select(s => new Supply(s.Part, s.ExpiresOn, s.OnHand - s.Reserved))
            .Concat(incoming.Where(i => i.PromisedOn is { } on && rule.CountsOn(on) <= day).Select(i => new Supply(i.Part, null, i.Quantity)))
            .Concat(plans.SelectMany(p => held[p.Order.Id].Where(h => !h.Quarantined && h.ExpiresOn < p.Order.FitOn)).Select(h => new Supply(h.Part, h.ExpiresOn, h.Quantity)));
        var answer = BestSet.Of(new BestSetFacts([.. plans.Select(p => Of(p, held[p.Order.Id]))], [.. free.Where(s => s.Quantity > 0)]), problem => ProvedChoice.Of(problem, most), strict);

        var numbers = plans.ToDictionary(p => p.Order.Id, p => p.Order.Number);
        return new BestSetView(day, [.. answer.Orders.Select(o => numbers[o])], answer.Score, plans.Where(p => strict.Contains(p.Order.Id)).Sum(p => p.Priority.Score), answer.Bound, answer.Gap,
            [.. answer.TakeOvers.Select(t => new TakeOverProposed(numbers[t.Order], numbers[t.From], parts[t.Part].Number, t.Quantity))],
            [.. plans.Where(p => strict.Contains(p.Order.Id)).Select(p => p.Order.Number)]);
    }, ct);

    /// <summary>What it holds that is past its last good day on the fit date, or in quarantine, it still wants.</summary>
    static Contender Of(OrderInPlan plan, IEnumerable<Held> held)
    {
        var good = held.ToLookup(h => !h.Quarantined && h.ExpiresOn >= plan.Order.FitOn);
        var wanting = plan.Lines.Select(l => (l.PartId, Quantity: l.Required - l.Picked - l.Reserved)).Concat(good[false].Select(h => (PartId: h.Part, h.Quantity)))
            .GroupBy(w => w.PartId).Select(g => (g.Key, Quantity: g.Sum(w => w.Quantity))).Where(w => w.Quantity > 0);
        return new Contender(plan.Order.Id, plan.Priority.Score, plan.Order.FitOn, wanting.ToDictionary(w => w.Key, w => w.Quantity),
            [.. good[true].Select(h => new Supply(h.Part, h.ExpiresOn == Lot.NoExpiry ? null : h.ExpiresOn, h.Quantity))]);
    }
}
