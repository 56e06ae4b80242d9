namespace KitOrders.Rules.Procedures;

/// <summary>A unit of torque. Torque is stored in N·m and shown in the person's unit with the other beside it.</summary>
public enum TorqueUnit
{
    [WrittenAs("N·m")] NewtonMetre,
    [WrittenAs("lbf·in")] PoundForceInch,
    [WrittenAs("lbf·ft")] PoundForceFoot,
}

public static class Torque
{
    /// <summary>1 lbf·in in N·m, exact: pound × standard gravity × inch (NIST SP 811).</summary>
    public const decimal NmPerLbfIn = 0.45359237m * 9.80665m * 0.0254m;

    public static decimal ToNm(decimal value, TorqueUnit unit) => value * NmPer(unit);

    public static decimal FromNm(decimal newtonMetres, TorqueUnit unit) => newtonMetres / NmPer(unit);

    /// <summary>Reads the unit in its usual spellings: N·m, N.m, Nm; lbf·in, in-lb, lb-in; lbf·ft, ft-lb, lb-ft.</summary>
    public static bool TryReadUnit(string? text, out TorqueUnit unit)
    {
        var letters = new string([.. (text ?? "").ToLowerInvariant().Where(char.IsAsciiLetter)]);
        TorqueUnit? read = letters switch
        {
            "nm" => TorqueUnit.NewtonMetre,
            "lbfin" or "inlbf" or "lbin" or "inlb" or "inlbs" or "lbsin" => TorqueUnit.PoundForceInch,
            "lbfft" or "ftlbf" or "lbft" or "ftlb" or "ftlbs" or "lbsft" => TorqueUnit.PoundForceFoot,
            _ => null,
        };
        unit = read ?? default;
        return read is not null;
    }

    static decimal NmPer(TorqueUnit unit) => unit switch
    {
        TorqueUnit.PoundForceInch => NmPerLbfIn,
        TorqueUnit.PoundForceFoot => NmPerLbfIn * 12m,
        _ => 1m,
    };
}
