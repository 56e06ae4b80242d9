using KitOrders.Operations.Orders;
using KitOrders.Rules.Orders;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>What the page does when a way out is taken; null where the person may not, or it cannot be done in this state.</summary>
/// <param name="DatesAt">Where the dates stand, for a page that shows them all the time.</param>
/// <param name="Ask">What asks for more before it is done: to use an alternate, to take it back, to record what was bought.</param>
public sealed record WaysActs(Func<HolderOf, DemandView, Task>? TakeOver, Func<Task>? ChangeDate, string? DatesAt = null, Func<WayAsked, Task>? Ask = null);

/// <summary>The ways out of one short line, each with its day and its price.</summary>
public static class Ways
{
    public static IReadOnlyList<Remedy> Of(OrderSheetView sheet, DemandView line, WaysActs acts)
    {
        var ways = new List<Remedy>();
        var toBuy = line.Short - line.Incoming;
        var part = Uri.EscapeDataString(line.Part);
        if (toBuy > 0)
            ways.Add(new($"Buy {Figures.Quantity(toBuy)}", Buy(sheet.Today, line))
            {
                Act = acts.Ask is { } buy ? () => buy(new WayAsked.Buy(line, toBuy)) : null,
                Href = $"/storeroom/parts/{part}",
            });
        else
            ways.Add(new("Wait for it", line.PromisedOn is { } on
                ? on < sheet.Today ? $"{line.PromiseReference}: the promise of {Days.Text(on)} has passed. Ask for a new one." : $"{line.PromiseReference}, promised {Days.Text(on)}."
                : $"{line.PromiseReference}: no day is promised. Ask for one.") { Href = $"/storeroom/parts/{part}" });
        var found = sheet.Ways.FirstOrDefault(w => w.Part == line.Part);
        if (found?.Holders is [var holder, ..])
        {
            var all = holder.Held >= line.Short;
            ways.Add(new($"Take over from {holder.Number}",
                $"Score {holder.Score} against {sheet.Order.Score}. It holds {Figures.Quantity(holder.Held)}{(all ? "" : $"; {Figures.Quantity(line.Short - holder.Held)} would still be short")}. {holder.Number} goes short instead.")
            {
                Act = sheet.Order.State != OrderState.Draft && acts.TakeOver is { } take ? () => take(holder, line) : null,
                Href = $"/orders/{Uri.EscapeDataString(holder.Number)}",
            });
        }

        foreach (var alternate in found?.Alternates ?? [])
            ways.Add(new(alternate.Supersedes ? $"Use {alternate.Part}" : "Use an alternate", Alternate(line, alternate))
            {
                Act = sheet.Order.State != OrderState.Draft && acts.Ask is { } ask ? () => ask(new WayAsked.Use(line, alternate)) : null,
                Href = $"/storeroom/parts/{Uri.EscapeDataString(alternate.Part)}",
            });
        if (acts.ChangeDate is not null || acts.DatesAt is not null)
            ways.Add(new("Change the date", sheet.Day is { ReadyOn: null, ReadyIfBoughtToday: { } bought } && bought > sheet.Order.FitOn
            ? $"Bought today, all of it is in hand on {Days.Text(bought)}, after the fit date."
            : $"The fit date is {Days.Text(sheet.Order.FitOn)}; lots are judged again for a new one.") { Act = acts.ChangeDate, Href = acts.DatesAt });
        return ways;
    }

    static string Alternate(DemandView line, AlternateOf alternate)
    {
        var which = alternate.Supersedes ? $"{line.Part} is superseded by it: {alternate.Description}." : $"{alternate.Part}, {alternate.Description}.";
        return alternate.Free <= 0 ? $"{which} None is free."
            : $"{which} {Figures.Quantity(alternate.Free)} free in {alternate.Bin}{(alternate.Free < line.Short ? $"; {Figures.Quantity(line.Short - alternate.Free)} would still be short" : "")}.";
    }

    static string Buy(DateOnly today, DemandView line)
    {
        var price = line.UnitCost is { } each ? $" {Figures.Money(each)} each." : "";
        return line.LeadTimeDays is { } days
            ? $"{Figures.Of(days, "day")}: ready {Days.Text(today.AddDays(days))}.{price}"
            : $"Its lead time is not recorded.{price}";
    }
}
