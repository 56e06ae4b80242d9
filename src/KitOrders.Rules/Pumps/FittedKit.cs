using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Rules.Pumps;

/// <summary>A kit revision that is on a pump, since when and by which order.</summary>
public sealed class FittedKit
{
    public int Id { get; private set; }

    public required PumpId PumpId { get; init; }

    public required KitRevisionId KitRevisionId { get; set; }

    /// <summary>The kit as a catalogue item, whatever the revision.</summary>
    public required PartId KitPartId { get; init; }

    public required DateOnly FittedOn { get; set; }

    public OrderId? OrderId { get; init; }
}

/// <summary>A quantity of one lot that went onto a pump with an order.</summary>
public sealed class FittedLot
{
    public int Id { get; private set; }

    public required PumpId PumpId { get; init; }

    public required OrderId OrderId { get; init; }

    public required PartId PartId { get; init; }

    public required LotId LotId { get; init; }

    public required decimal Quantity { get; init; }

    public required DateOnly FittedOn { get; init; }
}

/// <summary>What a pump was before and after a piece of work: the pump's own history, kept with the serial.</summary>
public sealed class PumpChange
{
    public int Id { get; private set; }

    public required PumpId PumpId { get; init; }

    public OrderId? OrderId { get; init; }

    public required DateOnly On { get; init; }

    /// <summary>One sentence for people: what was done and what the pump has become.</summary>
    public required string What { get; init; }

    public required PumpModelId ModelBefore { get; init; }

    public required PumpModelId ModelAfter { get; init; }

    public long? StrokeCount { get; init; }
}
