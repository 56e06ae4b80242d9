using KitOrders.Operations.Kits;
using KitOrders.Rules.Kits;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Faults;

static partial class WriteCalls
{
    public static IReadOnlyDictionary<string, WriteCall> Kits { get; } = new Dictionary<string, WriteCall>
    {
        ["StartDraft.Run"] = new((desk, n, key) => Said.Of(new StartDraft(desk).Run(new(n.Planner, key), "K-NEW", null, "A kit nobody knew", Ct))),
        ["KeepDraft.Run"] = new((desk, n, key) => Said.Of(new KeepDraft(desk).Run(new(n.Planner, key), "V", 2,
            new DraftContent(true, [new DraftLine(1, "B", 1, LineSource.InTheBox), new DraftLine(2, "P", 2, LineSource.InTheBox)], [new DraftFit("M30")]), Ct))),
        ["DropDraft.Run"] = new((desk, n, key) => Said.Of(new DropDraft(desk).Run(new(n.Planner, key), "V", 2, Ct))),
        ["ReleaseDraft.Run"] = new((desk, n, key) => Said.Of(new ReleaseDraft(desk).Run(new(n.Planner, key), "V", 2, Ct))),
    };
}

public sealed class EveryKitWriteFails(FaultPlant plant) : EveryWriteFails(plant), IClassFixture<FaultPlant>
{
    public static IEnumerable<TheoryDataRow<string>> Calls => Rows(WriteCalls.Kits);

    [Theory, MemberData(nameof(Calls))]
    public Task A_write_of_a_kit_stands_whole_or_not_at_all(string operation) => Stands_whole_or_not_at_all(operation);
}
