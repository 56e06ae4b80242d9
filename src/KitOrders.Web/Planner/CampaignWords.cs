using KitOrders.Operations.Kits;
using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>What a campaign's page says.</summary>
public static class CampaignWords
{
    /// <summary>The mark that a state of a campaign shares with the orders' own.</summary>
    public static OrderState Mark(CampaignState state) => state switch
    {
        CampaignState.Draft => OrderState.Draft,
        CampaignState.Open => OrderState.Open,
        CampaignState.Underway => OrderState.Underway,
        _ => OrderState.Closed,
    };

    public static string Of(CampaignState state) => state switch
    {
        CampaignState.Draft => "Draft",
        CampaignState.Open => "Open",
        CampaignState.Underway => "Underway",
        _ => "Ended",
    };

    /// <summary>"14 pumps, fit dates 10 May to 14 May".</summary>
    public static string Beside(CampaignView campaign)
    {
        var going = Going(campaign);
        return $"{campaign.JobDescription}, {Figures.Of(going.Count, "pump")}{(going.Count == 0 ? "" : ", " + FitDates(going.Min(o => o.FitOn), going.Max(o => o.FitOn)))}";
    }

    public static string FitDates(DateOnly first, DateOnly last) =>
        first == last ? $"fit date {Days.Text(first, DayForm.Short)}" : $"fit dates {Days.Text(first, DayForm.Short)} to {Days.Text(last, DayForm.Short)}";

    /// <summary>Its orders without those that were cancelled.</summary>
    public static IReadOnlyList<CampaignOrder> Going(CampaignView campaign) => [.. campaign.Orders.Where(o => o.State != OrderState.Cancelled)];

    public static IReadOnlyList<CampaignOrder> Drafts(CampaignView campaign) => [.. campaign.Orders.Where(o => o.State == OrderState.Draft)];

    /// <summary>How one check of all kits of an order came out: the worst, and for an unknown whether somebody has said yes.</summary>
    public static (CheckResult Result, bool Answered)? Result(IEnumerable<CheckView> checks, Check check)
    {
        var of = checks.Where(c => c.Check == check).ToList();
        return of.Count == 0 ? null
            : of.Exists(c => c.Result == CheckResult.Failed) ? (CheckResult.Failed, false)
            : of.Exists(c => c.Result == CheckResult.Unknown && !OrderActs.AnsweredYes(c)) ? (CheckResult.Unknown, false)
            : of.Exists(c => c.Result == CheckResult.Unknown) ? (CheckResult.Unknown, true)
            : (CheckResult.Passed, false);
    }

    /// <summary>Why a pump does not suit, or that it does, and who said so.</summary>
    public static string Why(CampaignOrder order)
    {
        var stands = order.DemandRefused is { } cannot ? [cannot]
            : (order.Failed ? order.Checks.Where(c => c.Result == CheckResult.Failed) : order.Unanswered).Select(c => c.Reason).Distinct().ToList();
        if (stands.Count > 0)
            return string.Join(" ", stands.Take(2)) + (stands.Count > 2 ? $" And {stands.Count - 2} more." : "");
        var answered = order.Checks.Where(OrderActs.AnsweredYes).ToList();
        return answered.Count == 0 ? "suits" : $"suits; {string.Join("; ", answered.Select(c => $"{PlannerWords.Of(c.Check)}: {c.Note}, {c.AnsweredBy}"))}";
    }

    /// <summary>"Fri 12 March", "ready", "no day: 1 × 30-11 short", "does not open", "after the answer".</summary>
    public static string Ready(CampaignOrder order) => order switch
    {
        { State: OrderState.Draft, WouldOpen: true } => "when opened",
        { State: OrderState.Draft, Failed: true } or { State: OrderState.Draft, DemandRefused: not null } => "does not open",
        { State: OrderState.Draft } => "after the answer",
        { State: OrderState.Open or OrderState.Staged, ReadyOn: { } day, LinesShort: 0 } when order.Short.Count == 0 => $"ready, {Days.Text(day, DayForm.Short)}",
        { State: OrderState.Open or OrderState.Staged, ReadyOn: { } day } => Days.Text(day),
        { State: OrderState.Open or OrderState.Staged, Short.Count: > 0 } => $"no day: {string.Join(", ", order.Short.Take(2))} short",
        { State: OrderState.Open or OrderState.Staged } => "no day: waits for spares",
        { Paused: { } why } => $"paused: {why}",
        { State: OrderState.Underway } => $"step {order.StepsDone} of {order.Steps}",
        _ => Figures.None,
    };

    /// <summary>What the pooling saves, as a sentence: "hold 7 where 20 single orders would hold 20".</summary>
    public static string Saves(CampaignView campaign)
    {
        var (together, alone) = (campaign.Spares.Sum(s => s.Pooled), campaign.Spares.Sum(s => s.Alone));
        var orders = campaign.Orders.Count(o => o.State is not (OrderState.Draft or OrderState.Cancelled) || o.WouldOpen);
        return $"hold {Figures.Quantity(together)} where {Figures.Of(orders, "single order")} would hold {Figures.Quantity(alone)}";
    }

    /// <summary>What stays on the shelf for others, in money; null where a price is not known.</summary>
    public static decimal? Saved(CampaignView campaign) =>
        campaign.Spares.Where(s => s.Alone > s.Pooled).Aggregate((decimal?)0, (sum, s) => sum + ((s.Alone - s.Pooled) * s.UnitCost));

    /// <summary>Orders to pick by the day they are needed.</summary>
    public static IReadOnlyList<(DateOnly Day, IReadOnlyList<CampaignOrder> Orders)> PickDays(CampaignView campaign) =>
        [.. campaign.Orders.Where(o => o.State == OrderState.Open && o.Lines > 0).GroupBy(o => o.FitOn).OrderBy(g => g.Key).Select(g => (g.Key, (IReadOnlyList<CampaignOrder>)[.. g]))];

    /// <summary>The orders of one run, and the campaign for its spares: "10001,10002,C-101". A run has at most 26 totes.</summary>
    public static string Run(CampaignView campaign, IEnumerable<CampaignOrder> orders) =>
        string.Join(',', orders.Select(o => o.Number).Take(25).Append(campaign.Number).Select(Uri.EscapeDataString));

    /// <summary>The page of an order or, by what its number begins with, of a campaign.</summary>
    public static string PageOf(string number) =>
        number.StartsWith(Campaign.NumberBegins, StringComparison.OrdinalIgnoreCase) ? $"/campaigns/{Uri.EscapeDataString(number)}" : $"/orders/{Uri.EscapeDataString(number)}";
}
