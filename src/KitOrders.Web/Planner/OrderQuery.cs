using System.Globalization;
using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Orders;

namespace KitOrders.Web.Planner;

/// <summary>The list's filters as they stand in the address: what is on the screen can be sent to somebody.</summary>
public sealed record OrderQuery(OrderFilter Filter)
{
    public static OrderQuery Of(Func<string, string?> value)
    {
        var states = (value("state") ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
            .Select(w => Word.TryRead<OrderState>(w, out var state) ? state : (OrderState?)null).OfType<OrderState>().ToList();
        return new OrderQuery(new OrderFilter
        {
            States = states,
            Late = value("late") == "true",
            Short = value("short") switch { "true" => true, "false" => false, _ => null },
            FitBefore = DateOnly.TryParseExact(value("before"), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var before) ? before : null,
            WorkClass = int.TryParse(value("class"), NumberStyles.None, CultureInfo.InvariantCulture, out var workClass) ? workClass : null,
            Search = string.IsNullOrWhiteSpace(value("q")) ? null : value("q"),
            Sort = Word.TryRead<OrderSort>(value("sort"), out var sort) ? sort : OrderSort.Score,
        });
    }

    /// <summary>The address's part after "?"; empty for the list as it opens.</summary>
    public string Text(string? after = null)
    {
        var parts = new List<string>();
        if (Filter.States.Count > 0)
            parts.Add($"state={string.Join(',', Filter.States.Select(Word.Of))}");
        if (Filter.Late)
            parts.Add("late=true");
        if (Filter.Short is { } isShort)
            parts.Add($"short={(isShort ? "true" : "false")}");
        if (Filter.FitBefore is { } before)
            parts.Add($"before={before.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}");
        if (Filter.WorkClass is { } workClass)
            parts.Add($"class={workClass}");
        if (Filter.Search is { } search)
            parts.Add($"q={Uri.EscapeDataString(search)}");
        if (Filter.Sort != OrderSort.Score)
            parts.Add($"sort={Word.Of(Filter.Sort)}");
        if (after is not null)
            parts.Add($"after={Uri.EscapeDataString(after)}");
        return string.Join('&', parts);
    }

    public string Address(string? after = null) => Text(after) is { Length: > 0 } text ? $"/orders?{text}" : "/orders";
}
