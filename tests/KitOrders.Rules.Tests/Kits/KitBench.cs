using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Tests.Kits;

/// <summary>Builds the facts of an explosion from part numbers, so that the cases read like a bill of materials.</summary>
sealed class KitBench
{
    readonly Dictionary<string, PartFact> parts = [];
    readonly Dictionary<PartId, KitStructure> structures = [];
    readonly Dictionary<PartId, decimal> free = [];

    public decimal Risk { get; set; } = 0.05m;

    public PartId this[string number] => Fact(number).Part;

    public IReadOnlyDictionary<PartId, KitStructure> Structures => structures;

    public string NumberOf(PartId part) => parts.Values.Single(p => p.Part == part).Number;

    public KitBench Part(string number, Func<PartFact, PartFact> with)
    {
        parts[number] = with(Fact(number));
        return this;
    }

    public KitBench Kit(string number, bool buildable, params KitLineFact[] lines)
    {
        structures[this[number]] = new KitStructure(this[number], buildable, [.. lines.Select((l, i) => l with { Line = i + 1 })]);
        return this;
    }

    public KitLineFact Box(string part, decimal quantity) => new(0, this[part], quantity, LineSource.InTheBox);

    public KitLineFact Bought(string part, decimal quantity) => new(0, this[part], quantity, LineSource.BoughtSeparately);

    public KitLineFact Supply(string part, decimal quantity) => new(0, this[part], quantity, LineSource.ShopSupply);

    public KitLineFact Tape(string part, decimal wraps, params int[] lines) =>
        Supply(part, 1) with { Wraps = wraps, WrapsFor = lines };

    public KitLineFact Kept(string part, decimal quantity, SparePolicy policy, decimal? rate = null) =>
        new(0, this[part], quantity, LineSource.CarriedOver) { SparePolicy = policy, RejectRate = rate };

    public KitBench Free(string part, decimal quantity)
    {
        free[this[part]] = quantity;
        return this;
    }

    public ExplosionFacts Facts(params (string Kit, decimal Quantity)[] kits) => new(
        [.. kits.Select(k => new KitAsked(this[k.Kit], k.Quantity))],
        structures,
        parts.Values.ToDictionary(p => p.Part),
        free,
        Risk);

    public ExplosionPlan Explode(params (string Kit, decimal Quantity)[] kits) => Explosion.Explode(Facts(kits)).Value;

    /// <summary>What the plan covers from stock is reserved and no longer free for the next order.</summary>
    public void Reserve(ExplosionPlan plan)
    {
        foreach (var line in plan.Lines)
        {
            free[line.Part] = free.GetValueOrDefault(line.Part) - line.Covered;
        }
    }

    /// <summary>"K box 1=1+0 short 0": part, source, gross = required + built, short.</summary>
    public string[] Read(ExplosionPlan plan) =>
        [.. plan.Lines.Select(l => $"{NumberOf(l.Part)} {Word.Of(l.Source)} {l.Gross:0.####}={l.Required:0.####}+{l.Built:0.####} short {l.Short:0.####}")];

    PartFact Fact(string number)
    {
        if (!parts.TryGetValue(number, out var fact))
        {
            parts[number] = fact = new PartFact(new PartId(parts.Count + 1), number, Unit.Each);
        }

        return fact;
    }
}
