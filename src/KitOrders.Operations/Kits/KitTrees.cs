using System.Collections.Concurrent;
using KitOrders.Rules.Parts;

namespace KitOrders.Operations.Kits;

/// <summary>
/// Kit revisions as they were last read. A released revision never changes, so what is known of it stays true; which one is
/// current may change, and whoever uses a tree asks that of the database with everything else it asks.
/// </summary>
internal sealed class KitTrees
{
    readonly ConcurrentDictionary<PartId, CurrentRevision?> known = new();

    /// <summary>Every part below the kits with its current revision, null for what is no kit. Null when something of it was never read.</summary>
    public IReadOnlyDictionary<PartId, CurrentRevision?>? Below(IEnumerable<PartId> kits)
    {
        var tree = new Dictionary<PartId, CurrentRevision?>();
        var waiting = new Stack<PartId>(kits);
        while (waiting.TryPop(out var part))
        {
            if (tree.ContainsKey(part))
                continue;
            if (!known.TryGetValue(part, out var revision))
                return null;
            tree.Add(part, revision);
            foreach (var line in revision?.Structure.Lines ?? [])
                waiting.Push(line.Part);
        }
        return tree;
    }

    public void Learn(KitCatalogue catalogue)
    {
        foreach (var part in catalogue.All)
            known[part] = catalogue.Revisions.GetValueOrDefault(part);
    }

    public void Forget(IEnumerable<PartId> parts)
    {
        foreach (var part in parts)
            known.TryRemove(part, out _);
    }
}

/// <summary>A tree turned out to have another current revision than was known: the operation begins anew with what is true now.</summary>
internal sealed class TreeMoved() : Exception("A kit revision was released meanwhile.");
