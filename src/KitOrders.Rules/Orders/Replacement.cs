using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;

namespace KitOrders.Rules.Orders;

/// <summary>
/// A quantity of one demand line that another line of the same order covers with an approved alternate, by a planner's
/// decision. The quantity has moved: the first line's gross and required are lower by it, the other's are higher.
/// </summary>
public sealed class Replacement
{
    public const int ReasonMaxLength = 500;

    public required OrderId OrderId { get; init; }

    /// <summary>The line that was short.</summary>
    public required DemandLineId LineId { get; init; }

    /// <summary>The line of the alternate.</summary>
    public required DemandLineId ByLineId { get; init; }

    public required decimal Quantity { get; init; }

    /// <summary>The kit lines that the quantity comes from.</summary>
    public IReadOnlyList<DemandOrigin> Origins { get; init; } = [];

    public required string Reason { get; init; }

    public required PersonId MadeById { get; init; }

    public required DateTimeOffset MadeAt { get; init; }
}

/// <summary>When an alternate may take the place of what is short, and when that may be taken back.</summary>
public static class Replacing
{
    /// <summary>Null, or why the alternate may not be used for the quantity. The stand-ins are those of the short part.</summary>
    /// <param name="lacks">What the order is short of the part.</param>
    public static Refusal? MayUse(string order, Part part, Part alternate, decimal quantity, decimal lacks, IReadOnlyList<StandIn> approved, Func<PartId, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(part);
        ArgumentNullException.ThrowIfNull(alternate);
        ArgumentNullException.ThrowIfNull(approved);
        if (!approved.Any(s => s.Part == alternate.Id))
        {
            return Refusal.Field("alternate", "alternate-not-approved", approved.Count == 0
                ? $"No part is approved to stand in for {part.Number}. A planner approves one on the page of {part.Number}."
                : $"{alternate.Number} is not approved to stand in for {part.Number}. Approved are {string.Join(", ", approved.Select(s => nameOf(s.Part)))}.");
        }

        if (alternate.Unit != part.Unit)
        {
            return Refusal.Field("alternate", "alternate-unit",
                $"{part.Number} is counted in {Word.Of(part.Unit)}, {alternate.Number} in {Word.Of(alternate.Unit)}. One cannot stand in for the other by number.");
        }

        if (StockQuantity.Refuse(quantity, alternate.Unit) is { } noQuantity)
        {
            return noQuantity;
        }

        return quantity <= lacks ? null : Refusal.Conflict("alternate-not-needed", lacks == 0
            ? $"Order {order} is not short of {part.Number}." : $"Order {order} is short of {lacks:0.####} of {part.Number}, not {quantity:0.####}. Use the alternate for what is short.");
    }

    /// <summary>Null, or why what stands in cannot be taken back: it is in hand, or something else stands in for it in turn.</summary>
    public static Refusal? MayTakeBack(string order, string part, string alternate, decimal quantity, DemandLine by)
    {
        ArgumentNullException.ThrowIfNull(by);
        return by.Required - by.Picked >= quantity ? null
            : by.Picked > 0
                ? Refusal.Conflict("alternate-picked", $"{by.Picked:0.####} of {alternate} are picked for order {order}. Return them to the shelf first, then take {alternate} in place of {part} back.")
                : Refusal.Conflict("alternate-replaced", $"Something else stands in for {alternate} on order {order}. Take that back first.");
    }

    /// <summary>The kit lines from which a replaced quantity comes: the last ones that no other replacement took.</summary>
    /// <param name="taken">What other replacements of the line took.</param>
    public static IReadOnlyList<DemandOrigin> OriginsOf(IReadOnlyList<DemandOrigin> origins, decimal taken, decimal quantity)
    {
        ArgumentNullException.ThrowIfNull(origins);
        var found = new List<DemandOrigin>();
        foreach (var origin in origins.Reverse())
        {
            var skipped = Math.Min(taken, origin.Quantity);
            taken -= skipped;
            var here = Math.Min(quantity, origin.Quantity - skipped);
            if (here > 0)
            {
                found.Insert(0, origin with { Quantity = here });
                quantity -= here;
            }
        }

        return found;
    }

    /// <summary>Which holds of an alternate are given up when so much is not needed any more: what would have left the shelf last, first.</summary>
    public static IReadOnlyList<(T Hold, decimal Quantity)> GiveUp<T>(IEnumerable<T> holds, Func<T, LotBalance> balanceOf, Func<T, decimal> heldOf, decimal quantity)
    {
        ArgumentNullException.ThrowIfNull(heldOf);
        var given = new List<(T, decimal)>();
        foreach (var hold in holds.OrderDescending(Comparer<T>.Create((a, b) => LotBalance.FirstOut(balanceOf(a), balanceOf(b)))))
        {
            var here = Math.Min(quantity, heldOf(hold));
            if (here > 0)
            {
                given.Add((hold, here));
                quantity -= here;
            }
        }

        return given;
    }
}
