namespace KitOrders.Rules.Pumps;

/// <summary>How the air valve is shifted.</summary>
public enum Control
{
    PilotAir,
    Solenoid,
}

/// <summary>
/// Hazardous area by zone: 0, 1 and 2 for gas, 20, 21 and 22 for dust. <see cref="None"/> is surveyed and not classified;
/// not recorded is no zone at all (null), never <see cref="None"/>.
/// </summary>
public enum Zone
{
    None,
    [WrittenAs("0")] Gas0,
    [WrittenAs("1")] Gas1,
    [WrittenAs("2")] Gas2,
    [WrittenAs("20")] Dust20,
    [WrittenAs("21")] Dust21,
    [WrittenAs("22")] Dust22,
}

/// <summary>The kind of electrical supply at a position.</summary>
public enum SupplyKind
{
    Dc,
    Ac50,
    Ac60,
}
