using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Kits;

/// <summary>Everything that the demand of one order depends on.</summary>
/// <param name="Structures">The current revision of every kit and assembly in the tree.</param>
/// <param name="Parts">Every part in the tree.</param>
/// <param name="Free">On hand − reserved of each part, not quarantined, usable on the planned fit date; absent is none.</param>
/// <param name="SpareRisk">Accepted risk of too few spares, 0 to 1; a plant setting.</param>
public sealed record ExplosionFacts(
    IReadOnlyList<KitAsked> Kits,
    IReadOnlyDictionary<PartId, KitStructure> Structures,
    IReadOnlyDictionary<PartId, PartFact> Parts,
    IReadOnlyDictionary<PartId, decimal> Free,
    decimal SpareRisk)
{
    /// <summary>The order belongs to a campaign, which holds the spares of all its orders.</summary>
    public bool SparesHeldByCampaign { get; init; }
}

/// <summary>The kit line from which demand comes: its quantity times that of its parent, before spares are counted or supply is rounded.</summary>
/// <param name="Line">0: the kit itself, as the order asks for it.</param>
public sealed record Origin(PartId Kit, int Line, decimal Quantity);

/// <summary>The demand of an order for one part from one source. Gross = required + built; required = covered + short.</summary>
/// <param name="Required">What the order takes from the shelf or is short of; a wholly built item has 0.</param>
public sealed record DemandPlan(
    PartId Part,
    LineSource Source,
    decimal Gross,
    decimal Built,
    decimal Required,
    decimal Covered,
    decimal Short,
    IReadOnlyList<Origin> Origins)
{
    public bool Spare => Source == LineSource.CarriedOver;
}

/// <param name="Lines">By low-level code, part and source.</param>
/// <param name="Spares">What is kept from the pump, whether or not spares are demanded for it.</param>
public sealed record ExplosionPlan(IReadOnlyList<DemandPlan> Lines, IReadOnlyList<SpareNeed> Spares);

/// <summary>
/// Explodes the kits of an order and nets them level by level: items are walked in order of their low-level code, so that
/// each is netted once, after all of its demand is known.
/// </summary>
public static class Explosion
{
    /// <summary>The largest quantity that any item of an order may reach, in its unit.</summary>
    public const decimal Largest = 999_999_999_999m;

    // Products of decimals grow digits without end; the store keeps four places.
    const decimal Finest = 0.0001m;

    static readonly LineSource[] InStockOrder = Enum.GetValues<LineSource>();

    /// <summary>
    /// The demand of the order. Refusals: <c>kit-cycle</c>, <c>quantity-too-large</c>, <c>reject-rate-missing</c> and those of
    /// <see cref="ShopSupply.PerParent"/>.
    /// </summary>
    public static Outcome<ExplosionPlan> Explode(ExplosionFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var codes = KitTree.LowLevelCodes(facts.Kits.Select(k => k.Kit), facts.Structures, p => facts.Parts[p].Number);
        if (codes.Refusal is { } cycle)
        {
            return cycle;
        }

        var items = codes.Value.Keys.ToDictionary(p => p, p => new Item(p));
        foreach (var kit in facts.Kits.GroupBy(k => k.Kit))
        {
            items[kit.Key].Ask(LineSource.InTheBox, new Origin(kit.Key, 0, kit.Sum(k => k.Quantity)));
        }

        var lines = new List<DemandPlan>();
        var spares = new List<SpareNeed>();
        foreach (var (part, _) in codes.Value.OrderBy(c => c.Value).ThenBy(c => c.Key.Value))
        {
            var item = items[part];
            if (item.Gross + item.Inside + item.CarriedOver > Largest)
            {
                return Refusal.Invalid(
                    "quantity-too-large",
                    $"The order would need {item.Gross + item.Inside + item.CarriedOver:0} of {facts.Parts[part].Number}; {Largest:0} is the most. Correct the quantities of the kits.");
            }

            CountSparesAndSupply(item, facts, spares);
            var built = Net(item, facts, lines);
            if (facts.Structures.TryGetValue(part, out var structure) && Descend(structure, item, built, items, facts) is { } refusal)
            {
                return refusal;
            }
        }

        return new ExplosionPlan(lines, spares);
    }

    static void CountSparesAndSupply(Item item, ExplosionFacts facts, List<SpareNeed> spares)
    {
        item[LineSource.ShopSupply] = ShopSupply.RoundedUp(item[LineSource.ShopSupply], facts.Parts[item.Part]);
        if (item.Carried.Count > 0)
        {
            var need = SpareNeed.Pool(item.Carried)[0];
            spares.Add(need);
            item[LineSource.CarriedOver] = facts.SparesHeldByCampaign ? 0 : need.Hold(facts.Parts[item.Part], facts.SpareRisk).Quantity;
        }

        foreach (var source in InStockOrder)
        {
            item[source] = Math.Ceiling(item[source] / Finest) * Finest;
        }
    }

    // Boxed while free stock lasts, the sources in their order; what is left is built or short.
    static decimal Net(Item item, ExplosionFacts facts, List<DemandPlan> lines)
    {
        var free = facts.Free.GetValueOrDefault(item.Part);
        var buildable = facts.Structures.TryGetValue(item.Part, out var structure) && structure.Buildable;
        decimal allBuilt = 0;
        foreach (var source in InStockOrder)
        {
            var gross = item[source];
            if (gross == 0)
            {
                continue;
            }

            var covered = Math.Clamp(free, 0, gross);
            free -= covered;
            var built = buildable ? gross - covered : 0;
            allBuilt += built;
            lines.Add(new DemandPlan(item.Part, source, gross, built, gross - built, covered, gross - built - covered, item.Origins(source)));
        }

        return allBuilt;
    }

    static Refusal? Descend(
        KitStructure structure, Item parent, decimal built, Dictionary<PartId, Item> items, ExplosionFacts facts)
    {
        var all = parent.Gross + parent.Inside;
        if (all == 0)
        {
            return null;
        }

        foreach (var line in structure.Lines)
        {
            var child = items[line.Part];
            switch (line.Source)
            {
                case LineSource.InTheBox:
                    child.Ask(line.Source, new Origin(structure.Kit, line.Line, line.Quantity * built));
                    child.Inside += line.Quantity * (all - built);
                    break;
                case LineSource.ShopSupply:
                    var supply = ShopSupply.PerParent(structure, line, facts.Parts);
                    if (supply.Refusal is { } refusal)
                    {
                        return refusal;
                    }

                    child.Ask(line.Source, new Origin(structure.Kit, line.Line, supply.Value * all));
                    break;
                case LineSource.CarriedOver:
                    if (line is { SparePolicy: SparePolicy.ByRate, RejectRate: null })
                    {
                        return Refusal.Invalid(
                            "reject-rate-missing",
                            $"{facts.Parts[structure.Kit].Number} line {line.Line} holds spares by rate and gives no reject rate. Give one from 0 to 1.");
                    }

                    child.Carry(structure.Kit, line, line.Quantity * all);
                    break;
                default:
                    child.Ask(line.Source, new Origin(structure.Kit, line.Line, line.Quantity * all));
                    break;
            }
        }

        return null;
    }

    sealed class Item(PartId part)
    {
        readonly decimal[] asked = new decimal[InStockOrder.Length];
        readonly List<Origin>[] origins = [.. InStockOrder.Select(_ => new List<Origin>())];

        public PartId Part { get; } = part;

        /// <summary>What lies inside boxed parents: nothing to take from the shelf, but its lines from other sources are still needed.</summary>
        public decimal Inside { get; set; }

        public List<SpareNeed> Carried { get; } = [];

        public decimal CarriedOver => Carried.Sum(c => c.ForAll + c.ByRate);

        public decimal Gross => asked.Sum();

        public decimal this[LineSource source]
        {
            get => asked[(int)source];
            set => asked[(int)source] = value;
        }

        public List<Origin> Origins(LineSource source) => origins[(int)source];

        public void Ask(LineSource source, Origin origin)
        {
            if (origin.Quantity > 0)
            {
                asked[(int)source] += origin.Quantity;
                origins[(int)source].Add(origin);
            }
        }

        public void Carry(PartId kit, KitLineFact line, decimal quantity)
        {
            var origin = new Origin(kit, line.Line, quantity);
            Carried.Add(new SpareNeed(
                Part,
                line.SparePolicy == SparePolicy.All ? quantity : 0,
                line.SparePolicy == SparePolicy.ByRate ? quantity : 0,
                line.RejectRate ?? 0,
                [origin]));
            if (line.SparePolicy != SparePolicy.None)
            {
                origins[(int)LineSource.CarriedOver].Add(origin);
            }
        }
    }
}
