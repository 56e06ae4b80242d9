using System.Globalization;
using KitOrders.Operations.People;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>A named person releases a hold point by their pin; until then nothing passes it.</summary>
public sealed class ReleaseHold(Desk desk, CheckPin pins)
{
    public async Task<Outcome<string>> Run(Call call, string number, int step, string person, string? pin, CancellationToken ct)
    {
        var known = await pins.Run(call, person, pin, ct);
        return known.Refusal is { } refusal ? refusal : await Release(call, number, step, known.Value, ct);
    }

    internal Task<Outcome<string>> Release(Call call, string number, int step, Actor by, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Technician | Roles.Planner, "release-hold", async work =>
        {
            if (!by.Holds(Roles.Technician | Roles.Planner))
                return Refusal.Field("person", "release-role", $"{by.Name} may not release a hold point. A technician or planner can.");
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            var order = found.Value;
            if (order.State != OrderState.Underway)
                return Refusal.Conflict("order-state", $"Order {number} is {Word.Of(order.State)}. Hold points are released while it is underway.");
            var steps = await work.Db.OrderSteps.Where(s => s.OrderId == order.Id).ToListAsync(ct);
            var results = (await work.Db.StepResults.AsNoTracking().Where(r => r.OrderId == order.Id).ToListAsync(ct)).ToLookup(r => r.OrderStepId);
            if (StepOrder.MayRelease(steps.Select(s => StepState.FactsOf(s, [.. results[s.Id]])), step.ToString(CultureInfo.InvariantCulture)) is { } no)
                return no;
            steps.Single(s => s.Number == step).Release(work.Now, by.Person);
            order.Touch();
            work.Audit($"order {number}, step {step}", $"Hold point {step} released by {by.Name}.", order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}

/// <summary>A planner takes a result that was not as specified, by name and reason. It stays on record either way.</summary>
public sealed class AcceptDeviation(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, int step, string reason, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "accept-deviation", async work =>
        {
            if (string.IsNullOrWhiteSpace(reason))
                return Refusal.Field("reason", "reason-missing", "Say why the pump may go back as it is.");
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            var order = found.Value;
            if (order.State is not (OrderState.Underway or OrderState.Finished))
                return Refusal.Conflict("order-state", $"Order {number} is {Word.Of(order.State)}. Results are accepted while it is underway or finished.");
            var target = await work.Db.OrderSteps.SingleOrDefaultAsync(s => s.OrderId == order.Id && s.Number == step, ct);
            if (target is null)
                return Refusal.NotFound("step-unknown", $"Order {number} has no step {step}.");
            var results = await work.Db.StepResults.AsNoTracking().Where(r => r.OrderStepId == target.Id).ToListAsync(ct);
            if (!StepState.Of(target, results).Deviates)
                return Refusal.Conflict("nothing-to-accept", $"Step {step} has no result that is not as specified.");
            target.Accept(work.Now, work.Actor.Person, reason.Trim());
            order.Touch();
            work.Audit($"order {number}, step {step}", $"Took step {step} as it is: {reason.Trim()}", order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}
