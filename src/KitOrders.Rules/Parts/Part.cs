using KitOrders.Rules.Stock;

namespace KitOrders.Rules.Parts;

/// <summary>A catalogue item: a screw, a seal set, an assembly or a whole kit. Its number never changes once recorded.</summary>
public sealed class Part
{
    public const int NumberMaxLength = 60;
    public const int DescriptionMaxLength = 300;

    public PartId Id { get; private set; }

    public required string Number { get; init; }

    public required string Description { get; set; }

    public required Unit Unit { get; set; }

    /// <summary>ISO 1629 codes joined with "+", or null: not recorded or no elastomer in it.</summary>
    public string? Elastomers { get; set; }

    /// <summary>Catalogue price per unit, in the plant's currency.</summary>
    public decimal? UnitCost { get; set; }

    /// <summary>Calendar days from order to receipt.</summary>
    public int? LeadTimeDays { get; set; }

    public string? Barcode { get; set; }

    /// <summary>The part's own thread, as recorded, such as "NPT 1/4 male".</summary>
    public string? Thread { get; set; }

    /// <summary>The multiple in which a shop supply leaves the store, in the part's unit.</summary>
    public decimal? HandedOutIn { get; set; }

    public string? Supplier { get; set; }

    /// <summary>The part that takes its place for good; what is left of this one is still used first.</summary>
    public PartId? SupersededById { get; set; }
}

/// <summary>
/// One row a part, made with the part: the row that every writer of its stock locks first, in part order, and the moving
/// average cost that its receipts have made.
/// </summary>
public sealed class PartStock
{
    public PartId PartId { get; private set; }

    /// <summary>Moving average cost per unit; null before the first priced receipt.</summary>
    public decimal? AverageCost { get; private set; }

    /// <summary>A receipt at a price moves the average; see <see cref="MovingAverage.After"/>.</summary>
    public void Receive(decimal onHand, decimal received, decimal? price) =>
        AverageCost = MovingAverage.After(onHand, AverageCost, received, price);

    /// <summary>A receipt that was wrong leaves the average again; see <see cref="MovingAverage.Without"/>.</summary>
    public void TakeReceiptBack(decimal onHand, decimal received, decimal? price) =>
        AverageCost = MovingAverage.Without(onHand, AverageCost, received, price);
}

/// <summary>A part that may stand in for another, in the order of preference.</summary>
public sealed class PartAlternate
{
    public required PartId PartId { get; init; }

    public required PartId AlternateId { get; init; }

    public int Preference { get; set; } = 1;

    /// <summary>Whether the first may stand in for the second as well.</summary>
    public bool BothWays { get; set; }
}
