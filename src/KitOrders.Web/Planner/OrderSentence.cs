using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>The state of an order as a sentence: the word, what weighs, what follows.</summary>
public sealed record OrderSentence(string Word, string? Strong, string Rest)
{
    public static OrderSentence Of(OrderSheetView sheet)
    {
        var order = sheet.Order;
        return order.State switch
        {
            OrderState.Draft => Draft(sheet),
            OrderState.Open => Open(sheet),
            OrderState.Staged => new("Staged:", order.StagedPlace is { } at ? $"the kit waits at {at}." : "the kit waits.", Without(order)),
            OrderState.Underway => Underway(order),
            OrderState.Finished => Finished(order),
            OrderState.Closed => new("Closed", null, order.ClosedAt is { } closed ? $"on {Days.Text(DateOnly.FromDateTime(closed.UtcDateTime), DayForm.Year)}." : ""),
            OrderState.Cancelled => new("Cancelled:", null, (order.CancelReason ?? "").TrimEnd('.') + "." + After(order.PumpIs)),
            _ => throw new ArgumentOutOfRangeException(nameof(sheet), order.State, null),
        };
    }

    /// <summary>Lines that hold the order up: short and not let go.</summary>
    public static int ShortLines(OrderView order) => order.Demand.Count(d => d.Short > 0 && d.ReleasedBy is null);

    static OrderSentence Draft(OrderSheetView sheet)
    {
        if (sheet.Order.DemandRefused is { } refused)
            return new("Draft:", "what it needs cannot be worked out.", refused);
        var failed = sheet.Order.Suitability.Count(c => c.Result == CheckResult.Failed);
        var unknown = sheet.Order.Suitability.Count(c => c.Result == CheckResult.Unknown && c.Answer is null);
        if (failed > 0)
            return new("Draft:", $"{Figures.Of(failed, "check has", "checks have")} failed.", "Correct the record or choose another kit.");
        if (unknown > 0)
            return new("Draft:", $"{Figures.Of(unknown, "check is", "checks are")} unknown.", "Somebody has to answer before it can be opened.");
        var lines = ShortLines(sheet.Order);
        return new("Draft:", lines == 0 ? "nothing would be short." : $"{Figures.Of(lines, "line")} would be short.", "Nothing is held yet.");
    }

    static OrderSentence Open(OrderSheetView sheet)
    {
        var lines = ShortLines(sheet.Order);
        if (lines > 0)
            return new("Open:", $"{Figures.Of(lines, "line")} short.", Day(sheet.Day));
        var left = sheet.Order.Demand.Sum(d => d.Reserved);
        return left > 0
            ? new("Open:", "every part is held.", "It waits to be picked.")
            : new("Open:", "everything is picked.", "It waits to be staged.");
    }

    /// <summary>"Complete on Fri 12 March if both are bought today."</summary>
    public static string Day(OrderDay? day)
    {
        if (day is null)
            return "";
        var toBuy = day.Waiting.Where(w => w.Uncovered > 0).Select(w => w.Part).Distinct().Count();
        return (day.ReadyOn, day.ReadyIfBoughtToday) switch
        {
            ({ } on, _) when day.Waiting.Count == 0 => $"All of it can be in hand today, {Days.Text(on)}.",
            ({ } on, _) => $"Complete on {Days.Text(on)}, as promised{(day.Waiting.Any(w => w.Late) ? "; one promise has passed already" : "")}.",
            (null, { } bought) => $"Complete on {Days.Text(bought)} if {PlannerWords.AllOf(toBuy)} bought today.",
            _ => $"No day: the lead time of {string.Join(" and ", day.Waiting.Where(w => w.Uncovered > 0 && w.On is null).Select(w => w.Part).Distinct())} is not recorded.",
        };
    }

    static OrderSentence Underway(OrderView order)
    {
        var done = order.Steps.Count(s => s.Recorded);
        var place = $"{done} of {Figures.Of(order.Steps.Count, "step")} recorded.";
        return order.Paused is { } why ? new("Underway, paused:", why.TrimEnd('.') + ".", place) : new("Underway:", null, place);
    }

    static OrderSentence Finished(OrderView order)
    {
        var open = order.Demand.SelectMany(d => d.Reservations).Count(r => r.Picked > r.Fitted + r.Returned + r.Scrapped);
        var deviating = order.Steps.Count(s => s.Deviates);
        return deviating > 0
            ? new("Finished:", $"{Figures.Of(deviating, "result is", "results are")} not as specified.", "A planner accepts each, or they are corrected, before it closes.")
            : new("Finished:", null, open == 0 ? "It waits to be closed." : $"{Figures.Of(open, "part")} to account for when it is closed.");
    }

    static string Without(OrderView order)
    {
        var let = order.Demand.Where(d => d.ReleasedBy is not null).Select(d => d.Part).Distinct().ToList();
        return let.Count == 0 ? "" : $"Let go without {string.Join(", ", let)}.";
    }

    static string After(PumpAfterCancel? pump) => pump switch
    {
        PumpAfterCancel.Unchanged => " The pump is unchanged.",
        PumpAfterCancel.PartlyConverted => " The pump is partly converted and out of service.",
        PumpAfterCancel.Converted => " The pump is converted.",
        _ => "",
    };
}
