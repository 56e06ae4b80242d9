using System.Globalization;
using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;
using Microsoft.AspNetCore.WebUtilities;

namespace KitOrders.Web.Planner;

/// <summary>Which pumps, which kits and which outcomes the matrix shows, as they stand in its address.</summary>
/// <param name="Result">Only pumps of which a kit came out so.</param>
/// <param name="Check">Only pumps of which this check came out so; failed where no outcome is named.</param>
public sealed record MatrixQuery(MatrixFilter Filter, CheckResult? Result, Check? Check)
{
    /// <summary>The word for "no zone is recorded" among the zones.</summary>
    public const string NoZone = "unknown";

    /// <param name="address">The part of an address from "?" on. What cannot be read counts as not said.</param>
    public static MatrixQuery Of(string? address)
    {
        var values = QueryHelpers.ParseQuery(address);
        string? One(string name) => values.TryGetValue(name, out var v) && v.ToString().Trim() is { Length: > 0 } text ? text : null;
        var kits = values.TryGetValue("kit", out var named) ? named.Where(k => !string.IsNullOrWhiteSpace(k)).Select(k => k!.Trim()).ToList() : [];
        return new MatrixQuery(
            new MatrixFilter
            {
                Search = One("q"),
                Model = One("model"),
                Control = Word.TryRead<Control>(One("control"), out var control) ? control : null,
                Area = One("area"),
                Zone = Word.TryRead<Zone>(One("zone"), out var zone) ? zone : null,
                ZoneNotRecorded = One("zone") == NoZone,
                Fluid = One("fluid"),
                Job = One("job"),
                Kits = kits.Count > 0 && One("job") is null ? kits : null,
                On = DateOnly.TryParseExact(One("on"), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var on) ? on : null,
            },
            Word.TryRead<CheckResult>(One("only"), out var result) ? result : null,
            Word.TryRead<Check>(One("check"), out var check) ? check : null);
    }

    /// <summary>As it is written into an address, without "?"; empty when nothing is chosen.</summary>
    public string Text() => string.Join('&', [.. PumpParts(), .. KitParts(), .. OutcomeParts()]);

    public string Address() => Text() is { Length: > 0 } text ? $"/kits/matrix?{text}" : "/kits/matrix";

    /// <summary>Where a campaign for the job begins with the pumps that are shown.</summary>
    public string Campaign() => "/campaigns/new" + (string.Join('&', new[]
    {
        Filter.Job is { } job ? $"job={Uri.EscapeDataString(job)}" : null,
        string.Join('&', [.. PumpParts(), .. OutcomeParts()]) is { Length: > 0 } pumps ? $"pumps={Uri.EscapeDataString(pumps)}" : null,
    }.OfType<string>()) is { Length: > 0 } text ? $"?{text}" : "");

    /// <summary>Whether anything but the kits is chosen.</summary>
    public bool Narrowed => PumpParts().Concat(OutcomeParts()).Any();

    IEnumerable<string> PumpParts() => Parts(
        ("q", Filter.Search), ("model", Filter.Model), ("control", Filter.Control is { } c ? Word.Of(c) : null), ("area", Filter.Area),
        ("zone", Filter.ZoneNotRecorded ? NoZone : Filter.Zone is { } z ? Word.Of(z) : null), ("fluid", Filter.Fluid));

    IEnumerable<string> KitParts() => Parts(
        [("job", Filter.Job), .. (Filter.Kits ?? []).Select(k => ("kit", (string?)k)), ("on", Filter.On?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture))]);

    IEnumerable<string> OutcomeParts() => Parts(("only", Result is { } r ? Word.Of(r) : null), ("check", Check is { } check ? Word.Of(check) : null));

    static IEnumerable<string> Parts(params (string Name, string? Value)[] parts) =>
        parts.Where(p => p.Value is not null).Select(p => $"{p.Name}={Uri.EscapeDataString(p.Value!)}");
}
