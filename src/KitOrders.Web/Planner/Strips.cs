using KitOrders.Operations.Orders;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>An order's steps as the strip draws them.</summary>
public static class Strips
{
    public static IReadOnlyList<StripPart> Of(OrderView order)
    {
        var now = order.State == OrderState.Underway ? order.Steps.FirstOrDefault(s => !s.Recorded)?.Step : null;
        return [.. Enum.GetValues<PartOf>().Select(part => new StripPart(Heading(part),
            [.. order.Steps.Where(s => s.PartOf == part).Select(s => new StripStep(s.Step,
                s.Recorded ? StripStatus.Done : s.Step == now ? StripStatus.Now : StripStatus.Ahead)
            {
                HoldAfter = s.HoldPoint, HoldReleased = s.ReleasedAt is not null,
            })])).Where(p => p.Steps.Count > 0)];
    }

    static string Heading(PartOf part) => part switch
    {
        PartOf.Preliminary => "Preliminary",
        PartOf.Main => "Main",
        PartOf.CloseUp => "Close-up",
        _ => throw new ArgumentOutOfRangeException(nameof(part), part, null),
    };
}
