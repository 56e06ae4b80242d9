using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class KitTreeTests
{
    [Fact]
    public void A_low_level_code_is_the_deepest_level_at_which_a_part_appears()
    {
        var bench = new KitBench();
        bench.Kit("A", true, bench.Box("D", 1), bench.Box("B", 1)).Kit("B", true, bench.Bought("C", 1)).Kit("C", true, bench.Kept("D", 1, SparePolicy.None));

        var codes = KitTree.LowLevelCodes([bench["D"], bench["A"]], bench.Structures, bench.NumberOf).Value;

        Assert.Equal([("A", 0), ("B", 1), ("C", 2), ("D", 3)], codes.Select(c => (bench.NumberOf(c.Key), c.Value)).Order());
    }

    [Fact]
    public void A_cycle_is_refused_naming_the_path_whatever_the_source_of_its_lines()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Box("P", 1), bench.Box("V", 1)).Kit("V", true, bench.Box("S", 1), bench.Bought("W", 1)).Kit("W", true, bench.Kept("V", 1, SparePolicy.None));

        var refusal = KitTree.CycleThrough(bench["K"], bench.Structures, bench.NumberOf);

        Assert.Equal("kit-cycle", refusal?.Code);
        Assert.Equal("V would contain itself: V → W → V. Take one of these lines out.", refusal?.Sentence);
        Assert.Equal("kit-cycle", Explosion.Explode(bench.Facts(("K", 1))).Refusal?.Code);
    }

    [Fact]
    public void A_kit_in_itself_is_the_shortest_cycle()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Box("K", 1));

        Assert.Equal("K would contain itself: K → K. Take one of these lines out.", KitTree.CycleThrough(bench["K"], bench.Structures, bench.NumberOf)?.Sentence);
    }

    [Fact]
    public void A_part_that_appears_twice_is_no_cycle()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Box("V", 1), bench.Box("S", 1)).Kit("V", true, bench.Box("S", 1));

        Assert.Null(KitTree.CycleThrough(bench["K"], bench.Structures, bench.NumberOf));
    }

    [Fact]
    public void A_chain_of_fifty_thousand_assemblies_does_not_exhaust_the_stack()
    {
        var structures = Enumerable.Range(1, 50_000).ToDictionary(
            i => new PartId(i), i => new KitStructure(new PartId(i), true, [new KitLineFact(1, new PartId(i + 1), 1, LineSource.InTheBox)]));

        var codes = KitTree.LowLevelCodes([new PartId(1)], structures, p => $"P{p.Value}").Value;

        Assert.Equal(50_000, codes[new PartId(50_001)]);
    }
}
