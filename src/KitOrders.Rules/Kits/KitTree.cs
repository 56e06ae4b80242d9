using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Kits;

/// <summary>The tree of kits and assemblies below some parts, walked without recursion so that no import can exhaust the stack.</summary>
public static class KitTree
{
    /// <summary>
    /// Every part that occurs anywhere in the tree with its low-level code: the deepest level at which it appears, 0 for a
    /// part that stands nowhere below another. Refusal: <c>kit-cycle</c>, naming the path.
    /// </summary>
    public static Outcome<IReadOnlyDictionary<PartId, int>> LowLevelCodes(
        IEnumerable<PartId> roots,
        IReadOnlyDictionary<PartId, KitStructure> structures,
        Func<PartId, string> numberOf)
    {
        var finished = new List<PartId>();
        var onPath = new Dictionary<PartId, bool>();
        var stack = new Stack<(PartId Part, int Next)>();
        foreach (var root in roots)
        {
            if (onPath.TryAdd(root, true))
            {
                stack.Push((root, 0));
            }

            while (stack.TryPop(out var at))
            {
                var lines = LinesOf(at.Part, structures);
                if (at.Next == lines.Count)
                {
                    onPath[at.Part] = false;
                    finished.Add(at.Part);
                    continue;
                }

                stack.Push((at.Part, at.Next + 1));
                var child = lines[at.Next].Part;
                if (onPath.TryAdd(child, true))
                {
                    stack.Push((child, 0));
                }
                else if (onPath[child])
                {
                    return Cycle(stack.Select(s => s.Part), child, numberOf);
                }
            }
        }

        var codes = finished.ToDictionary(p => p, _ => 0);
        for (var i = finished.Count - 1; i >= 0; i--)
        {
            foreach (var line in LinesOf(finished[i], structures))
            {
                codes[line.Part] = Math.Max(codes[line.Part], codes[finished[i]] + 1);
            }
        }

        return codes;
    }

    /// <summary>
    /// The refusal with which a revision is turned down at release when the kit would contain itself, null when it would not.
    /// </summary>
    /// <param name="structures">The current revisions, with the one to be released in its kit's place.</param>
    public static Refusal? CycleThrough(
        PartId kit, IReadOnlyDictionary<PartId, KitStructure> structures, Func<PartId, string> numberOf) =>
        LowLevelCodes([kit], structures, numberOf).Refusal;

    static IReadOnlyList<KitLineFact> LinesOf(PartId part, IReadOnlyDictionary<PartId, KitStructure> structures) =>
        structures.TryGetValue(part, out var structure) ? structure.Lines : [];

    static Refusal Cycle(IEnumerable<PartId> upwards, PartId repeated, Func<PartId, string> numberOf)
    {
        var path = upwards.TakeWhile(p => p != repeated).Append(repeated).Reverse().Append(repeated).Select(numberOf);
        return Refusal.Invalid(
            "kit-cycle",
            $"{numberOf(repeated)} would contain itself: {string.Join(" → ", path)}. Take one of these lines out.");
    }
}
