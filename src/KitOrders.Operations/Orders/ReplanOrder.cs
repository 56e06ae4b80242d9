using KitOrders.Operations.Kits;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>An answer to a check that only the new plan asks.</summary>
public sealed record ReplanAnswer(Check Check, string Kit, string Answer, string Note);

/// <param name="Seen">What the differences said of themselves when they were shown.</param>
/// <param name="Steps">The steps are frozen anew from the procedure's current revision.</param>
public sealed record ReplanAsk(string Seen, bool Steps = false, IReadOnlyList<ReplanAnswer>? Answers = null);

/// <summary>
/// Plans an open order again, by choice, as its differences were shown: with the current revisions, from what is free now. What
/// it held and does not need any more goes to those who wait. Where anything has changed since the differences were shown,
/// nothing is done.
/// </summary>
public sealed class ReplanOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, ReplanAsk ask, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "replan-order", async work =>
        {
            if (string.IsNullOrWhiteSpace(ask.Seen))
                return Refusal.Field("seen", "seen-missing", "Look at the differences first, and give back what they carry as seen.");
            var locked = await Lock(work, number);
            if (locked.Refusal is { } refused)
                return refused;
            var (order, plan) = locked.Value;
            if (plan.Seen != ask.Seen.Trim())
                return Refusal.Conflict("replan-changed", $"Stock, kits or order {number} have changed since the differences were shown. Nothing was done; look at them again, then decide.");
            if (await Answered(work, order, plan, ask.Answers ?? []) is { Refusal: { } unsuitable })
                return unsuitable;
            var newSteps = ask.Steps && plan.Draft.Procedure is { } current && current != order.ProcedureRevisionId;
            if (newSteps && await work.Db.StepResults.AnyAsync(r => r.OrderId == order.Id, ct))
                return Refusal.Conflict("steps-recorded", $"Results are recorded on the steps of order {number}, so they stay as they are. Plan it again without new steps.");

            foreach (var kit in order.Kits)
                kit.KitRevisionId = plan.Draft.Revisions[kit.KitPartId];
            if (order.Replan(newSteps ? plan.Draft.Procedure : null, plan.Draft.Hours, plan.Draft.HourlyRate) is { } wrongState)
                return wrongState;
            Tell(work.Last, order, plan, newSteps);
            ChecksKept.Write(work.Last, order.Id, plan.Judgements);
            if (order.CampaignId is { } campaign)
                await CampaignPool.Planned(work, campaign, order.Id, number, plan.Spares, plan.Facts);
            await CoverShortages.Run(work, plan.Parts, $"the new plan of order {number}");
            var lacking = plan.After.Count(p => p.Plan.Short > 0);
            work.Audit($"order {number}", $"Planned again with {string.Join(", ", plan.Draft.Kits.Select(k => $"{plan.Catalogue.Parts[k.Kit].Number} rev {plan.Catalogue.Revisions[k.Kit].Number}"))}{(newSteps ? " and the current steps" : "")}: {plan.After.Count - lacking} lines covered, {lacking} short.", order.Id);
            work.Changed($"order:{number}");
            foreach (var part in await work.Db.Parts.Where(p => plan.Before.Select(l => l.PartId).Contains(p.Id)).Select(p => p.Number).ToListAsync(ct))
                work.Changed($"part:{part}");
            return number;
        }, ct);

    /// <summary>Locks every part of the old plan and the new one, in part order, then the order; and plans once more with all of it locked.</summary>
    static async Task<Outcome<(WorkOrder Order, ReplanPlan Plan)>> Lock(Work work, string number)
    {
        var seen = await work.Db.WorkOrders.AsNoTracking().Include(o => o.Kits).SingleOrDefaultAsync(o => o.Number == number, work.Ct);
        if (seen is null)
            return OrderLookup.Unknown(number);
        var first = await ReplanPlan.Make(work.Reading, seen);
        if (first.Refusal is { } refused)
            return refused;
        var parts = first.Value.Parts.ToHashSet();
        await new StockLedger(work).Lock(parts);
        var found = await OrderLookup.FindLocked(work, number);
        if (found.Refusal is { } unknown)
            return unknown;
        var plan = await ReplanPlan.Make(work.Reading, found.Value);
        if (plan.Refusal is { } changed)
            return changed;
        // What is not locked may not be touched; the whole begins anew with what is true now.
        return plan.Value.Parts.All(parts.Contains) ? (found.Value, plan.Value) : throw new TreeMoved();
    }

    static async Task<Outcome<Done>> Answered(Work work, WorkOrder order, ReplanPlan plan, IReadOnlyList<ReplanAnswer> answers)
    {
        foreach (var answer in answers)
        {
            if (plan.Judgements.FirstOrDefault(j => j.Check == answer.Check && j.Kit == answer.Kit) is not { } judged)
                return Refusal.Field("answers", "kit-unknown", $"Order {order.Number} has no kit {answer.Kit}.");
            if (AnswerCheck.Refused(answer.Answer, answer.Note) is { } unreadable)
                return unreadable;
            if (SuitabilityGate.MayAnswer(judged, answer.Note) is { } no)
                return no;
            await AnswerCheck.Keep(work, order, judged, answer.Answer, answer.Note);
        }
        var kept = await work.Db.OrderChecks.Where(c => c.OrderId == order.Id).ToListAsync(work.Ct);
        var answered = AnswerCheck.Answered([.. kept, .. work.Db.OrderChecks.Local.Except(kept).Where(c => c.OrderId == order.Id)]);
        return SuitabilityGate.MayGoOn(plan.Judgements, answered, order.Breakdown) is { } unsuitable ? unsuitable : Done.Value;
    }

    static void Tell(Trip trip, WorkOrder order, ReplanPlan plan, bool newSteps)
    {
        trip.With("order", order.Id.Value);
        trip.Tell("""
            update bin_stock b set reserved = b.reserved - x.held
            from (select lot_id, bin_id, sum(held) held from reservation where order_id = @order group by lot_id, bin_id) x
            where b.lot_id = x.lot_id and b.bin_id = x.bin_id and x.held > 0
            """);
        trip.Tell("delete from replacement where order_id = @order");
        trip.Tell("delete from reservation where order_id = @order");
        trip.Tell("delete from demand_line where order_id = @order");
        StockLedger.HoldNew(trip, order.Id, [.. plan.After.Select(p => new NewDemand(p,
            [.. p.Plan.Origins.Select(o => new DemandOrigin(plan.Catalogue.Parts[o.Kit].Number, o.Line, o.Quantity))], plan.UnitCosts.GetValueOrDefault(p.Plan.Part)))]);
        OpenedOrder.TellSteps(trip, plan.Draft, plan.Catalogue, newSteps);
    }
}

/// <summary>What planning an open order again would change, line by line; nothing is kept.</summary>
public sealed class ReplanDifferences(Desk desk)
{
    public Task<Outcome<ReplanView>> Of(string number, CancellationToken ct) => desk.Read<Outcome<ReplanView>>(async reading =>
    {
        var db = reading.Db;
        var order = await db.WorkOrders.Include(o => o.Kits).SingleOrDefaultAsync(o => o.Number == number, ct);
        if (order is null)
            return OrderLookup.Unknown(number);
        var made = await ReplanPlan.Make(reading, order);
        if (made.Refusal is { } refused)
            return refused;
        var plan = made.Value;
        var ids = plan.Parts.ToList();
        var parts = await db.Parts.Where(p => ids.Contains(p.Id)).ToDictionaryAsync(p => p.Id, ct);
        var view = (await OrderReading.View(reading, number)).Value;
        var answers = await db.OrderChecks.Where(c => c.OrderId == order.Id).ToListAsync(ct);
        var names = await db.People.ToDictionaryAsync(p => p.Id, p => p.Name, ct);
        var job = await db.Jobs.SingleAsync(j => j.Id == order.JobId, ct);
        return new ReplanView
        {
            Order = number, Version = order.Version, Seen = plan.Seen,
            Kits = [.. view.Kits.Select(k => new ReplanKit(k.Kit, k.Revision, k.NewerRevision ?? k.Revision))],
            Procedure = await ProcedureOf(reading, view, plan),
            Lines = plan.Lines(parts),
            Steps = plan.Draft.Procedure == order.ProcedureRevisionId ? [] : ReplanSteps.Between(view.Steps, (await StepReading.OfProcedures(reading, [job]))(job, plan.Draft.Model)),
            Suitability = [.. plan.Judgements.Select(j => DraftReading.View(j, answers.Find(a => a.Check == j.Check && a.Kit == j.Kit), names))],
            GivenUp = [.. view.Demand.SelectMany(d => d.InPlaceOf.Select(o => $"{o.Quantity:0.####} × {d.Part} in place of {o.Part}")),
                .. view.Demand.Where(d => d.ReleasedBy is not null).Select(d => $"{d.Part}, let go by {d.ReleasedBy}")],
            Refused = SuitabilityGate.MayGoOn(plan.Judgements, AnswerCheck.Answered(answers), order.Breakdown)?.Sentence,
        };
    }, ct);

    static async Task<ReplanProcedure?> ProcedureOf(Reading reading, OrderView view, ReplanPlan plan)
    {
        if (view.Procedure is not { } code)
            return null;
        var current = plan.Draft.Procedure is { } id ? await reading.Db.ProcedureRevisions.Where(r => r.Id == id).Select(r => (int?)r.Number).SingleAsync(reading.Ct) : null;
        return new ReplanProcedure(code, view.ProcedureRevision, current);
    }
}
