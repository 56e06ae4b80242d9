using KitOrders.Operations.Procedures;
using KitOrders.Operations.Pumps;
using KitOrders.Rules.Pumps;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Faults;

static partial class WriteCalls
{
    public static IReadOnlyDictionary<string, WriteCall> Procedures { get; } = new Dictionary<string, WriteCall>
    {
        ["AddDocument.Run"] = new((desk, n, key) => Said.Of(new AddDocument(desk).Run(new(n.Planner, key), new NewDocument("M30", null, DocumentKind.Drawing, "Section", "B", "section.png"), picture, Ct))),
        ["RemoveDocument.Run"] = new((desk, n, key) => Said.Of(new RemoveDocument(desk).Run(new(n.Planner, key), n.Document, Ct))),
        ["AddPicture.Run"] = new((desk, n, key) => Said.Of(new AddPicture(desk).Run(new(n.Planner, key), picture, Ct))),
    };
}
