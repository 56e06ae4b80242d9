using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Kits;

/// <summary>What a line can say differently in another revision.</summary>
public enum LineField
{
    Number,
    Part,
    Quantity,
    Source,

    /// <summary>Spare policy and reject rate.</summary>
    Spares,

    /// <summary>Wraps and the lines they serve.</summary>
    Wraps,
}

/// <summary>What a revision can say differently of a pump model.</summary>
public enum FitField
{
    ConvertsTo,
    SensingRod,
    Ports,
    Supply,
    Volts,
    Tolerance,
    Amps,
    Marking,
    Materials,
    Once,
    Requires,
    Excludes,
}

/// <summary>A line that is not the same in both revisions: new when it was not there, taken out when it is there no more.</summary>
public sealed record LineDifference(KitLine? Was, KitLine? Now)
{
    /// <summary>What changed of a line that stands in both; empty for a new one or one taken out.</summary>
    public IReadOnlyList<LineField> Fields => Was is { } was && Now is { } now ? KitDifference.FieldsOf(was, now) : [];
}

/// <summary>A pump model of which the revisions do not say the same.</summary>
public sealed record FitDifference(KitFit? Was, KitFit? Now)
{
    public PumpModelId Model => (Now ?? Was)!.ModelId;

    public IReadOnlyList<FitField> Fields => Was is { } was && Now is { } now ? KitDifference.FieldsOf(was, now) : [];
}

/// <summary>
/// What one revision of a kit says differently from another. A line keeps being the same line as long as its part stays in
/// the kit, whatever its number; where another part stands under the same number, it is that line with another part.
/// </summary>
/// <param name="BuildableChanged">One may be built from its lines and the other not.</param>
/// <param name="Lines">In the order of the newer revision; what was taken out stands at its former number.</param>
/// <param name="Same">How many lines are as they were.</param>
public sealed record KitDifference(bool BuildableChanged, IReadOnlyList<LineDifference> Lines, IReadOnlyList<FitDifference> Fits, int Same)
{
    public bool IsNone => !BuildableChanged && Lines.Count == 0 && Fits.Count == 0;

    public static KitDifference Between(KitRevision was, KitRevision now)
    {
        ArgumentNullException.ThrowIfNull(was);
        ArgumentNullException.ThrowIfNull(now);
        var pairs = Pairs(was.Lines, now.Lines);
        var lines = pairs.Where(p => p.Was is null || p.Now is null || FieldsOf(p.Was, p.Now).Count > 0)
            .OrderBy(p => (p.Now ?? p.Was)!.Number).ThenBy(p => p.Now is null).ToList();
        return new KitDifference(was.Buildable != now.Buildable, lines, FitsOf(was.Fits, now.Fits), pairs.Count - lines.Count);
    }

    static List<LineDifference> Pairs(IEnumerable<KitLine> was, IEnumerable<KitLine> now)
    {
        var before = was.OrderBy(l => l.Number).ToList();
        var after = now.OrderBy(l => l.Number).ToList();
        var pairs = new List<LineDifference>();
        Pair((a, b) => a.PartId == b.PartId && a.Number == b.Number);
        Pair((a, b) => a.PartId == b.PartId && FieldsOf(a, b) is [LineField.Number]);
        Pair((a, b) => a.PartId == b.PartId);
        Pair((a, b) => a.Number == b.Number);
        pairs.AddRange(before.Select(l => new LineDifference(l, null)));
        pairs.AddRange(after.Select(l => new LineDifference(null, l)));
        return pairs;

        void Pair(Func<KitLine, KitLine, bool> same)
        {
            foreach (var line in before.ToList())
            {
                if (after.Find(l => same(line, l)) is { } found)
                {
                    before.Remove(line);
                    after.Remove(found);
                    pairs.Add(new LineDifference(line, found));
                }
            }
        }
    }

    static List<FitDifference> FitsOf(List<KitFit> was, List<KitFit> now) =>
    [
        .. now.Select(f => new FitDifference(was.Find(w => w.ModelId == f.ModelId), f)).Where(d => d.Was is null || d.Fields.Count > 0),
        .. was.Where(w => now.TrueForAll(f => f.ModelId != w.ModelId)).Select(w => new FitDifference(w, null)),
    ];

    internal static List<LineField> FieldsOf(KitLine was, KitLine now) => Changed(
        (LineField.Number, was.Number == now.Number),
        (LineField.Part, was.PartId == now.PartId),
        (LineField.Quantity, was.Quantity == now.Quantity),
        (LineField.Source, was.Source == now.Source),
        (LineField.Spares, was.SparePolicy == now.SparePolicy && was.RejectRate == now.RejectRate),
        (LineField.Wraps, was.Wraps == now.Wraps && was.WrapsFor.Order().SequenceEqual(now.WrapsFor.Order())));

    internal static List<FitField> FieldsOf(KitFit was, KitFit now) => Changed(
        (FitField.ConvertsTo, was.ConvertsToId == now.ConvertsToId),
        (FitField.SensingRod, was.NeedsSensingRod == now.NeedsSensingRod),
        (FitField.Ports, was.Ports == now.Ports),
        (FitField.Supply, was.SupplyKind == now.SupplyKind),
        (FitField.Volts, was.Volts == now.Volts),
        (FitField.Tolerance, was.VoltsTolerancePct == now.VoltsTolerancePct),
        (FitField.Amps, was.Amps == now.Amps),
        (FitField.Marking, was.ExMarking == now.ExMarking),
        (FitField.Materials, was.Materials.SequenceEqual(now.Materials)),
        (FitField.Once, was.Once == now.Once),
        (FitField.Requires, was.RequiresKits.SequenceEqual(now.RequiresKits)),
        (FitField.Excludes, was.ExcludesKits.SequenceEqual(now.ExcludesKits)));

    static List<T> Changed<T>(params (T Field, bool Same)[] fields) => [.. fields.Where(f => !f.Same).Select(f => f.Field)];
}
