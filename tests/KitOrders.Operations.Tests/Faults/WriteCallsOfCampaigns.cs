using KitOrders.Operations.Orders;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Faults;

static partial class WriteCalls
{
    public static IReadOnlyDictionary<string, WriteCall> Campaigns { get; } = new Dictionary<string, WriteCall>
    {
        ["CreateCampaign.Run"] = new((desk, n, key) => Said.Of(new CreateCampaign(desk).Run(new(n.Planner, key), new NewCampaign("Spring", "LOOK", Today.AddDays(30), 2, ["P-24", "P-25"]), Ct))),
        ["AddToCampaign.Run"] = new((desk, n, key) => Said.Of(new AddToCampaign(desk).Run(new(n.Planner, key), n.Campaign, ["P-25"], 1, Today.AddDays(9), Ct))),
        // The opening of each order is a write of its own; this is what is kept of all of them.
        ["OpenCampaign.Keep"] = new((desk, n, key) => Said.Of(new OpenCampaign(desk, new(desk)).Keep(new(n.Planner, key), n.Campaign, [new OpenedInCampaign(n.Draft, "P-1", true, null, null)], Ct))),
        ["PickSpares.Run"] = new((desk, n, key) => Said.Of(new PickSpares(desk).Run(new(n.Clerk, key), n.Campaign, [new PickInput(n.Spare, 1)], Ct))),
        ["ReleaseSpare.Run"] = new((desk, n, key) => Said.Of(new ReleaseSpare(desk).Run(new(n.Planner, key), n.Campaign, "QC", "the shop has one", Ct))),
    };
}
