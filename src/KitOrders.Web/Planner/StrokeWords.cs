using KitOrders.Operations.Pumps;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

public static class StrokeWords
{
    /// <summary>The readings of the meter that is on the pump now: since it was replaced the last time.</summary>
    public static IReadOnlyList<StrokesView> OfThisMeter(IReadOnlyList<StrokesView> readings) =>
        [.. readings.Skip(Math.Max(0, readings.ToList().FindLastIndex(r => r.MeterReplaced)))];

    /// <summary>The mean between the first and the last reading of the meter, in strokes a calendar day.</summary>
    public static string PerDay(IReadOnlyList<StrokesView> all)
    {
        var readings = OfThisMeter(all);
        if (readings.Count < 2 || readings[^1].On == readings[0].On)
            return $"Read once, on {Days.Text(readings[^1].On, DayForm.Year)}.";
        var days = readings[^1].On.DayNumber - readings[0].On.DayNumber;
        return $"About {Figures.Count((readings[^1].Strokes - readings[0].Strokes) / days)} a day since {Days.Text(readings[0].On, DayForm.Year)}.";
    }
}
