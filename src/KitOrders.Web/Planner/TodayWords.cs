using KitOrders.Operations.Planning;
using KitOrders.Rules.People;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>What waits for a decision, as it stands on the day's list.</summary>
public sealed record TodayWords(string Heading, string Sentence, IReadOnlyList<(string Label, string Href)> Acts)
{
    const int Named = 4;

    public static TodayWords Of(TodayItem item, DateOnly today)
    {
        var order = item.Order is { } number ? $"/orders/{Uri.EscapeDataString(number)}" : "/orders";
        return item.Kind switch
        {
            TodayKind.PartShort => Part(item.Part!, today),
            TodayKind.CheckOpen => new($"Draft {item.Order} for {item.Pump}: {item.What}", item.Why ?? "", [("Look at it", $"/orders/new?draft={Uri.EscapeDataString(item.Order!)}")]),
            TodayKind.Deviation => new($"{item.Order}, {item.Pump}: {item.What}", item.Why ?? "", [("See the result", order + "#steps")]),
            TodayKind.ToClose => new($"{item.Order}, {item.Pump}: finished", $"{item.What}. {item.Why}.", [("Close it", order)]),
            TodayKind.Paused => new($"{item.Order}, {item.Pump}: {item.What}", item.Why ?? "", [("Open the order", order)]),
            TodayKind.ToOpen => new($"Draft {item.Order} for {item.Pump} can be opened", item.What, [("Open it", $"/orders/new?draft={Uri.EscapeDataString(item.Order!)}")]),
            _ => throw new ArgumentOutOfRangeException(nameof(item), item.Kind, null),
        };
    }

    static TodayWords Part(HeldWork part, DateOnly today)
    {
        var heading = part.PromisePassed
            ? $"{part.Part} {part.Description}: the promise of {Days.Text(part.PromisedOn!.Value, DayForm.Short)} has passed"
            : $"{part.Part} {part.Description}: {Figures.Quantity(part.Short)} short, {(part.PromisedOn is { } on ? $"not all promised by {Days.Text(on, DayForm.Short)}" : "nothing incoming")}";
        var more = part.Orders.Count - Named;
        var held = $"Holds {string.Join(", ", part.Orders.Take(Named))}{(more > 0 ? $" and {Figures.Of(more, "more order")}" : "")}.";
        var bought = part.LeadTimeDays is { } days ? $" If bought today: {Days.Text(today.AddDays(days))}." : " Its lead time is not recorded.";
        return new(heading, held + bought,
        [
            ("The part", $"/storeroom/parts/{Uri.EscapeDataString(part.Part)}"),
            part.Orders.Count == 1 ? ("Ways out", $"/orders/{Uri.EscapeDataString(part.Orders[0])}#demand") : ("Its orders", $"/orders?short=true&q={Uri.EscapeDataString(part.Part)}"),
        ]);
    }

    /// <summary>Where the day of somebody who plans nothing begins.</summary>
    public static string DayOf(Roles roles) => roles switch
    {
        _ when roles.HasFlag(Roles.Storeroom) => "/storeroom",
        _ when roles.HasFlag(Roles.Technician) => "/bench",
        _ when roles.HasFlag(Roles.Manager) => "/backlog",
        _ => "/setup",
    };
}
