using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;

namespace KitOrders.Operations.Orders;

/// <param name="ValidTo">Last day on which it counts.</param>
public sealed record PermitInput(string Kind, string Reference, DateOnly? ValidTo = null);

/// <summary>Records that a permit was given. KitOrders keeps the record; whoever issues permits decides.</summary>
public sealed class RecordPermit(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, PermitInput permit, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner | Roles.Technician, "record-permit", async work =>
        {
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            var order = found.Value;
            if (order.State is OrderState.Closed or OrderState.Cancelled)
                return Refusal.Conflict("order-state", $"Order {number} is {Word.Of(order.State)}; it needs no permit any more.");
            if (Add(work, order, permit) is { } refusal)
                return refusal;
            order.Touch();
            work.Audit($"order {number}", $"Permit {permit.Kind} {permit.Reference} recorded.", order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);

    internal static Refusal? Add(Work work, WorkOrder order, PermitInput permit)
    {
        if (string.IsNullOrWhiteSpace(permit.Kind) || permit.Kind.Length > 100)
            return Refusal.Field("kind", "permit-kind", "Say what kind of permit it is, in at most 100 characters.");
        if (string.IsNullOrWhiteSpace(permit.Reference) || permit.Reference.Length > 100)
            return Refusal.Field("reference", "permit-reference", "Give the permit's reference, in at most 100 characters.");
        if (permit.ValidTo < work.Today)
            return Refusal.Field("validTo", "permit-expired", $"Permit {permit.Reference} ran out on {permit.ValidTo:yyyy-MM-dd}. Have it renewed first.");
        work.Db.Permits.Add(new Permit
        {
            OrderId = order.Id, Kind = permit.Kind.Trim(), Reference = permit.Reference.Trim(), ValidTo = permit.ValidTo,
            RecordedById = work.Actor.Person, RecordedAt = work.Now,
        });
        return null;
    }
}
