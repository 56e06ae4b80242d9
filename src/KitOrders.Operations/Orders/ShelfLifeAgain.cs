using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>
/// Judges the shelf life of an order's lots again, where other lots are held for it than those it was judged with. The other
/// checks stay as they came out; all of them run again at start.
/// </summary>
internal static class ShelfLifeAgain
{
    public static async Task Judge(Work work, WorkOrder order)
    {
        await work.Send();
        if (await work.Db.OrderJudgements.AsNoTracking().SingleOrDefaultAsync(j => j.OrderId == order.Id, work.Ct) is not { } kept)
            return;
        var on = order.State == OrderState.Underway ? work.Today : order.FitOn;
        var judged = (await OrderJudging.Judge(work.Reading, order, on)).Where(j => j.Check == Check.ShelfLife).Select(ChecksKept.KeptOf).ToDictionary(j => j.Kit);
        ChecksKept.Write(work.Last, order.Id, [.. ChecksKept.Read(kept).Select(k => k.Check == Check.ShelfLife && judged.TryGetValue(k.Kit, out var again) ? again : k)]);
    }
}
