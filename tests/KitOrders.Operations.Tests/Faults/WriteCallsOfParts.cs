using KitOrders.Operations.Parts;
using KitOrders.Operations.Stock;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Faults;

static partial class WriteCalls
{
    public static IReadOnlyDictionary<string, WriteCall> Parts { get; } = new Dictionary<string, WriteCall>
    {
        ["ApproveAlternate.Run"] = new((desk, n, key) => Said.Of(new ApproveAlternate(desk).Run(new(n.Planner, key), "E", new AlternateApproval("E3", 2, true), Ct))),
        ["DropAlternate.Run"] = new((desk, n, key) => Said.Of(new DropAlternate(desk).Run(new(n.Planner, key), "E", "E2", Ct))),
        ["SupersedePart.Run"] = new((desk, n, key) => Said.Of(new SupersedePart(desk).Run(new(n.Planner, key), "E", "E3", Ct))),
        ["RecordIncoming.Run"] = new((desk, n, key) => Said.Of(new RecordIncoming(desk).Run(new(n.Planner, key), new IncomingAsk("E", 5, "PO-9", Today.AddDays(6)), Ct))),
    };
}
