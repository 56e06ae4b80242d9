using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;

namespace KitOrders.Web.Planner;

/// <summary>What can be done to an order from its page.</summary>
public enum OrderAct
{
    Open,
    ChangeDates,
    Stage,
    Unstage,
    RecordPermit,
    Pause,
    Resume,
    Reopen,
    Close,
    Cancel,
}

/// <summary>Which acts the state allows and the person's roles may do. The operation has the last word; this keeps dead buttons away.</summary>
public static class OrderActs
{
    public static IReadOnlyList<OrderAct> For(OrderView order, Roles roles) =>
        [.. Enum.GetValues<OrderAct>().Where(act => (roles & RolesFor(act)) != Roles.None && Allows(order, act))];

    /// <summary>The one petrol action; null when the next step is somebody else's.</summary>
    public static OrderAct? First(OrderView order, Roles roles)
    {
        var acts = For(order, roles);
        OrderAct? first = order.State switch
        {
            OrderState.Draft when MayOpen(order) => OrderAct.Open,
            OrderState.Open when AllPicked(order) => OrderAct.Stage,
            OrderState.Underway when order.Paused is not null => OrderAct.Resume,
            OrderState.Finished => OrderAct.Close,
            _ => null,
        };
        return first is { } act && acts.Contains(act) ? act : null;
    }

    /// <summary>Nothing failed, nothing unanswered, and it is known what is needed.</summary>
    public static bool MayOpen(OrderView order) => order.DemandRefused is null && order.Suitability.All(c =>
        c.Result == CheckResult.Passed || (c.Result == CheckResult.Unknown && (AnsweredYes(c) || (order.Breakdown && c.Answerable))));

    public static bool AnsweredYes(CheckView check) =>
        check.Answer is { } answer && !string.Equals(answer, AnswerCheck.SaysNo, StringComparison.OrdinalIgnoreCase);

    public static bool AllPicked(OrderView order) => order.Demand.All(d => d.Reserved == 0);

    static Roles RolesFor(OrderAct act) => act switch
    {
        OrderAct.Open or OrderAct.ChangeDates or OrderAct.Cancel => Roles.Planner,
        OrderAct.Stage or OrderAct.Unstage => Roles.Planner | Roles.Storeroom,
        OrderAct.RecordPermit or OrderAct.Pause or OrderAct.Resume or OrderAct.Reopen => Roles.Planner | Roles.Technician,
        OrderAct.Close => Roles.Planner | Roles.Manager,
        _ => Roles.None,
    };

    static bool Allows(OrderView order, OrderAct act) => act switch
    {
        OrderAct.Open => order.State == OrderState.Draft,
        OrderAct.ChangeDates => order.State is OrderState.Draft or OrderState.Open or OrderState.Staged,
        OrderAct.Stage => order.State == OrderState.Open && AllPicked(order),
        OrderAct.Unstage => order.State == OrderState.Staged,
        OrderAct.RecordPermit => order.State is OrderState.Open or OrderState.Staged or OrderState.Underway,
        OrderAct.Pause => order.State == OrderState.Underway && order.Paused is null,
        OrderAct.Resume => order.State == OrderState.Underway && order.Paused is not null,
        OrderAct.Reopen or OrderAct.Close => order.State == OrderState.Finished,
        OrderAct.Cancel => order.State is OrderState.Draft or OrderState.Open or OrderState.Staged or OrderState.Underway,
        _ => false,
    };

    public static string Word(OrderAct act, string number) => act switch
    {
        OrderAct.Open => $"Open {number}",
        OrderAct.ChangeDates => "Change date",
        OrderAct.Stage => "Stage the kit",
        OrderAct.Unstage => "Take back to open",
        OrderAct.RecordPermit => "Record a permit",
        OrderAct.Pause => "Pause",
        OrderAct.Resume => "Work goes on",
        OrderAct.Reopen => "Take up again",
        OrderAct.Close => $"Close {number}",
        OrderAct.Cancel => "Cancel order",
        _ => throw new ArgumentOutOfRangeException(nameof(act), act, null),
    };
}
