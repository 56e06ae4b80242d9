namespace KitOrders.Rules.People;

/// <summary>What a person does in the plant; a person may hold several. An administrator alone has no operational rights.</summary>
[Flags]
public enum Roles
{
    None = 0,
    Planner = 1,
    Storeroom = 2,
    Technician = 4,
    Manager = 8,
    Administrator = 16,
    All = Planner | Storeroom | Technician | Manager | Administrator,
}
