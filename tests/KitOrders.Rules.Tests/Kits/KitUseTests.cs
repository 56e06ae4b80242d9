using CsCheck;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class KitUseTests
{
    static string[] Read(KitBench bench, string part) =>
        [.. KitUse.Of(bench[part], bench.Structures, bench.Facts().Parts).Value
            .Select(u => $"{bench.NumberOf(u.Holder)} level {u.Level}{(u.Top ? " top" : "")}: {string.Join(", ", u.Quantities.Select(q => $"{Word.Of(q.Source)} {q.Quantity?.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture) ?? "?"}"))}")];

    [Fact]
    public void A_screw_is_counted_through_every_assembly_up_to_the_kits()
    {
        var bench = new KitBench();
        bench.Kit("COVER", true, bench.Box("GASKET", 1), bench.Box("SCREW", 6));
        bench.Kit("VALVE", true, bench.Box("BODY", 1), bench.Box("COVER", 2));
        bench.Kit("K1", true, bench.Box("VALVE", 1), bench.Box("SCREW", 4));
        bench.Kit("K2", true, bench.Bought("VALVE", 3));
        Assert.Equal(["COVER level 1: inTheBox 6", "K1 level 1 top: inTheBox 16", "VALVE level 2: inTheBox 12", "K2 level 3 top: boughtSeparately 36"], Read(bench, "SCREW"));
        Assert.Equal(["COVER level 1: inTheBox 1", "VALVE level 2: inTheBox 2", "K1 level 3 top: inTheBox 2", "K2 level 3 top: boughtSeparately 6"], Read(bench, "GASKET"));
        Assert.Empty(Read(bench, "K1"));
    }

    [Fact]
    public void What_an_assembly_calls_for_beside_its_box_stays_what_it_is_and_what_is_kept_stays_kept()
    {
        var bench = new KitBench();
        bench.Part("TAPE", p => p with { Unit = Unit.M });
        bench.Kit("V", true, bench.Bought("ELBOW", 2), bench.Kept("SPOOL", 1, SparePolicy.All), bench.Box("SEAL", 1), bench.Tape("TAPE", 3, 1));
        bench.Kit("K", true, bench.Box("V", 2));
        bench.Kit("L", true, bench.Kept("V", 1, SparePolicy.None));
        Assert.Equal(["V level 1: boughtSeparately 2", "K level 2 top: boughtSeparately 4", "L level 2 top: carriedOver 2"], Read(bench, "ELBOW"));
        Assert.Equal(["V level 1: carriedOver 1", "K level 2 top: carriedOver 2", "L level 2 top: carriedOver 1"], Read(bench, "SPOOL"));
        Assert.Equal(["V level 1: inTheBox 1", "K level 2 top: inTheBox 2", "L level 2 top: carriedOver 1"], Read(bench, "SEAL"));
        Assert.Equal(["V level 1: shopSupply ?", "K level 2 top: shopSupply ?", "L level 2 top: carriedOver ?"], Read(bench, "TAPE"));
    }

    [Fact]
    public void A_circle_is_refused_with_its_path()
    {
        var bench = new KitBench();
        bench.Kit("A", true, bench.Box("B", 1)).Kit("B", true, bench.Box("C", 1)).Kit("C", true, bench.Box("A", 1));
        var refusal = KitUse.Of(bench["X"], bench.Structures, bench.Facts().Parts).Refusal!;
        Assert.Equal("kit-cycle", refusal.Code);
        Assert.Contains("A → B → C → A", refusal.Sentence, StringComparison.Ordinal);
    }

    const int Parts = 9;

    static readonly Gen<(KitStructure[] Kits, int Part)> Trees =
        from lines in (from part in Gen.Int[1, Parts] from quantity in Gen.Int[1, 3] select (part, quantity)).List[0, 4].Array[Parts]
        from part in Gen.Int[1, Parts]
        select (lines.Select((l, i) => new KitStructure(new PartId(i + 1), true,
            [.. l.Where(x => x.part > i + 1).Select((x, n) => new KitLineFact(n + 1, new PartId(x.part), x.quantity, LineSource.InTheBox))])).Where(k => k.Lines.Count > 0).ToArray(), part);

    [Fact]
    public void Where_used_says_what_building_one_of_each_kit_demands() => Trees.Sample((kits, part) =>
    {
        var structures = kits.ToDictionary(k => k.Kit);
        var parts = Enumerable.Range(1, Parts).ToDictionary(i => new PartId(i), i => new PartFact(new PartId(i), $"P{i}", Unit.Each));
        var used = KitUse.Of(new PartId(part), structures, parts).Value.ToDictionary(u => u.Holder, u => u.Quantities.Sum(q => q.Quantity));
        foreach (var kit in kits.Where(k => k.Kit != new PartId(part)))
        {
            var plan = Explosion.Explode(new ExplosionFacts([new KitAsked(kit.Kit, 1)], structures, parts, new Dictionary<PartId, decimal>(), 0.05m)).Value;
            Assert.Equal(plan.Lines.Where(l => l.Part == new PartId(part)).Sum(l => l.Gross), used.GetValueOrDefault(kit.Kit) ?? 0);
        }
    });
}
