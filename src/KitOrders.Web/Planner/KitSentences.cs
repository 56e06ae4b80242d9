using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>How the pages of kits say what they show.</summary>
static class KitSentences
{
    public static string Of(ReleaseTopic topic) => topic switch
    {
        ReleaseTopic.Lines => "Lines",
        ReleaseTopic.Circle => "No circle",
        ReleaseTopic.Parts => "Assemblies",
        ReleaseTopic.Materials => "Shelf life",
        ReleaseTopic.Spares => "Spares",
        ReleaseTopic.Threads => "Threads",
        ReleaseTopic.Fits => "Models",
        _ => throw new ArgumentOutOfRangeException(nameof(topic), topic, null),
    };

    /// <summary>"2 in the box, 1 bought separately".</summary>
    public static string Of(IReadOnlyList<QuantityUsed> quantities, Unit unit) =>
        string.Join(", ", quantities.Select(q => $"{(q.Quantity is { } n ? $"{Figures.Quantity(n)} {Word.Of(unit)}" : "not to be said")} {KitLineWords.Of(q.Source)}"));

    public static string Counted(DifferenceView difference) => difference.Rows.Count == 0 ? "nothing"
        : $"{difference.Changed} changed, {difference.New} new, {difference.Out} gone, {difference.Same} as they were";

    public static string Href(string kit, int? revision = null) => $"/kits/{Uri.EscapeDataString(kit)}{(revision is { } number ? $"?revision={number}" : "")}";
}
