using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>A demand line with the number it carries on the sheet.</summary>
public sealed record NumberedLine(int Number, DemandView Line)
{
    /// <summary>It holds the order up: short beyond what is promised, or the promise has passed, and nobody let it go.</summary>
    public bool Hot(DateOnly today) => Line is { Short: > 0, ReleasedBy: null }
        && (Line.Short > Line.Incoming || Line.PromisedOn is null || Line.PromisedOn < today);

    public decimal? Cost => Line.UnitCost is { } each ? each * Line.Required : null;
}

public sealed record DemandGroup(LineSource Source, string Heading, string? Note, IReadOnlyList<NumberedLine> Lines);

/// <summary>Demand as its table shows it: by source, numbered through.</summary>
public static class Demand
{
    static readonly LineSource[] order = [LineSource.InTheBox, LineSource.BoughtSeparately, LineSource.CarriedOver, LineSource.ShopSupply];

    public static IReadOnlyList<DemandGroup> Groups(IReadOnlyList<DemandView> lines)
    {
        var number = 0;
        return [.. order.Select(source => (source, lines: lines.Where(l => l.Source == source).ToList())).Where(g => g.lines.Count > 0)
            .Select(g => new DemandGroup(g.source, Heading(g.source), Note(g.source), [.. g.lines.Select(l => new NumberedLine(++number, l))]))];
    }

    public static string Heading(LineSource source) => source switch
    {
        LineSource.InTheBox => "In the box",
        LineSource.BoughtSeparately => "Bought separately",
        LineSource.CarriedOver => "Carried over",
        LineSource.ShopSupply => "Shop supply",
        _ => throw new ArgumentOutOfRangeException(nameof(source), source, null),
    };

    static string? Note(LineSource source) => source == LineSource.CarriedOver ? ", kept from the pump; the quantity is its spares" : null;

    /// <summary>"lot 26-0114", "26-0114, 26-0120", a promise, or that nothing is coming.</summary>
    public static string LotOrPromise(DemandView line)
    {
        var said = new List<string>();
        if (line.Reservations.Count > 0)
            said.Add($"lot {string.Join(", ", line.Reservations.Select(r => r.Lot).Distinct())}");
        if (line.Incoming > 0)
            said.Add($"{line.PromiseReference}, {(line.PromisedOn is { } on ? Days.Text(on) : "no day promised")}");
        if (line.Short > line.Incoming)
            said.Add(line.Incoming > 0 ? "the rest nothing incoming" : "nothing incoming");
        return said.Count == 0 ? line.Built > 0 && line.Required == 0 ? line.Built == 1 ? "built from its lines" : $"{Figures.Quantity(line.Built)} built from their lines" : line.Gross == 0 && line.ReplacedBy.Count > 0 ? "replaced" : Figures.None : string.Join(" · ", said);
    }

    /// <summary>What stands in for what on the line, and what supersedes its part; with the replacement that could be taken back.</summary>
    public static IEnumerable<(string Sentence, StandsInView? Back)> StandIns(DemandView line)
    {
        foreach (var instead in line.InPlaceOf)
            yield return ($"{Figures.Quantity(instead.Quantity)} in place of {instead.Part}, {instead.Description}: {instead.Reason} ({instead.By}).", instead);
        foreach (var by in line.ReplacedBy)
            yield return ($"{Figures.Quantity(by.Quantity)} replaced by {by.Part}, {by.Description}. The steps still name {line.Part}.", null);
        if (line.SupersededBy is { } next)
            yield return ($"{line.Part} is superseded by {next}; what is left of it is used first.", null);
    }

    public static string Bins(DemandView line) =>
        line.Reservations.Count == 0 ? Figures.None : string.Join(", ", line.Reservations.OrderBy(r => r.WalkOrder).Select(r => r.Bin).Distinct());

    /// <summary>"11 lines: 4 picked, 4 reserved, 2 short, 1 of them promised".</summary>
    public static string Sum(IReadOnlyList<DemandView> lines, bool preview)
    {
        var needed = lines.Where(l => l.Required > 0).ToList();
        var parts = new List<string>();
        Say(needed.Count(l => l.Short == 0 && l.Picked == l.Required), "picked");
        Say(needed.Count(l => l.Short == 0 && l.Picked < l.Required), preview ? "would be reserved" : "reserved");
        var shorts = needed.Where(l => l.Short > 0).ToList();
        var promised = shorts.Count(l => l.Incoming >= l.Short);
        Say(shorts.Count, promised == 0 ? "short" : promised == shorts.Count ? "short, all promised" : $"short, {promised} of them promised");
        return $"{Figures.Of(lines.Count, "line")}{(parts.Count == 0 ? "" : ": " + string.Join(", ", parts))}";

        void Say(int count, string word)
        {
            if (count > 0)
                parts.Add($"{count} {word}");
        }
    }
}
