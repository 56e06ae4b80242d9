using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class KitElastomersTests
{
    [Fact]
    public void A_kit_ages_with_its_own_elastomers_and_those_in_its_box_at_every_level()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Box("V", 1), bench.Bought("E", 1)).Kit("V", true, bench.Box("S", 1), bench.Kept("Q", 1, SparePolicy.All));
        var own = new Dictionary<PartId, IReadOnlyList<Elastomer>>
        {
            [bench["K"]] = Elastomer.Read("PTFE").Value,
            [bench["V"]] = Elastomer.Read("FKM").Value,
            [bench["S"]] = Elastomer.Read("NBR+FKM").Value,
            [bench["E"]] = Elastomer.Read("NR").Value,
            [bench["Q"]] = Elastomer.Read("NR").Value,
        };

        Assert.Equal("FKM+NBR+PTFE", Elastomer.Write(KitElastomers.Of(bench["K"], bench.Structures, own)));
        Assert.Equal("NBR+FKM", Elastomer.Write(own[bench["S"]]));
        Assert.Empty(KitElastomers.Of(bench["K"], bench.Structures, new Dictionary<PartId, IReadOnlyList<Elastomer>>()));
    }
}
