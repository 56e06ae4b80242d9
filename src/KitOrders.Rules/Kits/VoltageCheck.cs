using System.Globalization;
using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Kits;

/// <summary>The coil of a kit as its row states it; null is not stated.</summary>
public sealed record CoilFacts(SupplyKind? Kind, decimal? Volts, decimal? TolerancePercent, decimal? Amps)
{
    public bool IsElectrical => Kind is not null || Volts is not null || Amps is not null;
}

/// <summary>The supply of a position; null is not recorded.</summary>
/// <param name="CableM">One-way length, m.</param>
/// <param name="CableMm2">Copper cross-section, mm².</param>
public sealed record SupplyFacts(SupplyKind? Kind, decimal? Volts, decimal? CableM, decimal? CableMm2);

/// <summary>
/// Does the coil see a voltage within its limits? ΔU = 2·L·I·r, out and back through two conductors of resistance r, the
/// maximum of IEC 60228 for class 5 plain copper at 20 °C. At the coil is supply − ΔU; the limits count as inside.
/// Without load the coil sees the full supply, so that is held against the upper limit.
/// </summary>
public static class VoltageCheck
{
    /// <summary>Ω/km by mm², IEC 60228 class 5, plain copper, 20 °C. Other cross-sections are not listed there and are unknown.</summary>
    public static IReadOnlyDictionary<decimal, decimal> OhmPerKm { get; } = new Dictionary<decimal, decimal>
    {
        [0.5m] = 39.0m,
        [0.75m] = 26.0m,
        [1.0m] = 19.5m,
        [1.5m] = 13.3m,
        [2.5m] = 7.98m,
        [4m] = 4.95m,
        [6m] = 3.30m,
    };

    /// <summary>Voltage lost on the way out and back, V; m one way, A, Ω/km.</summary>
    public static decimal Drop(decimal metres, decimal amps, decimal ohmPerKm) => 2m * metres * amps * ohmPerKm / 1000m;

    public static Finding Judge(CoilFacts coil, SupplyFacts supply)
    {
        if (!coil.IsElectrical)
        {
            return Finding.DoesNotApply("the kit has no electrical parts.");
        }

        if (coil.Kind is { } needs && supply.Kind is { } has && needs != has)
        {
            return Finding.Failed(() => $"The coil needs {Named(needs)}, the position supplies {Named(has)}.");
        }

        if (coil.Volts is not { } nominal || coil.TolerancePercent is not { } tolerance || supply.Volts is not { } volts)
        {
            return Finding.Unknown(() => NotRecorded(coil, supply));
        }

        var lowest = nominal * (1m - tolerance / 100m);
        var highest = nominal * (1m + tolerance / 100m);
        Dictionary<string, decimal> numbers = new() { ["supplyVolts"] = volts, ["lowestVolts"] = lowest, ["highestVolts"] = highest };
        if (volts > highest)
        {
            return Finding.Failed(() => Above(Apart(volts, highest)), numbers);
        }

        if (volts < lowest)
        {
            return Finding.Failed(() => TooLow(Apart(volts, lowest)), numbers);
        }

        return DropAlongCable(coil, supply) is { } drop
            ? AtTheCoil(coil, supply, volts, lowest, drop, numbers)
            : Finding.Unknown(() => NotRecorded(coil, supply), numbers);
    }

    static Finding AtTheCoil(CoilFacts coil, SupplyFacts supply, decimal volts, decimal lowest, decimal drop, Dictionary<string, decimal> numbers)
    {
        numbers["dropVolts"] = drop;
        numbers["coilVolts"] = volts - drop;
        numbers["cableM"] = supply.CableM!.Value;
        numbers["amps"] = coil.Amps!.Value;
        string Sentence() => AtTheCoilInWords(supply, volts, lowest, drop);
        if (coil.Kind is null || supply.Kind is null)
        {
            return volts - drop < lowest ? Finding.Failed(Sentence, numbers) : Finding.Unknown(() => $"{Sentence()} {NotRecorded(coil, supply)}", numbers);
        }

        return volts - drop >= lowest ? Finding.Passed(Sentence, numbers) : Finding.Failed(Sentence, numbers);
    }

    static string AtTheCoilInWords(SupplyFacts supply, decimal volts, decimal lowest, decimal drop)
    {
        var decimals = DecimalsThatTell(volts - drop, lowest);
        var along = supply.CableMm2 is { } mm2 ? string.Create(CultureInfo.InvariantCulture, $"{supply.CableM:0.##} m of {mm2:0.##} mm²") : "no cable";
        return $"{Fixed(volts, decimals)} V − {Fixed(drop, decimals)} V over {along} = {Fixed(volts - drop, decimals)} V, the coil needs at least {Fixed(lowest, decimals)} V.";
    }

    static string Above((string Supplied, string Most) v) => $"The supply of {v.Supplied} V is above the coil's {v.Most} V.";

    static string TooLow((string Supplied, string Least) v) => $"The supply of {v.Supplied} V is too low before any cable, the coil needs at least {v.Least} V.";

    /// <summary>Null when the record does not say. No length or no current is no drop, whatever the conductor.</summary>
    static decimal? DropAlongCable(CoilFacts coil, SupplyFacts supply) => (supply.CableM, coil.Amps) switch
    {
        ({ } metres, { } amps) when metres * amps == 0 => 0,
        ({ } metres, { } amps) when supply.CableMm2 is { } mm2 && OhmPerKm.TryGetValue(mm2, out var ohm) => Drop(metres, amps, ohm),
        _ => null,
    };

    static string NotRecorded(CoilFacts coil, SupplyFacts supply)
    {
        List<string> missing = [];
        void Ask(bool absent, string what)
        {
            if (absent)
            {
                missing.Add(what);
            }
        }

        Ask(coil.Kind is null, "the coil's kind of supply");
        Ask(coil.Volts is null, "the coil's volts");
        Ask(coil.TolerancePercent is null, "the coil's tolerance");
        Ask(coil.Amps is null, "the coil's amps");
        Ask(supply.Kind is null, "the position's kind of supply");
        Ask(supply.Volts is null, "the position's volts");
        Ask(supply.CableM is null, "the cable's length");
        Ask(supply.CableMm2 is null, "the cable's cross-section");
        var unlisted = supply.CableMm2 is { } mm2 && !OhmPerKm.ContainsKey(mm2)
            ? string.Create(CultureInfo.InvariantCulture, $"{mm2:0.###} mm² is not a listed cross-section, so the cable's resistance is not known.")
            : "";
        var absent = missing.Count > 0 ? $"Not recorded: {string.Join(", ", missing)}." : "";
        return string.Join(" ", new[] { absent, unlisted }.Where(s => s.Length > 0));
    }

    /// <summary>One decimal, more only where rounding would hide which of the two is the larger.</summary>
    static int DecimalsThatTell(decimal a, decimal b) =>
        Enumerable.Range(1, 4).FirstOrDefault(d => Math.Sign(Rounded(a, d) - Rounded(b, d)) == Math.Sign(a - b), 4);

    static decimal Rounded(decimal value, int decimals) => Math.Round(value, decimals, MidpointRounding.AwayFromZero);

    static (string A, string B) Apart(decimal a, decimal b) => (Fixed(a, DecimalsThatTell(a, b)), Fixed(b, DecimalsThatTell(a, b)));

    static string Fixed(decimal value, int decimals) => Rounded(value, decimals).ToString($"F{decimals}", CultureInfo.InvariantCulture);

    static string Named(SupplyKind kind) => kind switch
    {
        SupplyKind.Dc => "dc",
        SupplyKind.Ac50 => "ac 50 Hz",
        _ => "ac 60 Hz",
    };
}
