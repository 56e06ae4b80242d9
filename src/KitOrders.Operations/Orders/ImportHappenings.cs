using System.Globalization;
using System.Text.RegularExpressions;
using KitOrders.Operations.People;
using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>
/// File <c>happenings</c>: what people did, row by row, run by the product's own operations at the time and under the name the
/// row gives. It speaks for other people, so administrators only; each row still needs a person who may do it.
/// </summary>
static partial class ImportHappenings
{
    public static readonly ImportSpec Spec = new("happenings", Roles.Administrator,
        "at* person* operation* order reference value unit note", "", Run, "at");

    /// <summary>Instants of ISO 8601, with their distance from UTC.</summary>
    static readonly string[] instants = ["yyyy-MM-dd'T'HH:mmzzz", "yyyy-MM-dd'T'HH:mm:sszzz", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz", "yyyy-MM-dd'T'HH:mm'Z'", "yyyy-MM-dd'T'HH:mm:ss'Z'", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'"];

    static async Task Run(ImportRun run)
    {
        var names = run.Values("person", "note").Concat(run.Values("note").Select(Happening.WitnessOf).OfType<string>()).ToArray();
        var people = await run.Db.People.AsNoTracking().Where(p => names.Contains(p.Name) && p.Active).ToDictionaryAsync(p => p.Name, p => PersonActions.ActorOf(p), run.Ct);
        var stuck = new HashSet<string>();
        foreach (var row in run.Rows())
        {
            var at = At(run, row);
            var name = row.NeedText("person", Person.NameMaxLength);
            if (name.Length > 0 && !people.ContainsKey(name))
                row.Refuse("person", $"There is no person {name} in place. Import the name with people first, or correct it here.");
            var operation = row.NeedText("operation", 40);
            if (operation.Length > 0 && !Happening.Operations.ContainsKey(operation))
                row.Refuse("operation", $"There is no operation {operation}. There are {string.Join(", ", Happening.Operations.Keys)}.");
            // What comes after a row that was refused cannot be judged for the same order.
            if (row.IsBad || (row["order"] is { } order && stuck.Contains(order)))
                continue;
            var happening = new Happening(run.Db, Desk.Inside(run.Work, new ClockAt(at)), people, row, run.Ct);
            if (await Happening.Operations[operation](happening) is not { } refusal)
                continue;
            row.Refuse(refusal.Code == "order-unknown" ? "order" : "operation", refusal.Sentence);
            stuck.Add(row["order"] ?? "");
        }
    }

    static DateTimeOffset At(ImportRun run, CsvRow row)
    {
        var text = row.NeedText("at", 40);
        if (text.Length == 0)
            return run.Work.Now;
        if (DateTimeOffset.TryParseExact(text, instants, CultureInfo.InvariantCulture, DateTimeStyles.None, out var instant) && instant.Year is >= 1900 and <= 2199)
            return NotAhead(run, row, text, instant.ToUniversalTime());
        var match = DayAndTime().Match(text);
        if (!match.Success || CsvRow.ReadDate(match.Groups["day"].Value, run.Today) is not { } day
            || !TimeOnly.TryParseExact(match.Groups["time"].Value, ["HH:mm", "HH:mm:ss"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var time))
        {
            row.Refuse("at", $"\"{text}\" is not a time. Write today-14T08:20 or 2026-03-12T08:20, in the plant's time, or 2026-03-12T07:20:00Z.");
            return run.Work.Now;
        }
        var local = day.ToDateTime(time);
        return NotAhead(run, row, text, new DateTimeOffset(local, TimeZoneInfo.FindSystemTimeZoneById(run.Work.Plant.TimeZone).GetUtcOffset(local)).ToUniversalTime());
    }

    static DateTimeOffset NotAhead(ImportRun run, CsvRow row, string text, DateTimeOffset at)
    {
        if (at > run.Work.Now)
            row.Refuse("at", $"{text} has not come yet. A happening lies in the past.");
        return at;
    }

    [GeneratedRegex(@"^(?<day>[^T]+?)T(?<time>\d\d:\d\d(?::\d\d)?)\z")]
    private static partial Regex DayAndTime();
}
