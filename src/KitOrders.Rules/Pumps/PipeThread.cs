using System.Globalization;
using System.Text.RegularExpressions;

namespace KitOrders.Rules.Pumps;

public enum ThreadStandard
{
    /// <summary>American taper pipe thread, ASME B1.20.1, 60°.</summary>
    Npt,

    /// <summary>Taper pipe thread of ISO 7 (R, Rc), 55°.</summary>
    Bspt,

    /// <summary>Parallel pipe thread of ISO 228 (G) and ISO 7 (Rp), 55°.</summary>
    Bspp,

    /// <summary>ISO metric thread, parallel.</summary>
    Metric,
}

public enum Gender
{
    Male,
    Female,
}

/// <summary>What two threads do when one is screwed against the other.</summary>
public enum Mating
{
    Mates,
    DoesNot,

    /// <summary>The record does not prove it either way.</summary>
    Unproven,
}

/// <summary>What two threads do, with the reason in words once they are asked for.</summary>
public readonly struct Mated(Mating result, Func<string> words)
{
    public Mating Result { get; } = result;

    public string Why => words();
}

/// <summary>
/// The thread of a port or fitting, such as <c>NPT 1/4 female</c>, <c>G 1/2 male</c> or <c>M12x1 female</c>. The gender
/// may be left out for a part's own thread (<c>NPT 1/4</c>); such a thread cannot be proved to mate.
/// </summary>
/// <param name="Size">Nominal pipe size as in <see cref="ThreadSizes"/> (<c>1-1/4</c>); for metric, diameter x pitch in mm (<c>12x1</c>).</param>
public sealed partial record PipeThread(ThreadStandard Standard, string Size, Gender? Gender)
{
    const string CanBeRead = "Write standard, size and gender: NPT 1/4 female, BSPT 1/2 male, BSPP (or G) 3/8 female, M12x1 male.";

    /// <summary>Taper threads seal in the thread (tape); parallel ones by washer or O-ring.</summary>
    public bool IsTaper => Standard is ThreadStandard.Npt or ThreadStandard.Bspt;

    /// <summary>Outside (major) diameter in mm: ASME B1.20.1 for NPT, ISO 7 / ISO 228 for BSP, the nominal diameter for metric.</summary>
    public decimal OutsideDiameterMm => Standard == ThreadStandard.Metric
        ? decimal.Parse(Size[..Size.IndexOf('x', StringComparison.Ordinal)], CultureInfo.InvariantCulture)
        : ThreadSizes.Pipe(Standard)[Size];

    public override string ToString()
    {
        var name = Standard == ThreadStandard.Metric ? $"M{Size}" : $"{Standard.ToString().ToUpperInvariant()} {Size}";
        return Gender is { } gender ? $"{name} {Word.Of(gender)}" : name;
    }

    /// <summary>
    /// Reads a thread without regard to case. <c>G</c> is BSPP; <c>R</c>, <c>Rc</c> and <c>Rp</c> are the ISO 7 names of BSPT
    /// male, BSPT female and BSPP female. A metric thread without pitch has the coarse one, as ISO designates it.
    /// Refused as <c>thread-unreadable</c> or <c>thread-size-unknown</c>.
    /// </summary>
    public static Outcome<PipeThread> Parse(string text)
    {
        var match = Written().Match(text.Replace("\"", "", StringComparison.Ordinal));
        if (!match.Success)
        {
            return Unreadable(text);
        }

        Gender? gender = match.Groups["gender"].Value.ToLowerInvariant() switch
        {
            "male" or "m" => Pumps.Gender.Male,
            "female" or "f" => Pumps.Gender.Female,
            _ => null,
        };
        if (match.Groups["diameter"].Success)
        {
            return Metric(text, match, gender);
        }

        var (standard, impliedGender) = match.Groups["standard"].Value.ToLowerInvariant() switch
        {
            "npt" => (ThreadStandard.Npt, (Gender?)null),
            "bspt" => (ThreadStandard.Bspt, null),
            "bspp" or "g" => (ThreadStandard.Bspp, null),
            "r" => (ThreadStandard.Bspt, Pumps.Gender.Male),
            "rc" => (ThreadStandard.Bspt, Pumps.Gender.Female),
            _ => (ThreadStandard.Bspp, Pumps.Gender.Female),
        };
        if (impliedGender is not null && gender is not null && impliedGender != gender)
        {
            return Refusal.Invalid("thread-unreadable", $"\"{text}\" contradicts itself: R is male, Rc and Rp are female.");
        }

        var size = match.Groups["size"].Value.Replace(' ', '-');
        return ThreadSizes.Pipe(standard).ContainsKey(size)
            ? new PipeThread(standard, size, gender ?? impliedGender)
            : Refusal.Invalid("thread-size-unknown", $"\"{text}\": {standard.ToString().ToUpperInvariant()} has no size {size}. Sizes: {string.Join(", ", ThreadSizes.Pipe(standard).Keys)}.");
    }

    static Outcome<PipeThread> Metric(string text, Match match, Gender? gender)
    {
        var diameter = decimal.Parse(match.Groups["diameter"].Value, CultureInfo.InvariantCulture);
        var pitch = match.Groups["pitch"] is { Success: true } written
            ? decimal.Parse(written.Value, CultureInfo.InvariantCulture)
            : ThreadSizes.CoarsePitchMm.GetValueOrDefault(diameter);
        return pitch > 0 && pitch < diameter
            ? new PipeThread(ThreadStandard.Metric, string.Create(CultureInfo.InvariantCulture, $"{diameter:0.##}x{pitch:0.##}"), gender)
            : Refusal.Invalid("thread-size-unknown", $"\"{text}\": write the pitch in mm, smaller than the diameter, as in M12x1.");
    }

    static Refusal Unreadable(string text) => Refusal.Invalid("thread-unreadable", $"\"{text}\" is not a thread that can be read. {CanBeRead}");

    /// <summary>
    /// Does this fitting go into that port? Failed names the first thing that differs; unknown says what to find out.
    /// A BSPT male fitting in a BSPP female port may seal or not (unknown); NPT and BSP differ in angle and, but for 1/2 and
    /// 3/4, in pitch, and never mate (ASME B1.20.1 60°, ISO 7 / ISO 228 55°).
    /// </summary>
    public static Mated Mate(PipeThread port, PipeThread fitting)
    {
        if (!SameFamily(port.Standard, fitting.Standard))
        {
            return new(Mating.DoesNot, () => $"{fitting} does not mate with {port}: different thread standards");
        }

        if (port.Size != fitting.Size)
        {
            return new(Mating.DoesNot, () => $"{fitting} does not mate with {port}: different sizes");
        }

        if (port.Gender is null || fitting.Gender is null)
        {
            return new(Mating.Unproven, () => $"{fitting} against {port}: male or female is not recorded");
        }

        if (port.Gender == fitting.Gender)
        {
            return new(Mating.DoesNot, () => $"{fitting} does not mate with {port}: both are {Word.Of(port.Gender.Value)}");
        }

        if (port.Standard == fitting.Standard)
        {
            return new(Mating.Mates, () => $"{fitting} mates with {port}");
        }

        var taper = port.Standard == ThreadStandard.Bspt ? port : fitting;
        return taper.Gender == Pumps.Gender.Male
            ? new(Mating.Unproven, () => $"{fitting} against {port}: a taper male in a parallel female may not seal; find out what the maker allows")
            : new(Mating.DoesNot, () => $"{fitting} does not mate with {port}: a parallel male does not go into a taper female");
    }

    static bool SameFamily(ThreadStandard a, ThreadStandard b) =>
        a == b || (a is ThreadStandard.Bspt or ThreadStandard.Bspp && b is ThreadStandard.Bspt or ThreadStandard.Bspp);

    [GeneratedRegex(
        @"^\s*(?:(?<standard>NPT|BSPT|BSPP|G|Rc|Rp|R)\s*(?<size>\d+(?:[- ]\d+/\d+|/\d+)?)|M\s*(?<diameter>\d+(?:\.\d+)?)(?:\s*[x×]\s*(?<pitch>\d+(?:\.\d+)?))?)(?:\s+(?<gender>male|female|m|f))?\s*$",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Written();
}
