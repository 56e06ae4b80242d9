using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;

namespace KitOrders.Rules.Stock;

/// <summary>One row of the append-only stock ledger.</summary>
public sealed class Movement
{
    public long Id { get; private set; }

    public DateTimeOffset At { get; private set; }

    public MovementKind Kind { get; private set; }

    public PartId PartId { get; private set; }

    public LotId LotId { get; private set; }

    public BinId BinId { get; private set; }

    /// <summary>Signed, in the part's unit: what came is positive, what went is negative.</summary>
    public decimal Quantity { get; private set; }

    /// <summary>What the bin holds of the lot afterwards.</summary>
    public decimal OnHandAfter { get; private set; }

    public OrderId? OrderId { get; private set; }

    public PersonId PersonId { get; private set; }

    public decimal? UnitCost { get; private set; }

    public string? Reason { get; private set; }

    /// <summary>The movement that this one corrects.</summary>
    public long? CorrectsId { get; private set; }
}

/// <summary>Stock held for a demand line of an order.</summary>
public sealed class Reservation : HeldStock
{
    public OrderId OrderId { get; private set; }
}

/// <summary>Spares that a campaign holds for all its orders; fitted counts those that an order has used.</summary>
public sealed class PooledReservation : HeldStock
{
    public CampaignId CampaignId { get; private set; }
}

/// <summary>
/// A quantity of one lot in one bin held for one demand line, and what became of it. Held falls as it is picked; what was
/// picked is later fitted, returned or scrapped.
/// </summary>
public abstract class HeldStock
{
    public ReservationId Id { get; private set; }

    public DemandLineId DemandLineId { get; private set; }

    public PartId PartId { get; private set; }

    public LotId LotId { get; private set; }

    public BinId BinId { get; private set; }

    /// <summary>Still held on the shelf.</summary>
    public decimal Held { get; private set; }

    public decimal Picked { get; private set; }

    public decimal Fitted { get; private set; }

    public decimal Returned { get; private set; }

    public decimal Scrapped { get; private set; }

    /// <summary>What was picked and is still to be accounted for.</summary>
    public decimal Unaccounted => Picked - Fitted - Returned - Scrapped;
}
