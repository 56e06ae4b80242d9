using KitOrders.Operations.Orders;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>A part on the day board: how far its bar goes and what stands at its end.</summary>
public sealed record DayBar(string Label, string End, double X, bool Promised, bool Binds);

/// <summary>The days from today to the fit date, with a bar for each part that is not in hand.</summary>
public sealed record DayBoard(IReadOnlyList<(double X, string Text)> Ticks, IReadOnlyList<DayBar> Bars, double FitX, string FitText, int NotShown, string InWords)
{
    public const int MostBars = 5;

    /// <param name="width">Of the drawing, in its own units.</param>
    /// <param name="numbers">Line number by part.</param>
    public static DayBoard Of(OrderDay day, DateOnly fitOn, double width, IReadOnlyDictionary<string, int> numbers)
    {
        var known = day.Waiting.Where(w => w.On is not null).OrderBy(w => w.On).ThenBy(w => w.Binds).ToList();
        // The binding part is the one that matters; the latest are kept when there are more than fit.
        var shown = known.Skip(Math.Max(0, known.Count - MostBars)).ToList();
        var last = shown.Select(w => w.On!.Value).Append(fitOn).Append(day.AsOf.AddDays(7)).Max();
        var days = Math.Max(1, last.DayNumber - day.AsOf.DayNumber);
        // Room on the right for the day written after the longest bar.
        var unit = (width - 70) / days;
        double X(DateOnly on) => Math.Round(Math.Clamp(on.DayNumber - day.AsOf.DayNumber, 0, days) * unit, 1);
        var step = days switch { <= 21 => 7, <= 70 => 14, <= 180 => 30, _ => (days / 6) + 1 };
        var fitX = X(fitOn);
        var ticks = Enumerable.Range(0, (days / step) + 1).Select(n => (X: X(day.AsOf.AddDays(n * step)), Text: Days.Text(day.AsOf.AddDays(n * step), DayForm.Short)))
            .Where(t => Math.Abs(t.X - fitX) > 58).ToList();
        return new DayBoard(ticks,
            [.. shown.Select(w => new DayBar($"{(numbers.TryGetValue(w.Part, out var n) ? $"{n} " : "")}{Short(w.Description)}, {(w.Uncovered > 0 ? "if bought today" : w.Late ? "promise passed" : "promised")}",
                Days.Text(w.On!.Value, DayForm.Short), X(w.On.Value), w.Uncovered == 0, w.Binds))],
            fitX, $"fit, {Days.Text(fitOn, DayForm.Short)}", day.Waiting.Count - shown.Count,
            string.Join("; ", shown.Select(w => $"{w.Part} on {Days.Text(w.On!.Value)}{(w.Uncovered > 0 ? " if bought today" : "")}").Append($"fit on {Days.Text(fitOn)}")));
    }

    static string Short(string description)
    {
        var name = description.Split(',')[0];
        return name.Length <= 24 ? name : name[..23] + "…";
    }
}
