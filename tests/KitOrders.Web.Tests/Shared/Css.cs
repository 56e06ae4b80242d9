using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;

namespace KitOrders.Web.Tests.Shared;

/// <summary>The style sheets as they stand in the source, and the colours of tokens.css by name.</summary>
static partial class Css
{
    static string Folder([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "../../../src/KitOrders.Web/wwwroot/css"));

    public static string Read(string sheet) => File.ReadAllText(Path.Combine(Folder(), sheet + ".css"));

    public static IEnumerable<string> Sheets() => Directory.EnumerateFiles(Folder(), "*.css").Select(f => Path.GetFileNameWithoutExtension(f)!);

    /// <summary>Name to (light, dark), of every token that is a colour.</summary>
    public static IReadOnlyDictionary<string, (string Light, string Dark)> Colours()
    {
        var tokens = Read("tokens");
        var pairs = Pair().Matches(tokens).ToDictionary(m => m.Groups[1].Value, m => (m.Groups[2].Value, m.Groups[3].Value));
        foreach (Match single in Single().Matches(tokens))
        {
            pairs.TryAdd(single.Groups[1].Value, (single.Groups[2].Value, single.Groups[2].Value));
        }

        return pairs;
    }

    /// <summary>Contrast ratio of WCAG 2.2, from the relative luminance as defined there (w3.org/TR/WCAG22/#dfn-contrast-ratio).</summary>
    public static double Contrast(string one, string other)
    {
        var (a, b) = (Luminance(one), Luminance(other));
        return (Math.Max(a, b) + 0.05) / (Math.Min(a, b) + 0.05);
    }

    static double Luminance(string hex)
    {
        double Channel(int at)
        {
            var c = int.Parse(hex.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0;
            return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
        }

        return 0.2126 * Channel(1) + 0.7152 * Channel(3) + 0.0722 * Channel(5);
    }

    [GeneratedRegex(@"--([\w-]+):\s*light-dark\((#[0-9A-Fa-f]{6}),\s*(#[0-9A-Fa-f]{6})\)")]
    private static partial Regex Pair();

    [GeneratedRegex(@"--((?:on-)?sig-\w+):\s*(#[0-9A-Fa-f]{6})")]
    private static partial Regex Single();
}
