using System.Globalization;
using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Kits;

/// <summary>The area of a position as recorded; null is not recorded.</summary>
/// <param name="IgnitionC">Ignition temperature of the fluid, °C, where known.</param>
public sealed record AreaFacts(Zone? Zone, string? ExGroup, string? TemperatureClass, decimal? IgnitionC);

/// <summary>
/// May an electrical or marked kit work in this area? Level against zone, group and temperature each equal or better than
/// the area requires (IEC 60079-0 and 60079-14 as printed by equipment makers), and surface temperature below the fluid's
/// ignition temperature. Intrinsic safety and class/division are not calculated here. An unknown area is answered only by
/// recording what is missing.
/// </summary>
public static class AreaCheck
{
    /// <param name="electrical">The kit's row states volts, amps or a kind of supply.</param>
    /// <param name="marking">The marking as written in the kit's row; null or blank is none.</param>
    public static Finding Judge(bool electrical, string? marking, AreaFacts area) => Judge(electrical, MarkingRead.Of(marking), area);

    /// <summary>As above, with a marking that has been read once for all the areas it is held against.</summary>
    public static Finding Judge(bool electrical, MarkingRead? marking, AreaFacts area)
    {
        var marked = marking is not null;
        if (!electrical && !marked)
        {
            return Finding.DoesNotApply("the kit is neither electrical nor marked for hazardous areas.");
        }

        return area.Zone switch
        {
            null => Missing("The position's zone is not recorded. Record zone none, 0, 1, 2, 20, 21 or 22."),
            Zone.None => Finding.Passed("The area was surveyed and is not classified."),
            { } zone when !marked => Finding.Failed(() => $"The kit is electrical and carries no marking; {Named(zone)} needs one."),
            { } zone => JudgeMarking(marking!, zone, area),
        };
    }

    static Finding JudgeMarking(MarkingRead read, Zone zone, AreaFacts area)
    {
        var text = read.Text;
        if (read.Marking is not { } marking)
        {
            return Missing(() => $"The kit's marking \"{text}\" cannot be read. Record it as level, group and temperature, such as Gb IIC T4.");
        }

        if (marking.IntrinsicSafety || marking.ClassDivision)
        {
            var why = marking.IntrinsicSafety ? "intrinsic safety" : "class and division";
            return Missing(() => $"The marking \"{text}\" uses {why}, which is not calculated here. Qualified people judge it; record equipment with a level, group and temperature that suits {Named(zone)}.");
        }

        var ofKind = marking.Levels.Where(l => l.ForGas == IsGas(zone)).ToList();
        if (ofKind.Count == 0)
        {
            return Finding.Failed(() => $"The marking \"{text}\" has no level for {(IsGas(zone) ? "gas" : "dust")}; {Named(zone)} needs {LevelsFor(zone)}.");
        }

        return ofKind.Select(l => JudgeLevel(l, zone, area)).OrderBy(f => f.Result switch
        {
            CheckResult.Passed => 0,
            CheckResult.Unknown => 1,
            _ => 2,
        }).First();
    }

    static Finding JudgeLevel(MarkedLevel marked, Zone zone, AreaFacts area)
    {
        Finding[] parts = [Level(marked, zone), Group(marked, zone, area), Temperature(marked, area), Ignition(marked, area)];
        var numbers = parts.SelectMany(p => p.Numbers).DistinctBy(n => n.Key).ToDictionary(n => n.Key, n => n.Value);
        var worst = parts.Any(p => p.Result == CheckResult.Failed) ? CheckResult.Failed
            : parts.Any(p => p.Result == CheckResult.Unknown) ? CheckResult.Unknown
            : CheckResult.Passed;
        return Finding.Of(worst, () => string.Join(" ", parts.Where(p => p.Result == worst && p.Reason.Length > 0).Select(p => p.Reason)), numbers);
    }

    static Finding Level(MarkedLevel marked, Zone zone)
    {
        var lowest = IsGas(zone) ? ProtectionLevel.Ga + Rank(zone) : ProtectionLevel.Da + Rank(zone);
        return marked.Level <= lowest
            ? Finding.Passed(() => $"Level {marked.Level} suits {Named(zone)}.")
            : Finding.Failed(() => $"Level {marked.Level} does not suit {Named(zone)}, which needs {LevelsFor(zone)}.");
    }

    static Finding Group(MarkedLevel marked, Zone zone, AreaFacts area)
    {
        if (string.IsNullOrWhiteSpace(area.ExGroup))
        {
            return Missing("The group the area requires is not recorded.");
        }

        var required = ExGroup.Read(area.ExGroup);
        if (required is null || required.IsGas != IsGas(zone))
        {
            return Missing(() => $"The area's group \"{area.ExGroup}\" is no group for {Named(zone)}. Record {(IsGas(zone) ? "IIA, IIB or IIC" : "IIIA, IIIB or IIIC")}.");
        }

        return marked.Group is not { } group ? Missing(() => $"The marking states no group for {marked.Level}; the area requires {required}.")
            : group.Covers(required) ? Finding.Passed(() => $"Group {group} covers {required}.")
            : Finding.Failed(() => $"Group {group} does not cover {required}.");
    }

    static Finding Temperature(MarkedLevel marked, AreaFacts area)
    {
        if (string.IsNullOrWhiteSpace(area.TemperatureClass))
        {
            return Missing("The temperature class the area requires is not recorded.");
        }

        if (SurfaceTemperature.Read(area.TemperatureClass) is not { } required)
        {
            return Missing(() => $"The area's temperature class \"{area.TemperatureClass}\" cannot be read. Record T1 to T6, or a figure such as T120°C.");
        }

        if (marked.Temperature is not { } temperature)
        {
            return Missing(() => $"The marking states no temperature for {marked.Level}; the area requires {required}.");
        }

        Dictionary<string, decimal> numbers = new() { ["surfaceC"] = temperature.Celsius, ["requiredC"] = required.Celsius };
        return temperature.Celsius <= required.Celsius
            ? Finding.Passed(() => $"{temperature} satisfies {required}.", numbers)
            : Finding.Failed(() => $"{temperature} is hotter than the {required} the area allows.", numbers);
    }

    static Finding Ignition(MarkedLevel marked, AreaFacts area)
    {
        if (area.IgnitionC is not { } ignition)
        {
            return Finding.Passed("");
        }

        if (marked.Temperature is not { } temperature)
        {
            return Missing(() => $"The marking states no temperature to hold against the fluid's ignition temperature of {Degrees(ignition)}.");
        }

        Dictionary<string, decimal> numbers = new() { ["surfaceC"] = temperature.Celsius, ["ignitionC"] = ignition };
        return temperature.Celsius < ignition
            ? Finding.Passed(() => $"Its surface stays below the fluid's ignition temperature of {Degrees(ignition)}.", numbers)
            : Finding.Failed(() => $"Its surface may reach {Degrees(temperature.Celsius)}, not below the fluid's ignition temperature of {Degrees(ignition)}.", numbers);
    }

    static Finding Missing(string reason) => Missing(() => reason);

    static Finding Missing(Func<string> words) => Finding.Unknown(words) with { Answerable = false };

    static string Degrees(decimal celsius) => string.Create(CultureInfo.InvariantCulture, $"{celsius:0.#} °C");

    static string Named(Zone zone) => $"zone {Word.Of(zone)}";

    static bool IsGas(Zone zone) => zone is Zone.Gas0 or Zone.Gas1 or Zone.Gas2;

    static int Rank(Zone zone) => zone switch
    {
        Zone.Gas0 or Zone.Dust20 => 0,
        Zone.Gas1 or Zone.Dust21 => 1,
        _ => 2,
    };

    static string LevelsFor(Zone zone)
    {
        var first = IsGas(zone) ? ProtectionLevel.Ga : ProtectionLevel.Da;
        return string.Join(" or ", Enumerable.Range(0, Rank(zone) + 1).Select(i => first + i));
    }
}
