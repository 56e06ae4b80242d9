using KitOrders.Operations.Pumps;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

public static class StrokeWords
{
    /// <summary>The mean between the first and the last reading, in strokes a calendar day.</summary>
    public static string PerDay(IReadOnlyList<StrokesView> readings)
    {
        if (readings.Count < 2 || readings[^1].On == readings[0].On)
            return $"Read once, on {Days.Text(readings[^1].On, DayForm.Year)}.";
        var days = readings[^1].On.DayNumber - readings[0].On.DayNumber;
        return $"About {Figures.Count((readings[^1].Strokes - readings[0].Strokes) / days)} a day since {Days.Text(readings[0].On, DayForm.Year)}.";
    }
}
