using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Stock;

/// <summary>A shelf place with its place in the walk.</summary>
public sealed class Bin
{
    public BinId Id { get; private set; }

    public required string Code { get; init; }

    public required int WalkOrder { get; set; }
}

/// <summary>One batch of a part, received together, of the same cure date. Its number is unique to the part.</summary>
public sealed class Lot
{
    public const int NumberMaxLength = 60;

    /// <summary>Stands for "no expiry" in the database, where it is kept as infinity.</summary>
    public static readonly DateOnly NoExpiry = DateOnly.MaxValue;

    public LotId Id { get; private set; }

    public required PartId PartId { get; init; }

    public required string Number { get; init; }

    public required DateOnly ReceivedOn { get; init; }

    /// <summary>Last day of the cure date or quarter; null when none is recorded.</summary>
    public DateOnly? CuredOn { get; set; }

    /// <summary>The last good day; <see cref="NoExpiry"/> for parts that do not age.</summary>
    public required DateOnly ExpiresOn { get; set; }

    /// <summary>When the inspection was made that gives the one extension; null before.</summary>
    public DateOnly? InspectedOn { get; set; }

    /// <summary>Why it may not be used; null when it may.</summary>
    public string? Quarantine { get; set; }

    public decimal? UnitCost { get; init; }

    public DateOnly? GoodUntil => ExpiresOn == NoExpiry ? null : ExpiresOn;

    public bool IsUsableOn(DateOnly day) => Quarantine is null && ExpiresOn >= day;
}

/// <summary>
/// What one bin holds of one lot. A projection of the movements and the reservations, written by the stock ledger alone;
/// the database holds 0 ≤ reserved ≤ on hand.
/// </summary>
public sealed class BinStock
{
    public required LotId LotId { get; init; }

    public required BinId BinId { get; init; }

    public required PartId PartId { get; init; }

    public decimal OnHand { get; private set; }

    public decimal Reserved { get; private set; }
}

/// <summary>A purchase line not yet received in full.</summary>
public sealed class Incoming
{
    public int Id { get; private set; }

    public required string Reference { get; init; }

    public required PartId PartId { get; init; }

    /// <summary>Ordered in all, in the part's unit.</summary>
    public required decimal Quantity { get; set; }

    /// <summary>What of it has come.</summary>
    public decimal Received { get; set; }

    public DateOnly? PromisedOn { get; set; }

    public string? Supplier { get; set; }

    public decimal Outstanding => Math.Max(0, Quantity - Received);
}
