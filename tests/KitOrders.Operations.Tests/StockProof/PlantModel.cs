namespace KitOrders.Operations.Tests.StockProof;

/// <summary>The bills of material of every case, parents before what lies in them.</summary>
static class Kits
{
    public static readonly string[] Parts = ["J", "K", "X", "V", "S", "A", "M"];

    public static readonly (string Kit, bool Buildable, (string Part, decimal Quantity, string Source)[] Lines)[] All =
    [
        ("J", true, [("A", 1, "inTheBox"), ("S", 1, "inTheBox"), ("A", 1, "boughtSeparately"), ("M", 0.5m, "shopSupply")]),
        ("K", true, [("X", 1, "inTheBox"), ("V", 1, "inTheBox"), ("S", 1, "carriedOver")]),
        ("X", false, [("S", 2, "inTheBox"), ("A", 1, "inTheBox")]),
        ("V", true, [("A", 1, "inTheBox"), ("M", 0.35m, "inTheBox")]),
    ];

    /// <summary>In the order in which stock goes to them.</summary>
    public static readonly string[] Sources = ["inTheBox", "boughtSeparately", "shopSupply", "carriedOver"];

    /// <summary>Approved, in the order of preference: a seal may stand in for a plug, and a box and an assembly for each other.</summary>
    public static readonly (string Part, string Alternate, bool BothWays)[] Alternates = [("A", "S", false), ("V", "X", true)];

    public static bool StandsIn(string part, string alternate) =>
        Alternates.Any(a => (a.Part == part && a.Alternate == alternate) || (a.BothWays && a.Part == alternate && a.Alternate == part));

    public const decimal HoseHandedOutIn = 0.3m;

    public static bool Counted(string part) => part != "M";

    /// <summary>Seals, and everything with seals in its box.</summary>
    public static bool Ages(string part) => part is "S" or "X" or "J" or "K";

    public static (string Part, decimal Quantity, string Source)[] Lines(string part) => All.SingleOrDefault(k => k.Kit == part).Lines ?? [];

    public static bool Buildable(string part) => All.SingleOrDefault(k => k.Kit == part).Buildable;
}

sealed class ModelLot(string part, string number)
{
    public string Part => part;
    public string Number => number;
    public DateOnly Received { get; init; }
    public DateOnly? Cured { get; set; }
    public DateOnly Expires { get; set; } = DateOnly.MaxValue;
    public bool Inspected { get; set; }
    public bool Aside { get; set; }
}

/// <summary>What an order has to do with one lot in one bin.</summary>
sealed class ModelHold(ModelLot lot, string bin)
{
    public ModelLot Lot => lot;
    public string Bin => bin;

    /// <summary>The product's number, read back.</summary>
    public int Id { get; set; }

    public decimal Held { get; set; }
    public decimal Picked { get; set; }
    public decimal Fitted { get; set; }
    public decimal Returned { get; set; }
    public decimal Scrapped { get; set; }
    public decimal InHand => Picked - Fitted - Returned - Scrapped;
}

sealed class ModelLine(ModelOrder order, string part, string source, decimal asked, decimal built)
{
    public ModelOrder Order => order;
    public string Part => part;
    public string Source => source;
    public decimal Gross => asked - ReplacedBy.Sum(r => r.Quantity) + InPlaceOf.Sum(r => r.Quantity);
    public decimal Built => built;
    public bool LetGo { get; set; }

    /// <summary>What other lines cover of what this one was short of.</summary>
    public List<ModelReplacement> ReplacedBy { get; } = [];

    /// <summary>What this line covers for others.</summary>
    public List<ModelReplacement> InPlaceOf { get; } = [];

    public List<ModelHold> Holds { get; } = [];
    public decimal Held => Holds.Sum(h => h.Held);
    public decimal Picked => Holds.Sum(h => h.Picked);

    /// <summary>Never kept, always what is left: the product keeps it and has to agree.</summary>
    public decimal Short => Gross - Built - Held - Picked;
}

/// <summary>A quantity that left one line for another.</summary>
sealed class ModelReplacement(ModelLine line, ModelLine by)
{
    public ModelLine Line => line;
    public ModelLine By => by;
    public decimal Quantity { get; set; }
}

sealed class ModelOrder(string number, int serial, int criticality, Dictionary<string, decimal> kits)
{
    public string Number => number;
    public IReadOnlyDictionary<string, decimal> Kits => kits;
    public string State { get; set; } = "draft";
    public int WorkClass { get; set; }
    public DateOnly NeededBy { get; set; }
    public DateOnly? Planned { get; set; }
    public DateOnly Fit => Planned ?? NeededBy;
    public DateTimeOffset Opened { get; set; }
    public bool WorkDone { get; set; }
    public List<ModelLine> Lines { get; } = [];
    public IEnumerable<(ModelLine Line, ModelHold Hold)> Holds => Lines.SelectMany(l => l.Holds.Select(h => (l, h)));

    /// <summary>Rule 5: the most pressing is the smallest.</summary>
    public (int, DateOnly, DateTimeOffset, int) Rank => (-criticality * WorkClass, NeededBy, Opened, serial);
}

sealed record ModelMovement(string Kind, ModelLot Lot, string Bin, decimal Quantity, ModelOrder? Order, ModelMovement? Corrects)
{
    public long Id { get; set; }
}

/// <summary>
/// Stock and orders in memory, written from the rules alone. What follows from something else (reserved, short) is never kept
/// here but worked out, so that what the product keeps is held against it.
/// </summary>
sealed partial class PlantModel
{
    public List<ModelLot> Lots { get; } = [];
    public Dictionary<(ModelLot Lot, string Bin), decimal> OnHand { get; } = [];
    public List<ModelOrder> Orders { get; } = [];
    public List<ModelMovement> Movements { get; } = [];
    public DateTimeOffset Now { get; set; }
    public DateOnly Today => DateOnly.FromDateTime(Now.UtcDateTime);

    public IEnumerable<(ModelLine Line, ModelHold Hold)> Holds => Orders.SelectMany(o => o.Holds);

    public decimal On(ModelLot lot, string bin) => OnHand.GetValueOrDefault((lot, bin));

    public decimal Reserved(ModelLot lot, string bin) => Holds.Where(h => h.Hold.Lot == lot && h.Hold.Bin == bin).Sum(h => h.Hold.Held);

    /// <summary>Rule 3: what may be taken on the day, first expiry, first out.</summary>
    IEnumerable<(ModelLot Lot, string Bin, decimal Free)> Shelf(string part, DateOnly fit) =>
        from place in OnHand
        where place.Key.Lot.Part == part && !place.Key.Lot.Aside && place.Key.Lot.Expires >= fit
        let free = place.Value - Reserved(place.Key.Lot, place.Key.Bin)
        where free > 0
        orderby place.Key.Lot.Expires, place.Key.Lot.Received, free, new Ordinal(place.Key.Lot.Number), Walk(place.Key.Bin)
        select (place.Key.Lot, place.Key.Bin, free);

    decimal Free(string part, DateOnly fit) => Shelf(part, fit).Sum(s => s.Free);

    static int Walk(string bin) => bin switch { "B-3" => 1, "B-1" => 2, _ => 3 };

    readonly record struct Ordinal(string Text) : IComparable<Ordinal>
    {
        public int CompareTo(Ordinal other) => string.CompareOrdinal(Text, other.Text);
    }

    void Move(string kind, ModelLot lot, string bin, decimal quantity, ModelOrder? order = null, ModelMovement? corrects = null)
    {
        if (quantity == 0)
            return;
        OnHand[(lot, bin)] = On(lot, bin) + quantity;
        Movements.Add(new ModelMovement(kind, lot, bin, quantity, order, corrects));
    }

    /// <summary>A line takes what is free, even if that is less than it is short of.</summary>
    void Serve(ModelLine line)
    {
        while (line.Short > 0 && Shelf(line.Part, line.Order.Fit).Select(s => ((ModelLot Lot, string Bin, decimal Free)?)s).FirstOrDefault() is { } next)
            HoldFor(line, next.Lot, next.Bin).Held += Math.Min(line.Short, next.Free);
    }

    static ModelHold HoldFor(ModelLine line, ModelLot lot, string bin)
    {
        var hold = line.Holds.Find(h => h.Lot == lot && h.Bin == bin);
        if (hold is null)
            line.Holds.Add(hold = new ModelHold(lot, bin));
        return hold;
    }

    /// <summary>Rule 4: what was freed or has come covers what waits, in the order of rule 5, then of the sources.</summary>
    void Cover(IEnumerable<string> parts)
    {
        var waiting = from order in Orders
                      where order.State is "open" or "staged" or "underway"
                      from line in order.Lines
                      where parts.Contains(line.Part) && line.Short > 0 && !line.LetGo
                      orderby order.Rank, Array.IndexOf(Kits.Sources, line.Source)
                      select line;
        foreach (var line in waiting.ToList())
            Serve(line);
    }

    /// <summary>Rule 1, for bills of material that list parents before what lies in them.</summary>
    List<ModelLine> Explode(ModelOrder order)
    {
        var asked = Kits.Parts.ToDictionary(p => p, _ => Kits.Sources.ToDictionary(s => s, _ => 0m));
        var insideBoxes = Kits.Parts.ToDictionary(p => p, _ => 0m);
        foreach (var (kit, quantity) in order.Kits)
            asked[kit]["inTheBox"] += quantity;
        var lines = new List<ModelLine>();
        foreach (var part in Kits.Parts)
        {
            if (part == "M" && asked[part]["shopSupply"] > 0)
                asked[part]["shopSupply"] = decimal.Ceiling(asked[part]["shopSupply"] / Kits.HoseHandedOutIn) * Kits.HoseHandedOutIn;
            var free = Free(part, order.Fit);
            var builtInAll = 0m;
            foreach (var source in Kits.Sources.Where(s => asked[part][s] > 0))
            {
                var gross = asked[part][source];
                var boxed = Math.Min(free, gross);
                free -= boxed;
                var built = Kits.Buildable(part) ? gross - boxed : 0;
                builtInAll += built;
                lines.Add(new ModelLine(order, part, source, gross, built));
            }
            var all = asked[part].Values.Sum() + insideBoxes[part];
            foreach (var (child, quantity, source) in Kits.Lines(part))
            {
                asked[child][source] += quantity * (source == "inTheBox" ? builtInAll : all);
                if (source == "inTheBox")
                    insideBoxes[child] += quantity * (all - builtInAll);
            }
        }
        return lines;
    }
}
