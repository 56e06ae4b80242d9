using CsCheck;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class ExplosionProperties
{
    const int Parts = 12;

    // Lines only point to higher numbers, so the structures have no cycle.
    static readonly Gen<KitLineFact> Line =
        from part in Gen.Int[1, Parts]
        from quantity in Gen.Int[1, 4]
        from source in Gen.Enum<LineSource>()
        from policy in Gen.Enum<SparePolicy>()
        from rate in Gen.Int[0, 100]
        select new KitLineFact(0, new PartId(part), quantity, source) { SparePolicy = policy, RejectRate = rate / 100m };

    static readonly Gen<ExplosionFacts> Any =
        from lines in Line.List[0, 4].Array[Parts]
        from buildable in Gen.Bool.Array[Parts]
        from free in Gen.Int[0, 30].Array[Parts]
        from asked in Gen.Int[1, 5].Array[1, 3]
        select Make(lines, buildable, free, asked);

    static ExplosionFacts Make(List<KitLineFact>[] lines, bool[] buildable, int[] free, int[] asked) => new(
        [.. asked.Select((q, i) => new KitAsked(new PartId(i + 1), q))],
        Enumerable.Range(1, Parts)
            .Select(i => new KitStructure(
                new PartId(i), buildable[i - 1], [.. lines[i - 1].Where(l => l.Part.Value > i).Select((l, n) => l with { Line = n + 1 })]))
            .Where(k => k.Lines.Count > 0)
            .ToDictionary(k => k.Kit),
        Enumerable.Range(1, Parts).ToDictionary(i => new PartId(i), i => new PartFact(new PartId(i), $"P{i}", Unit.Each)),
        Enumerable.Range(1, Parts).ToDictionary(i => new PartId(i), i => (decimal)free[i - 1]),
        0.05m);

    [Fact]
    public void Every_line_adds_up_and_no_more_is_taken_than_is_free() => Any.Sample(facts =>
    {
        var plan = Explosion.Explode(facts).Value;
        Assert.All(plan.Lines, l =>
        {
            Assert.True(l is { Gross: > 0, Built: >= 0, Covered: >= 0, Short: >= 0 });
            Assert.Equal(l.Gross, l.Required + l.Built);
            Assert.Equal(l.Required, l.Covered + l.Short);
        });
        Assert.All(plan.Lines.GroupBy(l => l.Part), g =>
        {
            var covered = g.Sum(l => l.Covered);
            Assert.True(covered <= facts.Free[g.Key]);
            Assert.True(covered == facts.Free[g.Key] || g.Sum(l => l.Short + l.Built) == 0, "short or built while stock is free");
            Assert.Equal(g.Count(), g.Select(l => l.Source).Distinct().Count());
        });
    });

    [Fact]
    public void What_is_in_the_box_is_demanded_exactly_for_what_is_built() => Any.Sample(facts =>
    {
        var plan = Explosion.Explode(facts).Value;
        var built = plan.Lines.GroupBy(l => l.Part).ToDictionary(g => g.Key, g => g.Sum(l => l.Built));
        var asked = facts.Kits.GroupBy(k => k.Kit).ToDictionary(g => g.Key, g => g.Sum(k => k.Quantity));
        var expected = facts.Structures.Values
            .SelectMany(k => k.Lines.Where(l => l.Source == LineSource.InTheBox).Select(l => (l.Part, Quantity: l.Quantity * built.GetValueOrDefault(k.Kit))))
            .Concat(asked.Select(a => (Part: a.Key, Quantity: a.Value)))
            .GroupBy(x => x.Part)
            .ToDictionary(g => g.Key, g => g.Sum(x => x.Quantity));

        foreach (var (part, quantity) in expected)
        {
            Assert.Equal(quantity, plan.Lines.Where(l => l.Part == part && l.Source == LineSource.InTheBox).Sum(l => l.Gross));
        }
    });

    [Fact]
    public void Boxes_in_stock_never_demand_more_than_building_everything() => Any.Sample(facts =>
    {
        var allBuilt = facts with
        {
            Structures = facts.Structures.ToDictionary(k => k.Key, k => k.Value with { Buildable = true }),
            Free = new Dictionary<PartId, decimal>(),
        };
        var most = Explosion.Explode(allBuilt).Value.Lines.ToDictionary(l => (l.Part, l.Source), l => l.Gross);
        Assert.All(Explosion.Explode(facts).Value.Lines, l => Assert.True(l.Gross <= most[(l.Part, l.Source)]));
    });

    [Fact]
    public void Lines_outside_the_box_are_the_same_however_the_kits_come() => Any.Sample(facts =>
    {
        var none = facts with { Free = new Dictionary<PartId, decimal>() };
        static Dictionary<(PartId, LineSource), decimal> Outside(ExplosionFacts f) => Explosion.Explode(f).Value.Lines
            .Where(l => l.Source != LineSource.InTheBox).ToDictionary(l => (l.Part, l.Source), l => l.Gross);
        Assert.Equal(Outside(none), Outside(facts));
    });
}
