using System.Net;
using KitOrders.Operations.Planning;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>A row of readiness in words, as HTML with what weighs strong.</summary>
public static class ReadinessWords
{
    public static string Ready(ReadinessRow row) => row.ReadyOn switch
    {
        null => "<b>no day</b>",
        _ when row.Waiting.Count == 0 => "ready",
        { } on when on > row.FitOn => $"{Days.Text(on, DayForm.Short)}, <b>{Figures.Of(on.DayNumber - row.FitOn.DayNumber, "day")} late</b>",
        { } on => Days.Text(on, DayForm.Short),
    };

    public static string Holds(ReadinessRow row)
    {
        if (row.Waiting.Count == 0)
            return "nothing";
        var bind = row.Waiting.FirstOrDefault(w => w.Part == row.BindingPart) ?? row.Waiting[0];
        var name = $"<b>{WebUtility.HtmlEncode(bind.Part)}</b> {WebUtility.HtmlEncode(bind.Description)}";
        var how = bind.Uncovered > 0 ? $"short&nbsp;{Figures.Quantity(bind.Uncovered)}, nothing promised"
            : bind.Promises.Any(p => p.Late) ? $"promise passed, counted as {Days.Text(bind.ReadyOn!.Value, DayForm.Short)}"
            : bind.ReadyOn is { } on ? $"promised {Days.Text(on, DayForm.Short)}" : "";
        var more = row.Waiting.Count - 1;
        return $"{name}, {how}{(more > 0 ? $" and {Figures.Of(more, "more line")}" : "")}";
    }
}
