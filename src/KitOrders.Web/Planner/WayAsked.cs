using KitOrders.Operations.Orders;

namespace KitOrders.Web.Planner;

/// <summary>A way out of a shortage that needs to know more before it is taken, or the way back.</summary>
public abstract record WayAsked(DemandView Line)
{
    /// <summary>An approved alternate covers what is short.</summary>
    public sealed record Use(DemandView Line, AlternateOf Alternate) : WayAsked(Line);

    /// <summary>What stands in on the line goes back.</summary>
    public sealed record TakeBack(DemandView Line, StandsInView InPlaceOf) : WayAsked(Line);

    /// <summary>What is short has been bought.</summary>
    public sealed record Buy(DemandView Line, decimal Quantity) : WayAsked(Line);
}
