using KitOrders.Operations.Procedures;
using KitOrders.Operations.Pumps;
using KitOrders.Operations.Tests.Procedures;
using KitOrders.Rules.Pumps;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Faults;

static partial class WriteCalls
{
    public static IReadOnlyDictionary<string, WriteCall> Procedures { get; } = new Dictionary<string, WriteCall>
    {
        ["AddDocument.Run"] = new((desk, n, key) => Said.Of(new AddDocument(desk).Run(new(n.Planner, key), new NewDocument("M30", null, DocumentKind.Drawing, "Section", "B", "section.png"), picture, Ct))),
        ["RemoveDocument.Run"] = new((desk, n, key) => Said.Of(new RemoveDocument(desk).Run(new(n.Planner, key), n.Document, Ct))),
        ["StartProcedure.Run"] = new((desk, n, key) => Said.Of(new StartProcedure(desk).Run(new(n.Planner, key), "P-77", Ct))),
        ["DraftProcedure.Run"] = new((desk, n, key) => Said.Of(new DraftProcedure(desk).Run(new(n.Planner, key), PlantNames.Undrafted, Ct))),
        ["KeepProcedure.Run"] = new((desk, n, key) => Said.Of(new KeepProcedure(desk).Run(new(n.Planner, key, 2), "PR", 3, Written.WithWarning, Ct))),
        ["ReleaseProcedure.Run"] = new((desk, n, key) => Said.Of(new ReleaseProcedure(desk).Run(new(n.Planner, key, 2), "PR", 3, null, Ct))),
        ["ThrowDraftAway.Run"] = new((desk, n, key) => Said.Of(new ThrowDraftAway(desk).Run(new(n.Planner, key, 2), "PR", 3, Ct))),
        ["AddPicture.Run"] = new((desk, n, key) => Said.Of(new AddPicture(desk).Run(new(n.Planner, key), picture, Ct))),
    };
}
