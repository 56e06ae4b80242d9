using System.Globalization;
using System.Text.RegularExpressions;

namespace KitOrders.Rules.Pumps;

/// <summary>
/// A gas group (IIA, IIB, IIB+H2, IIC) or dust group (IIIA flyings, IIIB non-conductive, IIIC conductive dust) of IEC 60079-0.
/// Equipment of a higher rank covers the lower ones of its kind.
/// </summary>
public sealed record ExGroup(string Name, bool IsGas, int Rank)
{
    static readonly ExGroup[] All =
    [
        new("IIA", true, 1), new("IIB", true, 2), new("IIB+H2", true, 3), new("IIC", true, 4),
        new("IIIA", false, 1), new("IIIB", false, 2), new("IIIC", false, 3),
    ];

    public static ExGroup? Read(string? text) =>
        All.FirstOrDefault(g => string.Equals(g.Name, text?.Trim(), StringComparison.OrdinalIgnoreCase));

    public bool Covers(ExGroup required) => IsGas == required.IsGas && Rank >= required.Rank;

    public override string ToString() => Name;
}

/// <summary>
/// The highest surface temperature, °C: a temperature class (T1 450, T2 300, T3 200, T4 135, T5 100, T6 85, IEC 60079-0; with
/// the finer classes T2A to T4A of NEC 500) or a figure as marked for dust (T120°C). Written as a span (T6…T4) the
/// hotter end counts.
/// </summary>
public sealed partial record SurfaceTemperature(string Name, bool IsClass, decimal Celsius)
{
    static readonly Dictionary<string, decimal> Classes = new(StringComparer.OrdinalIgnoreCase)
    {
        ["T1"] = 450, ["T2"] = 300, ["T3"] = 200, ["T4"] = 135, ["T5"] = 100, ["T6"] = 85,
        ["T2A"] = 280, ["T2B"] = 260, ["T2C"] = 230, ["T2D"] = 215, ["T3A"] = 180, ["T3B"] = 165, ["T3C"] = 160, ["T4A"] = 120,
    };

    public static SurfaceTemperature? Read(string? text)
    {
        var ends = Span().Split(text?.Trim() ?? "");
        var read = ends.Select(One).ToList();
        return read.Contains(null) ? null : read.MaxBy(t => t!.Celsius);
    }

    static SurfaceTemperature? One(string text)
    {
        if (Classes.TryGetValue(text, out var limit))
        {
            return new SurfaceTemperature(text.ToUpperInvariant(), true, limit);
        }

        return Figure().Match(text) is { Success: true } figure
            ? new SurfaceTemperature($"T{figure.Groups["figure"].Value}°C", false, decimal.Parse(figure.Groups["figure"].Value, CultureInfo.InvariantCulture))
            : null;
    }

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Name}{(IsClass ? $" ({Celsius:0.#} °C)" : "")}");

    [GeneratedRegex(@"\.{2,3}|…|\bto\b")]
    private static partial Regex Span();

    [GeneratedRegex(@"^(?=T|.*[°º])T?\s*(?<figure>[1-9][0-9]{1,2}(?:\.[0-9]+)?)\s*[°º]?\s*C$", RegexOptions.IgnoreCase)]
    private static partial Regex Figure();
}
