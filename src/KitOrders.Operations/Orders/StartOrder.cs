using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>The kit passes to the technician and work begins. All checks run again; nothing failed or unanswered gets past.</summary>
public sealed class StartOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, IReadOnlyList<PermitInput>? permits, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Technician, "start-order", async work =>
        {
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            var order = found.Value;
            if (order.Start(work.Now) is { } wrongState)
                return wrongState;
            var judgements = await OrderJudging.Judge(work.Reading, order, work.Today, atStart: true);
            var kept = await work.Db.OrderChecks.AsNoTracking().Where(c => c.OrderId == order.Id).ToListAsync(ct);
            if (SuitabilityGate.MayGoOn(judgements, AnswerCheck.Answered(kept)) is { } unsuitable)
                return unsuitable;
            ChecksKept.Write(work.Last, order.Id, judgements);
            foreach (var permit in permits ?? [])
                if (RecordPermit.Add(work, order, permit) is { } refusal)
                    return refusal;
            var recorded = await work.Db.Permits.AsNoTracking().Where(p => p.OrderId == order.Id).ToListAsync(ct);
            if (recorded.Find(p => p.ValidTo < work.Today) is { } expired && recorded.All(p => p.Kind != expired.Kind || p.ValidTo < work.Today))
                return Refusal.Conflict("permit-expired", $"Permit {expired.Kind} {expired.Reference} ran out on {expired.ValidTo:yyyy-MM-dd}. Record the renewed one.");
            work.Audit($"order {number}", $"Started: kit handed over{(permits is { Count: > 0 } ? $", permits {string.Join(", ", permits.Select(p => p.Reference))}" : "")}.", order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}

/// <summary>Marks work underway as standing still, with the reason.</summary>
public sealed class PauseOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, string reason, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Technician | Roles.Planner, "pause-order", async work =>
        {
            if (string.IsNullOrWhiteSpace(reason))
                return Refusal.Field("reason", "reason-missing", "Say why work stands still.");
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            if (found.Value.Pause(reason.Trim()) is { } refusal)
                return refusal;
            work.Audit($"order {number}", $"Paused: {reason.Trim()}", found.Value.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}

/// <summary>Takes the mark off again.</summary>
public sealed class ResumeOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Technician | Roles.Planner, "resume-order", async work =>
        {
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            if (found.Value.Resume() is { } refusal)
                return refusal;
            work.Audit($"order {number}", "Work goes on.", found.Value.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}
