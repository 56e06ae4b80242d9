namespace KitOrders.Rules.Procedures;

/// <summary>Where a step goes when it is moved: its new place in the whole list, from 0, and the part it then belongs to.</summary>
public readonly record struct StepPlace(int At, PartOf PartOf);

/// <summary>
/// Moving steps in a list that runs preliminary, main, close-up. One move goes past one neighbour; at the edge of a part it goes
/// into the next part without passing anybody, so that every place of every part can be reached by keys alone.
/// </summary>
public static class StepPlaces
{
    /// <param name="parts">The part of each step, in order.</param>
    /// <returns>Null where there is nothing further up.</returns>
    public static StepPlace? Up(IReadOnlyList<PartOf> parts, int at) =>
        at > 0 && parts[at - 1] == parts[at] ? new(at - 1, parts[at])
        : parts[at] > PartOf.Preliminary ? new(at, parts[at] - 1)
        : null;

    public static StepPlace? Down(IReadOnlyList<PartOf> parts, int at) =>
        at < parts.Count - 1 && parts[at + 1] == parts[at] ? new(at + 1, parts[at])
        : parts[at] < PartOf.CloseUp ? new(at, parts[at] + 1)
        : null;

    /// <summary>Dropped on another step it takes that one's place; those between move up or down by one.</summary>
    public static StepPlace Onto(IReadOnlyList<PartOf> parts, int target) => new(target, parts[target]);

    /// <summary>Dropped on the heading of a part it becomes that part's first step.</summary>
    public static StepPlace First(IReadOnlyList<PartOf> parts, int at, PartOf part) => new(parts.Where((p, i) => i != at && p < part).Count(), part);

    /// <summary>Dropped on the end of a part it becomes that part's last step.</summary>
    public static StepPlace Last(IReadOnlyList<PartOf> parts, int at, PartOf part) => new(parts.Where((p, i) => i != at && p <= part).Count(), part);
}
