using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>File <c>crews</c>.</summary>
static class ImportCrews
{
    public static readonly ImportSpec Spec = new("crews", Roles.Planner | Roles.Administrator,
        "crew* people hours_per_week hourly_rate", "crew", Run, Export: ExportPeople.Crews);

    static async Task Run(ImportRun run)
    {
        var recorded = await run.Db.Crews.ToDictionaryAsync(c => c.Name, run.Ct);
        foreach (var row in run.Rows())
        {
            var name = row.NeedText("crew", 100);
            if (!recorded.TryGetValue(name, out var crew))
                run.Db.Add(crew = new Crew { Name = name });
            crew.People = row.Whole("people", 0, 10_000, crew.People);
            crew.HoursPerWeek = row.Amount("hours_per_week", Bounds.NotNegative, crew.HoursPerWeek);
            crew.HourlyRate = row.Amount("hourly_rate", Bounds.NotNegative, crew.HourlyRate);
        }
    }

    /// <summary>A crew may be named before it is recorded; the name is kept and somebody told.</summary>
    internal static string? Named(ImportRun run, CsvRow row, HashSet<string> crews, string? kept)
    {
        var crew = row.Text("crew", 100, kept);
        if (crew is not null && row.Has("crew") && !crews.Contains(crew))
            run.Warn($"There is no crew {crew} yet. The name is kept; its hours and rate count once crews is imported.");
        return crew;
    }
}
