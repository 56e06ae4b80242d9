using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;

namespace KitOrders.Rules.Orders;

/// <summary>
/// A part and quantity that an order needs from one source, after explosion and netting.
/// </summary>
public sealed class DemandLine : DemandedPart
{
    public required OrderId OrderId { get; init; }
}

/// <summary>Spares of a part that a campaign holds for all its orders.</summary>
public sealed class PooledLine : DemandedPart
{
    public required CampaignId CampaignId { get; init; }
}

/// <summary>
/// What an order or a campaign asks for of a part. Always required = picked + reserved + short, and gross = required + built;
/// the database holds both.
/// </summary>
public abstract class DemandedPart
{
    public DemandLineId Id { get; private set; }

    public required PartId PartId { get; init; }

    public required LineSource Source { get; init; }

    public required decimal Gross { get; init; }

    public required decimal Built { get; init; }

    public required decimal Required { get; init; }

    public decimal Picked { get; private set; }

    public decimal Reserved { get; private set; }

    public required decimal Short { get; init; }

    /// <summary>Held in case a part kept from the pump is rejected.</summary>
    public required bool Spare { get; init; }

    /// <summary>Cost per unit as it stood at opening; null when none was known.</summary>
    public decimal? UnitCost { get; init; }

    /// <summary>Who let the order go on without what is short, and why.</summary>
    public PersonId? ReleasedById { get; private set; }

    public string? ReleaseReason { get; private set; }

    public IReadOnlyList<DemandOrigin> Origins { get; init; } = [];
}

/// <summary>The kit line that a demand comes from, with the part of the gross quantity that it asks for.</summary>
/// <param name="Kit">Number of the kit or assembly; of the item itself where it is the order's own kit.</param>
/// <param name="Line">The line's number; 0 where it is the order's own kit.</param>
public sealed record DemandOrigin(string Kit, int Line, decimal Quantity);
