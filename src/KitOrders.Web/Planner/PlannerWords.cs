using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>States of pumps, kits and checks as planners say them.</summary>
public static class PlannerWords
{
    public static string Of(Control control) => control == Control.PilotAir ? "pilot air" : "solenoid";

    public static string Of(Check check) => check switch
    {
        Check.Model => "Model",
        Check.Control => "Control",
        Check.SensingRod => "Sensing rod",
        Check.Ports => "Port threads",
        Check.Area => "Area",
        Check.Voltage => "Supply voltage",
        Check.Materials => "Materials",
        Check.Prerequisites => "Prerequisites",
        Check.Exclusions => "Exclusions",
        Check.AlreadyFitted => "Not yet fitted",
        Check.ShelfLife => "Shelf life",
        _ => throw new ArgumentOutOfRangeException(nameof(check), check, null),
    };

    public static string Of(Zone? zone) => zone switch
    {
        null => "not recorded",
        Zone.None => "not classified",
        _ => $"zone {Rules.Word.Of(zone.Value)}",
    };

    public static string Rod(bool? rod) => rod switch
    {
        true => "machined",
        false => "none",
        null => "not recorded",
    };

    /// <summary>The unit after a quantity; pieces have none.</summary>
    public static string? Of(Unit unit) => unit == Unit.Each ? null : Rules.Word.Of(unit);

    /// <summary>"24 V DC", or that it is not recorded.</summary>
    public static string Supply(SupplyKind? kind, decimal? volts) => (kind, volts) switch
    {
        (null, null) => "not recorded",
        (_, { } v) => $"{Figures.Quantity(v)} V {Kind(kind)}".TrimEnd(),
        _ => Kind(kind),
    };

    static string Kind(SupplyKind? kind) => kind switch
    {
        SupplyKind.Dc => "DC",
        SupplyKind.Ac50 => "AC 50 Hz",
        SupplyKind.Ac60 => "AC 60 Hz",
        _ => "",
    };

    /// <summary>"CC-25 rev 3", with ×2 where there are several.</summary>
    public static string Of(OrderKitView kit) =>
        $"{kit.Kit}{(kit.Revision is { } r ? $" rev {r}" : "")}{(kit.Quantity == 1 ? "" : $" ×{Figures.Quantity(kit.Quantity)}")}";

    /// <summary>"both", "it", "all 3": what has to be bought.</summary>
    public static string AllOf(int count) => count switch
    {
        1 => "it is",
        2 => "both are",
        _ => $"all {count} are",
    };
}
