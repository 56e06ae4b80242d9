namespace KitOrders.Rules.Parts;

/// <summary>A part that may be used where another one is short.</summary>
/// <param name="Preference">0 for what supersedes the part, else as approved, 1 first.</param>
public sealed record StandIn(PartId Part, int Preference)
{
    public bool Supersedes => Preference == 0;
}

/// <summary>Which parts may stand in for which, and in what order they are offered.</summary>
public static class StandIns
{
    /// <summary>
    /// What supersedes the part, nearest first, then its approved alternates by preference: those approved for it, and those
    /// that it was approved for both ways.
    /// </summary>
    public static IReadOnlyList<StandIn> Of(PartId part, IEnumerable<PartAlternate> approved, IReadOnlyDictionary<PartId, PartId> supersededBy)
    {
        ArgumentNullException.ThrowIfNull(supersededBy);
        var successors = Chain(part, supersededBy).Skip(1).Where(p => p != part).Select(p => new StandIn(p, 0));
        var alternates = approved.Where(a => a.PartId == part || (a.BothWays && a.AlternateId == part))
            .OrderBy(a => a.Preference).ThenBy(a => a.PartId != part)
            .Select(a => new StandIn(a.PartId == part ? a.AlternateId : a.PartId, a.Preference));
        return [.. successors.Concat(alternates).DistinctBy(s => s.Part)];
    }

    /// <summary>The part, what supersedes it, what supersedes that, and so on; where it closes, the part that closes it stands at the end again.</summary>
    public static IReadOnlyList<PartId> Chain(PartId part, IReadOnlyDictionary<PartId, PartId> supersededBy) => Chain<PartId>(part, supersededBy);

    /// <summary>
    /// Null, or why the part cannot be superseded by the other: it would in the end supersede itself. The parts are named by
    /// their numbers, so that a file can be asked about before it is written.
    /// </summary>
    /// <param name="supersededBy">As it would be, the new successor included.</param>
    public static Refusal? RefuseCircle(string part, IReadOnlyDictionary<string, string> supersededBy)
    {
        ArgumentNullException.ThrowIfNull(supersededBy);
        var path = Chain(part, supersededBy);
        return path.Count == 1 || path[^1] != part ? null : Refusal.Invalid(
            "supersedes-itself",
            $"Part {part} would supersede itself: {string.Join(" → ", path)}. Name the part that is bought now, or take one of these supersessions back first.");
    }

    static List<T> Chain<T>(T part, IReadOnlyDictionary<T, T> supersededBy) where T : notnull
    {
        var path = new List<T> { part };
        while (supersededBy.TryGetValue(path[^1], out var next))
        {
            var closes = path.Contains(next);
            path.Add(next);
            if (closes)
            {
                break;
            }
        }

        return path;
    }
}
