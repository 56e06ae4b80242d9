using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Kits;

/// <summary>How much of a part one piece of a kit or assembly brings or calls for, from one source.</summary>
/// <param name="Quantity">In the part's unit, unrounded; null where tape is wound on threads that are not recorded.</param>
public sealed record QuantityUsed(LineSource Source, decimal? Quantity);

/// <summary>A kit or assembly in which a part is used.</summary>
/// <param name="Level">1 when a line of its own names the part, 2 when that is a line of an assembly in it, and so on; the nearest counts.</param>
/// <param name="Top">No other kit or assembly holds it.</param>
public sealed record UsedIn(PartId Holder, int Level, bool Top, IReadOnlyList<QuantityUsed> Quantities);

/// <summary>Where a part is used, upwards through every level.</summary>
public static class KitUse
{
    /// <summary>
    /// Every kit and assembly among the structures that holds the part at any level, nearest first, with the quantity for one
    /// piece of it. What lies in the box of an assembly comes as that assembly comes; what an assembly calls for beside its box
    /// is called for as often as the assembly is used. Refusal: <c>kit-cycle</c>.
    /// </summary>
    public static Outcome<IReadOnlyList<UsedIn>> Of(
        PartId part, IReadOnlyDictionary<PartId, KitStructure> structures, IReadOnlyDictionary<PartId, PartFact> parts)
    {
        ArgumentNullException.ThrowIfNull(structures);
        ArgumentNullException.ThrowIfNull(parts);
        var walked = KitTree.LowLevelCodes(structures.Keys, structures, p => parts[p].Number);
        if (walked.Refusal is { } cycle)
        {
            return cycle;
        }

        var found = new Dictionary<PartId, UsedIn>();
        foreach (var kit in structures.Values.Where(k => k.Kit != part).OrderByDescending(k => walked.Value[k.Kit]))
        {
            if (In(kit, part, found, parts) is { Quantities.Count: > 0 } used)
            {
                found.Add(kit.Kit, used);
            }
        }

        var held = structures.Values.SelectMany(k => k.Lines.Select(l => l.Part)).ToHashSet();
        return found.Values.Select(u => u with { Top = !held.Contains(u.Holder) })
            .OrderBy(u => u.Level).ThenBy(u => parts[u.Holder].Number, StringComparer.Ordinal).ToList();
    }

    static UsedIn In(KitStructure kit, PartId part, Dictionary<PartId, UsedIn> below, IReadOnlyDictionary<PartId, PartFact> parts)
    {
        var level = int.MaxValue;
        var quantities = new List<QuantityUsed>();
        foreach (var line in kit.Lines)
        {
            var each = ShopSupply.PerParent(kit, line, parts) is { IsDone: true, Value: var known } ? known : (decimal?)null;
            if (line.Part == part)
            {
                level = 1;
                quantities.Add(new QuantityUsed(line.Source, each));
            }
            else if (below.TryGetValue(line.Part, out var inner))
            {
                level = Math.Min(level, inner.Level + 1);
                quantities.AddRange(inner.Quantities.Select(q => new QuantityUsed(Through(line.Source, q.Source), each * q.Quantity)));
            }
        }

        return new UsedIn(kit.Kit, level, false,
            [.. quantities.GroupBy(q => q.Source).OrderBy(g => g.Key)
                .Select(g => new QuantityUsed(g.Key, g.Aggregate((decimal?)0, (sum, q) => sum + q.Quantity)))]);
    }

    static LineSource Through(LineSource outer, LineSource inner) =>
        outer == LineSource.CarriedOver || inner == LineSource.InTheBox ? outer : inner;
}
