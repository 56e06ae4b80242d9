using System.Security.Claims;
using KitOrders.Rules.People;

namespace KitOrders.Web.Layout;

/// <summary>One word of the top strip: where it leads, whose work it is, which first path segments belong to it.</summary>
public sealed record WorkWord(string Word, string Path, Roles For, params string[] Segments)
{
    public bool Holds(string segment) => Segments.Contains(segment, StringComparer.OrdinalIgnoreCase);
}

/// <summary>The first level of navigation is the work; people see what their role uses.</summary>
public static class Work
{
    public static readonly IReadOnlyList<WorkWord> All =
    [
        new("Today", "/", Roles.All, "", "today", "bench"),
        new("Orders", "/orders", Roles.Planner | Roles.Storeroom | Roles.Technician | Roles.Manager, "orders", "campaigns"),
        new("Kits", "/kits", Roles.Planner | Roles.Storeroom | Roles.Manager, "kits", "procedures"),
        new("Pumps", "/pumps", Roles.Planner | Roles.Technician | Roles.Manager, "pumps"),
        new("Storeroom", "/storeroom", Roles.Planner | Roles.Storeroom, "storeroom", "parts", "lots", "bins"),
        new("Readiness", "/readiness", Roles.Planner | Roles.Manager, "readiness"),
        new("Backlog", "/backlog", Roles.Planner | Roles.Manager, "backlog", "shortages", "measures"),
        new("Setup", "/setup", Roles.All, "setup", "profile", "people"),
    ];

    public static Roles RolesOf(ClaimsPrincipal user) =>
        Enum.GetValues<Roles>().Where(r => r is not (Roles.None or Roles.All) && user.IsInRole(r.ToString()))
            .Aggregate(Roles.None, (all, role) => all | role);

    public static IReadOnlyList<WorkWord> Of(Roles roles) => [.. All.Where(w => (w.For & roles) != Roles.None)];

    /// <summary>The three words of the day under the thumb: of the first role the person holds.</summary>
    public static IReadOnlyList<WorkWord> UnderTheThumb(Roles roles)
    {
        string[] words = roles switch
        {
            _ when roles.HasFlag(Roles.Planner) => ["Today", "Orders", "Readiness"],
            _ when roles.HasFlag(Roles.Storeroom) => ["Today", "Storeroom", "Orders"],
            _ when roles.HasFlag(Roles.Technician) => ["Today", "Orders", "Pumps"],
            _ when roles.HasFlag(Roles.Manager) => ["Today", "Backlog", "Orders"],
            _ => ["Today", "Setup"],
        };
        return [.. words.Select(w => All.Single(x => x.Word == w))];
    }

    /// <summary>"Ines Valdorf, planner": the person and what they do here.</summary>
    public static string Person(ClaimsPrincipal user)
    {
        var name = user.FindFirstValue("full_name") ?? user.Identity?.Name ?? "";
        var roles = RolesOf(user);
        var word = roles switch
        {
            Roles.None => "",
            _ when roles.HasFlag(Roles.Planner) => "planner",
            _ when roles.HasFlag(Roles.Storeroom) => "clerk",
            _ when roles.HasFlag(Roles.Technician) => "technician",
            _ when roles.HasFlag(Roles.Manager) => "manager",
            _ => "administrator",
        };
        return word.Length == 0 ? name : $"{name}, {word}";
    }
}
