using System.Net;
using KitOrders.Operations.Orders;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>The sentence beside the day: which lines are missing, the day if bought, how that lies to the fit date.</summary>
public static class DayWords
{
    /// <summary>As HTML, the days and line numbers strong.</summary>
    public static string Of(OrderDay day, DateOnly fitOn, IReadOnlyDictionary<string, int> numbers)
    {
        if (day.Waiting.Count == 0)
            return $"Every part is in hand. {Slack(day.AsOf, fitOn)}";
        var bind = day.Waiting.FirstOrDefault(w => w.Binds);
        if (day.ReadyOn is { } on)
            return $"{Line(bind, numbers)} binds: {(bind?.Late == true ? "its promise has passed and counts as that day" : "promised that day")}. {Slack(on, fitOn)}";
        var open = day.Waiting.Where(w => w.Uncovered > 0).DistinctBy(w => w.Part).ToList();
        var lines = open.Select(w => Line(w, numbers)).ToList();
        var missing = $"{(lines.Count == 1 ? "" : "")}{Join(lines)} {(lines.Count == 1 ? "is" : "are")} not covered.";
        return day.ReadyIfBoughtToday is { } bought
            ? $"{missing} Bought today: <b>{Days.Text(bought)}</b>. {Slack(bought, fitOn)}"
            : $"{missing} The lead time of {Join([.. open.Where(w => w.On is null).Select(w => $"<b>{WebUtility.HtmlEncode(w.Part)}</b>")])} is not recorded, so no day can be said.";
    }

    static string Line(AwaitedPart? part, IReadOnlyDictionary<string, int> numbers) => part is null ? "Nothing"
        : numbers.TryGetValue(part.Part, out var n) ? $"Line <b>{n}</b>" : $"<b>{WebUtility.HtmlEncode(part.Part)}</b>";

    /// <summary>How the day lies to the fit date, in calendar days.</summary>
    public static string Slack(DateOnly on, DateOnly fitOn) => (fitOn.DayNumber - on.DayNumber) switch
    {
        0 => "That is the fit date.",
        1 => "That is 1 day before the fit.",
        > 1 and var days => $"That is {days} days before the fit.",
        -1 => "<b>That is 1 day after the fit date.</b>",
        var late => $"<b>That is {-late} days after the fit date.</b>",
    };

    static string Join(IReadOnlyList<string> words) => words.Count switch
    {
        0 => "",
        1 => words[0],
        _ => $"{string.Join(", ", words.Take(words.Count - 1))} and {words[^1]}".Replace("and Line", "and", StringComparison.Ordinal).Replace(", Line", ",", StringComparison.Ordinal).Replace("Line <b>", "Lines <b>", StringComparison.Ordinal),
    };
}
