namespace KitOrders.Rules.Orders;

/// <summary>The seven states of a work order, and no others. Waiting for parts is an open order with shortages.</summary>
public enum OrderState
{
    Draft,
    Open,
    Staged,
    Underway,
    Finished,
    Closed,
    Cancelled,
}

/// <summary>What the pump is after an order was cancelled once work had begun.</summary>
public enum PumpAfterCancel
{
    Unchanged,

    /// <summary>Neither the one nor the other: out of service until somebody finishes the job.</summary>
    PartlyConverted,
    Converted,
}

/// <summary>Where a part taken off the pump goes.</summary>
public enum RemovedTo
{
    Scrap,
    Serviceable,
    Vendor,
}
