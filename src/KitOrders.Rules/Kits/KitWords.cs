namespace KitOrders.Rules.Kits;

/// <summary>Where a kit line comes from. The order of the members is the order in which stock goes to the sources.</summary>
public enum LineSource
{
    InTheBox,
    BoughtSeparately,

    /// <summary>Metered, not counted: tape, grease.</summary>
    ShopSupply,

    /// <summary>Kept from the pump; demands nothing but its spares.</summary>
    CarriedOver,
}

/// <summary>How many spares are held for a carried-over part.</summary>
public enum SparePolicy
{
    None,
    All,
    ByRate,
}

public enum RevisionState
{
    Draft,
    Released,
    Superseded,
}

/// <summary>The eleven checks of suitability, in the order in which they are listed.</summary>
public enum Check
{
    Model,
    Control,
    SensingRod,
    Ports,
    Area,
    Voltage,
    Materials,
    Prerequisites,
    Exclusions,
    AlreadyFitted,
    ShelfLife,
}

public enum CheckResult
{
    Passed,
    Failed,

    /// <summary>The kit calls for it and the record cannot answer.</summary>
    Unknown,
}
