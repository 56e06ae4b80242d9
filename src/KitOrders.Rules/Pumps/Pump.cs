using KitOrders.Rules.People;

namespace KitOrders.Rules.Pumps;

public readonly record struct PumpId(int Value);

public readonly record struct PositionId(int Value);

public readonly record struct PumpModelId(int Value);

public readonly record struct FluidId(int Value);

/// <summary>What a fluid is to the plant. Empty means not recorded; KitOrders holds no resistance table of its own.</summary>
public sealed class Fluid
{
    public FluidId Id { get; private set; }

    public required string Name { get; init; }

    public string? Hazard { get; set; }

    /// <summary>Materials the plant has approved for this fluid.</summary>
    public List<string> Approved { get; set; } = [];

    /// <summary>Materials the plant refuses for this fluid.</summary>
    public List<string> Refused { get; set; } = [];

    /// <summary>Ignition temperature, °C.</summary>
    public decimal? IgnitionC { get; set; }

    /// <summary>Whether bonding and earthing are called for.</summary>
    public bool? Bonding { get; set; }
}

public sealed class PumpModel
{
    public PumpModelId Id { get; private set; }

    public required string Code { get; init; }

    public string? Description { get; set; }

    public required Control Control { get; set; }

    /// <summary>Whether the model can be had with a machined sensing rod.</summary>
    public bool? SensingRodAvailable { get; set; }

    /// <summary>Displacement per stroke, ml.</summary>
    public decimal? DisplacementMl { get; set; }

    /// <summary>Ports and their threads as recorded: "exhaust=NPT 1/2 female; pilot=NPT 1/8 female".</summary>
    public string? Ports { get; set; }
}

/// <summary>A place in the plant where a pump works: its tag, area, supply, fluid and criticality belong to it.</summary>
public sealed class Position
{
    public PositionId Id { get; private set; }

    public required string Tag { get; init; }

    public string? Area { get; set; }

    public Zone? Zone { get; set; }

    public string? ExGroup { get; set; }

    public string? TemperatureClass { get; set; }

    public SupplyKind? SupplyKind { get; set; }

    public decimal? SupplyVolts { get; set; }

    /// <summary>Length of the cable one way, m.</summary>
    public decimal? CableM { get; set; }

    /// <summary>Conductor cross-section, mm².</summary>
    public decimal? CableMm2 { get; set; }

    public FluidId? FluidId { get; set; }

    public decimal? FluidTempC { get; set; }

    /// <summary>1 to 10, 10 the most pressing.</summary>
    public required int Criticality { get; set; }

    public long Version { get; private set; } = 1;
}

/// <summary>A serial-numbered pump. What is fitted to it, its strokes and its history go with it wherever it stands.</summary>
public sealed class Pump
{
    public PumpId Id { get; private set; }

    public required string Serial { get; init; }

    public required PumpModelId ModelId { get; set; }

    /// <summary>Where it stands now; null when it stands in the store.</summary>
    public PositionId? PositionId { get; set; }

    /// <summary>Whether its own diaphragm rod and bushing are machined for a proximity sensor; null is not recorded.</summary>
    public bool? SensingRod { get; set; }

    public int? StrokesPerPulse { get; set; }

    public DateOnly? CommissionedOn { get; set; }

    /// <summary>The meter; null before the first reading.</summary>
    public long? StrokeCount { get; set; }

    /// <summary>Why it may not run, for instance after a conversion that was broken off; null when it may.</summary>
    public string? OutOfService { get; set; }

    public long Version { get; private set; } = 1;

    /// <summary>Marks a change of something that belongs to the pump, so that a stale second tab is noticed.</summary>
    public void Touch() => Version++;
}

/// <summary>One reading of a pump's stroke meter.</summary>
public sealed class StrokeReading
{
    public long Id { get; private set; }

    public required PumpId PumpId { get; init; }

    public required DateOnly ReadOn { get; init; }

    public required long Strokes { get; init; }

    /// <summary>The meter was replaced or set back since the reading before: this one says nothing of the strokes between.</summary>
    public bool MeterReplaced { get; init; }

    /// <summary>Why the meter was replaced, or what was noticed at it.</summary>
    public string? Note { get; init; }

    /// <summary>Who read it; null where it came with an order that was closed or with an import.</summary>
    public PersonId? ReadById { get; init; }
}

/// <summary>A stretch of time in which one pump stood at one position.</summary>
public sealed class PumpStay
{
    public int Id { get; private set; }

    public required PumpId PumpId { get; init; }

    public required PositionId PositionId { get; init; }

    /// <summary>Null: it stood there before moves were recorded.</summary>
    public DateOnly? From { get; init; }

    /// <summary>Null while it stands there.</summary>
    public DateOnly? Until { get; set; }

    /// <summary>Why it came, in words; null where that is not recorded.</summary>
    public string? Came { get; init; }

    /// <summary>Why it left, in words; null while it stands there.</summary>
    public string? Left { get; set; }
}
