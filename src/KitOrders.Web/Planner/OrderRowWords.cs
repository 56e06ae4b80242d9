using System.Net;
using KitOrders.Operations.Orders;
using KitOrders.Rules.Orders;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>What holds an order up, in a row of a list.</summary>
public static class OrderRowWords
{
    const int Named = 2;

    /// <summary>As HTML, the parts that nothing promises strong.</summary>
    public static string Holds(OrderRow row) => row switch
    {
        { State: OrderState.Draft } => "not opened yet",
        { State: OrderState.Underway, Paused: { } why } => $"paused: {WebUtility.HtmlEncode(why)}",
        { State: OrderState.Underway } => "underway",
        { State: OrderState.Finished } => "waits to be closed",
        { State: OrderState.Closed or OrderState.Cancelled } => Figures.None,
        { Holds.Count: > 0 } => Parts(row),
        { State: OrderState.Staged } => row.StagedPlace is { } place ? $"nothing; place {WebUtility.HtmlEncode(place)}" : "nothing; staged",
        { Lines: > 0 } when row.Reserved == 0 => "to be staged",
        { Lines: > 0 } => "to be picked",
        _ => "nothing",
    };

    static string Parts(OrderRow row)
    {
        var more = row.Holds.Count - Named;
        return string.Join(", ", row.Holds.Take(Named).Select(h =>
        {
            var part = $"{WebUtility.HtmlEncode(h.Part)}";
            return h.PromisedOn is { } on
                ? $"{(h.PromisePassed ? $"<b>{part}</b>" : part)} short&nbsp;{Figures.Quantity(h.Short)}, {(h.PromisePassed ? $"promise of {Days.Text(on, DayForm.Short)} passed" : $"promised {Days.Text(on, DayForm.Short)}")}"
                : $"<b>{part}</b> short&nbsp;{Figures.Quantity(h.Short)}";
        })) + (more > 0 ? $" and {Figures.Of(more, "more part")}" : "");
    }
}
