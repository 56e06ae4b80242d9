using KitOrders.Rules;
using KitOrders.Rules.People;

namespace KitOrders.Operations.People;

/// <summary>The person for whom the token of the configuration acts. Nobody signs in as it and no other token stands for it.</summary>
public static class Bootstrap
{
    public const string Name = "bootstrap";

    public static bool Is(string name) => string.Equals(name.Trim(), Name, StringComparison.OrdinalIgnoreCase);

    internal static readonly Refusal Reserved = Refusal.Conflict("person-reserved",
        $"The person '{Name}' belongs to the token in the configuration and is not changed here. Add a person of their own instead.");

    internal static Actor Actor(PersonId id, string? device = null) => new(id, Name, Roles.All, device);
}
