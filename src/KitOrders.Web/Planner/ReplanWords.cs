using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>What planning an order again would change, in words.</summary>
public static class ReplanWords
{
    /// <summary>"LK-20 rev 3 is current; this order was opened with rev 2."</summary>
    public static string? Newer(OrderView order) => Newer(order.Kits.Where(k => k.NewerRevision is not null && k.Revision is not null)
        .Select(k => new NewerRevision(k.Kit, k.Revision!.Value, k.NewerRevision!.Value)), "this order");

    /// <summary>The same in a row of a list.</summary>
    public static string? Newer(OrderRow row) => Newer(row.NewerRevisions, "it");

    static string? Newer(IEnumerable<NewerRevision> kits, string who) =>
        kits.Select(k => $"{k.Kit} rev {k.Current} is current; {who} was opened with rev {k.Opened}.").ToList() is { Count: > 0 } said ? string.Join(" ", said) : null;

    public static string Revisions(ReplanView shown)
    {
        var newer = shown.Kits.Where(k => k.After > k.Before).Select(k => $"{k.Kit} rev {k.After} instead of rev {k.Before}").ToList();
        return newer.Count == 0 ? "Its kits are current." : $"{string.Join(", ", newer)}.";
    }

    public static string Sum(ReplanView shown)
    {
        if (!shown.Lines.Any(l => l.Changed))
            return "Nothing in its demand would change.";
        var (now, then) = (shown.Lines.Count(l => l.Before?.Short > 0), shown.Lines.Count(l => l.After?.Short > 0));
        return now == then ? $"{Figures.Of(then, "line")} short, as now." : $"{Figures.Of(then, "line")} short instead of {now}.";
    }

    public static bool Failed(ReplanView shown) => shown.Suitability.Any(c => c.Result == CheckResult.Failed);

    public static string Change(ReplanLine line) => line switch
    {
        { Changed: false } => "",
        { Before: null } => "new",
        { After: null } => line.Before!.Reserved > 0 ? $"goes; {Figures.Quantity(line.Before.Reserved)} free for others" : "goes",
        { Before: { } b, After: { } a } => string.Join(", ", Said(b, a)),
    };

    static IEnumerable<string> Said(ReplanFigures before, ReplanFigures after)
    {
        if (after.Gross != before.Gross)
            yield return $"{Figures.Quantity(after.Gross)} instead of {Figures.Quantity(before.Gross)}";
        if (after.Built != before.Built)
            yield return after.Built > before.Built ? $"{Figures.Quantity(after.Built - before.Built)} more built from its lines" : $"{Figures.Quantity(before.Built - after.Built)} fewer built from its lines";
        if (after.Short != before.Short)
            yield return after.Short > before.Short ? $"{Figures.Quantity(after.Short - before.Short)} more short" : $"{Figures.Quantity(before.Short - after.Short)} less short";
        if (after.Reserved < before.Reserved)
            yield return $"{Figures.Quantity(before.Reserved - after.Reserved)} free for others";
    }
}
