using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Rules.Kits;

/// <summary>Boxed seals age too.</summary>
public static class KitElastomers
{
    /// <summary>The elastomers of a part: its own and those of its in-the-box lines at every level.</summary>
    /// <param name="own">The elastomers recorded for each part itself; absent is none recorded.</param>
    public static IReadOnlyList<Elastomer> Of(
        PartId part,
        IReadOnlyDictionary<PartId, KitStructure> structures,
        IReadOnlyDictionary<PartId, IReadOnlyList<Elastomer>> own)
    {
        ArgumentNullException.ThrowIfNull(structures);
        ArgumentNullException.ThrowIfNull(own);
        var seen = new HashSet<PartId> { part };
        var waiting = new Queue<PartId>(seen);
        var found = new HashSet<Elastomer>();
        while (waiting.TryDequeue(out var next))
        {
            found.UnionWith(own.GetValueOrDefault(next) ?? []);
            var lines = structures.TryGetValue(next, out var structure) ? structure.Lines : [];
            foreach (var line in lines.Where(l => l.Source == LineSource.InTheBox && seen.Add(l.Part)))
            {
                waiting.Enqueue(line.Part);
            }
        }

        return [.. found.OrderBy(e => e.Code, StringComparer.Ordinal)];
    }
}
