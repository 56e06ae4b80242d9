using KitOrders.Rules.Procedures;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner.Procedures;

/// <summary>What steps say, as planners read it.</summary>
public static class StepWords
{
    public static string Of(PartOf part) => part switch
    {
        PartOf.Preliminary => "Preliminary",
        PartOf.Main => "Main",
        _ => "Close-up",
    };

    public static string Of(StepKind kind) => kind switch
    {
        StepKind.Instruction => "instruction",
        StepKind.Check => "check",
        StepKind.Reading => "reading",
        StepKind.Torque => "torque",
        StepKind.CarryOver => "carry-over decision",
        StepKind.FunctionTest => "function test",
        _ => "photograph",
    };

    public static string Of(BoltSequence? sequence) => sequence switch
    {
        BoltSequence.Alternate => "alternate",
        BoltSequence.Star => "star",
        BoltSequence.Round => "round",
        _ => Figures.None,
    };

    /// <summary>"6 bolts, star, 2 passes" or "0.8 to 1.5 mm": what is asked for besides the text.</summary>
    public static string? Asked(StepDraft s)
    {
        string?[] said =
        [
            s.Joint, s.Bolts is { } bolts ? Figures.Of(bolts, "bolt") : null, s.Bolts > 1 && s.Sequence is { } order ? Of(order) : null,
            s.Target is { } target ? $"{Figures.Quantity(target)} {Unit(s)}{(s.TolerancePct is { } t ? $" ± {Figures.Quantity(t)} %" : "")}".TrimEnd() : null,
            Limits(s), s.Passes is { } passes ? Figures.Of(passes, "pass", "passes") : null,
        ];
        return said.OfType<string>().ToArray() is { Length: > 0 } words ? string.Join(", ", words) : null;
    }

    public static string? Limits(StepDraft s) => (s.Low, s.High) switch
    {
        ({ } low, { } high) => $"{Figures.Quantity(low)} to {Figures.Quantity(high)} {Unit(s)}".TrimEnd(),
        ({ } low, null) => $"at least {Figures.Quantity(low)} {Unit(s)}".TrimEnd(),
        (null, { } high) => $"at most {Figures.Quantity(high)} {Unit(s)}".TrimEnd(),
        _ => null,
    };

    /// <summary>"Air valve manual, edition 4, page 12".</summary>
    public static string? Source(string? document, string? edition, string? page) => document is null ? null
        : $"{document}{(edition is null ? "" : $", edition {edition}")}{(page is null ? "" : $", page {page}")}";

    static string Unit(StepDraft s) => s.Unit is "Nm" ? "N·m" : s.Unit ?? "";
}
