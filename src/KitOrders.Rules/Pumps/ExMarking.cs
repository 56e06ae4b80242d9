using System.Globalization;
using System.Text.RegularExpressions;

namespace KitOrders.Rules.Pumps;

/// <summary>Equipment protection levels of IEC 60079-0: G for gas, D for dust; a is the highest level, c the lowest.</summary>
public enum ProtectionLevel
{
    Ga,
    Gb,
    Gc,
    Da,
    Db,
    Dc,
}

/// <summary>
/// One protected equipment of a marking: its level and what stands beside it. A field that the marking does not state is
/// null. The surface temperature is the highest the marking allows, °C: the class's limit or the figure marked.
/// </summary>
public sealed record MarkedLevel(ProtectionLevel Level, ExGroup? Group, SurfaceTemperature? Temperature)
{
    public bool ForGas => Level <= ProtectionLevel.Gc;
}

/// <summary>
/// An explosion-protection marking such as <c>Gb IIC T4</c>, <c>Db IIIC T120°C</c>, <c>II 2G Ex db eb IIB T3 Gb / Ex tb IIIC T135°C Db</c>.
/// Several levels may stand in one marking. Intrinsic safety and class/division are recognised, never calculated.
/// </summary>
public sealed partial record ExMarking(IReadOnlyList<MarkedLevel> Levels, bool IntrinsicSafety, bool ClassDivision)
{
    /// <summary>Refused as <c>ex-marking-unreadable</c> when it states neither a protection level nor a category, intrinsic safety or a division.</summary>
    public static Outcome<ExMarking> Parse(string text)
    {
        var plain = WorseOfBoundary(WithoutFlameproof(text));
        var levels = (WordsOf(plain).Any(IsLevel) ? Stretches().Split(plain).SelectMany(OfStretch) : OfPortion([.. LevelsOfCategories(plain), .. WordsOf(plain)])).ToList();
        var intrinsic = IntrinsicallySafe().IsMatch(text);
        var division = Division().IsMatch(text);
        return levels.Count > 0 || intrinsic || division
            ? new ExMarking(levels.AsReadOnly(), intrinsic, division)
            : Refusal.Invalid("ex-marking-unreadable", $"\"{text}\" states no equipment protection level. Write level, group and temperature as marked: Gb IIC T4, Db IIIC T120°C.");
    }

    /// <summary>On a nameplate (Ex …) the type of protection "db" differs from the dust level "Db" by its capital alone.</summary>
    static string WithoutFlameproof(string text) =>
        Nameplate().IsMatch(text) ? DustLevel().Replace(text, m => m.Value[0] == 'D' && char.IsAsciiLetterLower(m.Value[1]) ? m.Value : "") : text;

    /// <summary>Equipment that sits in the wall between two zones ("Ga/Gb") is taken at its lesser level.</summary>
    static string WorseOfBoundary(string text) => Boundary().Replace(text, m =>
        string.CompareOrdinal(m.Groups[1].Value.ToUpperInvariant(), m.Groups[2].Value.ToUpperInvariant()) > 0 ? m.Groups[1].Value : m.Groups[2].Value);

    /// <summary>
    /// The levels of one stretch of marking. Written level first (Gb IIC T4 Gc IIC T6) each level opens a portion, written as
    /// on a nameplate (Ex db IIC T4 Gb) it ends one. Levels side by side share their portion, gas fields going to gas levels.
    /// </summary>
    static IEnumerable<MarkedLevel> OfStretch(string stretch)
    {
        var words = WordsOf(stretch);
        var portion = new List<string>();
        var levelFirst = words.Count > 0 && IsLevel(words[0]);
        for (var i = 0; i < words.Count; i++)
        {
            var opens = levelFirst && IsLevel(words[i]) && i > 0 && !IsLevel(words[i - 1]);
            var ends = !levelFirst && i > 0 && IsLevel(words[i - 1]) && !IsLevel(words[i]);
            if (opens || ends)
            {
                foreach (var level in OfPortion(portion))
                {
                    yield return level;
                }

                portion.Clear();
            }

            portion.Add(words[i]);
        }

        foreach (var level in OfPortion(portion))
        {
            yield return level;
        }
    }

    static IEnumerable<MarkedLevel> OfPortion(IReadOnlyList<string> words)
    {
        var levels = words.Where(IsLevel).Select(w => Enum.Parse<ProtectionLevel>(w, ignoreCase: true)).ToList();
        var groups = words.Select(ExGroup.Read).OfType<ExGroup>().ToList();
        var temperatures = words.Select(SurfaceTemperature.Read).OfType<SurfaceTemperature>().ToList();
        var mixed = levels.Any(l => l <= ProtectionLevel.Gc) && levels.Any(l => l > ProtectionLevel.Gc);
        foreach (var level in levels)
        {
            var gas = level <= ProtectionLevel.Gc;
            yield return new MarkedLevel(
                level,
                groups.Where(g => g.IsGas == gas).OrderBy(g => g.Rank).FirstOrDefault(),
                temperatures.Where(t => !mixed || t.IsClass == gas).OrderByDescending(t => t.Celsius).FirstOrDefault());
        }
    }

    static List<string> WordsOf(string text) => [.. Words().Matches(text).Select(m => m.Value.TrimEnd('.'))];

    static bool IsLevel(string word) => Enum.GetNames<ProtectionLevel>().Contains(word, StringComparer.OrdinalIgnoreCase);

    /// <summary>ATEX categories 1G to 3G and 1D to 3D stand for the levels Ga to Gc and Da to Dc where a marking gives no level.</summary>
    static IEnumerable<string> LevelsOfCategories(string text) =>
        from category in Categories().Matches(text)
        from kind in category.Groups["kind"].Value.ToUpperInvariant()
        select $"{kind}{"abc"[category.Groups["level"].Value[0] - '1']}";

    [GeneratedRegex(@"\b[AE]?Ex\b", RegexOptions.IgnoreCase)]
    private static partial Regex Nameplate();

    [GeneratedRegex(@"\bD[abc]\b", RegexOptions.IgnoreCase)]
    private static partial Regex DustLevel();

    [GeneratedRegex(@"[\r\n]+|(?=\b[AE]?Ex\b)", RegexOptions.IgnoreCase)]
    private static partial Regex Stretches();

    [GeneratedRegex(@"\b([GD][abc])\s*/\s*([GD][abc])\b", RegexOptions.IgnoreCase)]
    private static partial Regex Boundary();

    [GeneratedRegex(@"[A-Za-z0-9+.…°º]+(?:\s+°\s*C\b)?")]
    private static partial Regex Words();

    [GeneratedRegex(@"\b(?<level>[123])\s*(?<kind>G|D|GD)\b", RegexOptions.IgnoreCase)]
    private static partial Regex Categories();

    [GeneratedRegex(@"\bi[abc]D?\b|\bintrinsic", RegexOptions.IgnoreCase)]
    private static partial Regex IntrinsicallySafe();

    [GeneratedRegex(@"\bdiv(?:ision)?s?\b\.?\s*[12]|\bC(?:I{1,3}|[123])\s?D[12]\b|\bcl(?:ass)?\b\.?\s*(?:I{1,3}|[123])\b(?!.*\bzone\b)", RegexOptions.IgnoreCase | RegexOptions.Singleline)]
    private static partial Regex Division();
}

/// <summary>A marking as written, and as it was read; null where it cannot be read.</summary>
public sealed record MarkingRead(string Text, ExMarking? Marking)
{
    /// <summary>Null for no marking: blank or not stated.</summary>
    public static MarkingRead? Of(string? text) => string.IsNullOrWhiteSpace(text) ? null
        : new MarkingRead(text, ExMarking.Parse(text) is { IsDone: true, Value: var marking } ? marking : null);
}
