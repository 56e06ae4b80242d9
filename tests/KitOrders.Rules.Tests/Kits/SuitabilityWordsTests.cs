using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

/// <summary>What a planner reads beside each of the eleven checks, and what each of them looks at.</summary>
public class SuitabilityWordsTests
{
    static readonly DateOnly FitOn = new(2026, 3, 12);

    static readonly PumpFacts Pump = new("AP-50", Control.PilotAir, true, true, PortList.Parse("pilot=NPT 1/4 female").Value, ["LK-20"]);

    static readonly PositionFacts Position = new(Zone.Gas1, "IIB", "T3", new SupplyFacts(SupplyKind.Dc, 24m, 60m, 0.5m), new FluidFacts("solvent 3", ["PTFE"], ["NBR"], 180m, null));

    static readonly FitFacts Fit = new()
    {
        FromControl = Control.PilotAir, ConvertsTo = "AP-50S", ToControl = Control.Solenoid, NeedsSensingRod = true, Ports = [.. PortList.Parse("pilot=NPT 1/4 male").Value],
        Coil = new CoilFacts(SupplyKind.Dc, 24m, 10m, 0.5m), ExMarking = "Gb IIC T4", Materials = ["PTFE"], Once = true, Requires = ["LK-20"], Excludes = ["OLD-1"],
    };

    static readonly KitFacts Kit = new("CK-11", 3, Fit, [new LotFacts("SEAL", "L7", new DateOnly(2027, 1, 31), true)], 2);

    static readonly SuitabilityFacts Facts = new() { Pump = Pump, Position = Position, Kits = [Kit], FitOn = FitOn };

    static string Said(Check check, SuitabilityFacts facts) => Suitability.JudgeOne(check, facts.Kits[0], facts) is var f ? $"{Word.Of(f.Result)}: {f.Reason}" : "";

    static SuitabilityFacts With(Func<FitFacts, FitFacts>? fit = null, Func<PumpFacts, PumpFacts>? pump = null, Func<PositionFacts, PositionFacts>? position = null, DateOnly? on = null) =>
        Facts with { Pump = pump?.Invoke(Pump) ?? Pump, Position = position?.Invoke(Position) ?? Position, Kits = [Kit with { Fit = fit?.Invoke(Fit) ?? Fit }], FitOn = on ?? FitOn };

    public static TheoryData<Check, SuitabilityFacts, string> Sentences => new()
    {
        { Check.Model, Facts, "passed: CK-11 revision 3 fits model AP-50." },
        { Check.Model, Facts with { Kits = [Kit with { Fit = null }] }, "failed: CK-11 revision 3 has no entry for model AP-50." },
        { Check.Control, Facts, "passed: Converts from pilot air to solenoid (AP-50S)." },
        { Check.Control, With(pump: p => p with { Control = Control.Solenoid }), "failed: The kit converts from pilot air, the pump is on solenoid." },
        { Check.Control, With(f => f with { ToControl = null }), "unknown: Not recorded: the control of AP-50S." },
        { Check.SensingRod, Facts, "passed: The pump has a sensing rod." },
        { Check.SensingRod, With(pump: p => p with { SensingRod = false }), "failed: The kit needs a sensing rod, the pump has none (model AP-50 can be had with one)." },
        { Check.Ports, Facts, "passed: Port pilot: NPT 1/4 male mates with NPT 1/4 female." },
        { Check.Ports, With(f => f with { Ports = [.. PortList.Parse("pilot=NPT 3/8 male; drain=NPT 1/4 male").Value] }), "failed: Port pilot: NPT 3/8 male does not mate with NPT 1/4 female: different sizes." },
        { Check.Ports, With(f => f with { Ports = [.. PortList.Parse("drain=NPT 1/4 male").Value] }), "unknown: Port drain: model AP-50 has no port of that name on record." },
        { Check.Area, Facts, "passed: Level Gb suits zone 1. Group IIC covers IIB. T4 (135 °C) satisfies T3 (200 °C). Its surface stays below the fluid's ignition temperature of 180 °C." },
        { Check.Area, With(f => f with { ExMarking = "Gc IIA T2" }), "failed: Level Gc does not suit zone 1, which needs Ga or Gb. Group IIA does not cover IIB. T2 (300 °C) is hotter than the T3 (200 °C) the area allows. Its surface may reach 300 °C, not below the fluid's ignition temperature of 180 °C." },
        { Check.Area, With(position: p => p with { Zone = null }), "unknown: The position's zone is not recorded. Record zone none, 0, 1, 2, 20, 21 or 22." },
        { Check.Voltage, Facts, "passed: 24.0 V − 2.3 V over 60 m of 0.5 mm² = 21.7 V, the coil needs at least 21.6 V." },
        { Check.Voltage, With(position: p => p with { Supply = new SupplyFacts(SupplyKind.Dc, 28m, 0m, null) }), "failed: The supply of 28.0 V is above the coil's 26.4 V." },
        { Check.Voltage, With(position: p => p with { Supply = new SupplyFacts(SupplyKind.Dc, 20m, null, null) }), "failed: The supply of 20.0 V is too low before any cable, the coil needs at least 21.6 V." },
        { Check.Voltage, With(position: p => p with { Supply = new SupplyFacts(SupplyKind.Dc, 24m, null, 0.5m) }), "unknown: Not recorded: the cable's length." },
        { Check.Materials, Facts, "passed: The plant approves PTFE for solvent 3." },
        { Check.Materials, With(f => f with { Materials = ["PTFE", "NBR"] }), "failed: The plant refuses NBR for solvent 3." },
        { Check.Materials, With(f => f with { Materials = ["PTFE", "FKM"] }), "unknown: The plant has neither approved nor refused FKM for solvent 3." },
        { Check.Prerequisites, Facts, "passed: LK-20 is fitted." },
        { Check.Prerequisites, With(pump: p => p with { Fitted = [] }), "failed: Requires LK-20, which is neither fitted nor brought by this order or an earlier one." },
        { Check.Prerequisites, With(pump: p => p with { Fitted = [] }) with { OtherOrders = [new OtherOrderFacts("10007", new DateOnly(2026, 3, 11), ["LK-20"])] }, "passed: LK-20 is brought by order 10007 on 2026-03-11." },
        { Check.Exclusions, Facts, "passed: None of OLD-1 is fitted or brought before." },
        { Check.Exclusions, With(pump: p => p with { Fitted = ["OLD-1"] }), "failed: Cannot be beside OLD-1, which is fitted." },
        { Check.AlreadyFitted, Facts, "passed: CK-11 is not fitted yet." },
        { Check.AlreadyFitted, With(pump: p => p with { Fitted = ["CK-11"] }), "failed: CK-11 is fitted already and can be fitted only once." },
        { Check.ShelfLife, Facts, "passed: Good on 2026-03-12; the first to expire is SEAL lot L7, last good day 2027-01-31. 2 parts are not on hand and are not judged." },
        { Check.ShelfLife, With(on: new DateOnly(2027, 2, 1)), "failed: Past their shelf life on 2027-02-01: SEAL lot L7, last good day 2027-01-31. 2 parts are not on hand and are not judged." },
    };

    [Theory]
    [MemberData(nameof(Sentences))]
    public void Each_check_says_what_it_compared(Check check, SuitabilityFacts facts, string said) => Assert.Equal(said, Said(check, facts));

    // 24 V DC −15 %/+20 % of IEC/EN 61131-2 as printed at infosys.beckhoff.com (ep8601-0022): 20.4 V to 28.8 V.
    [Theory]
    [InlineData(15, 20.4, CheckResult.Passed)]
    [InlineData(15, 20.39, CheckResult.Failed)]
    [InlineData(20, 28.8, CheckResult.Passed)]
    [InlineData(20, 28.81, CheckResult.Failed)]
    public void A_tolerance_of_a_published_range_ends_where_it_is_printed(int percent, double volts, CheckResult expected) =>
        Assert.Equal(expected, VoltageCheck.Judge(new CoilFacts(SupplyKind.Dc, 24m, percent, 0.5m), new SupplyFacts(SupplyKind.Dc, (decimal)volts, 0m, null)).Result);

    /// <summary>The facts with one thing changed after the other, and what looks at it.</summary>
    public static TheoryData<LooksAt, SuitabilityFacts> Changed => new()
    {
        { LooksAt.Model, With(pump: p => p with { Control = Control.Solenoid }) },
        { LooksAt.Model, With(pump: p => p with { Ports = [] }) },
        { LooksAt.Place, With(position: p => p with { Zone = Zone.Gas0 }) },
        { LooksAt.Place, With(position: p => p with { ExGroup = null }) },
        { LooksAt.Place, With(position: p => p with { TemperatureClass = "T6" }) },
        { LooksAt.Place, With(position: p => p with { Fluid = null }) },
        { LooksAt.Place, With(position: p => p with { Fluid = new FluidFacts("acid", [], ["PTFE"], 90m, true) }) },
        { LooksAt.Supply, With(position: p => p with { Supply = new SupplyFacts(SupplyKind.Ac50, 110m, null, null) }) },
        { LooksAt.Pump, With(pump: p => p with { SensingRod = null }) },
        { LooksAt.Pump, With(pump: p => p with { Fitted = ["CK-11", "OLD-1"] }) },
        { LooksAt.Pump, Facts with { Pump = Pump with { Fitted = [] }, OtherOrders = [new OtherOrderFacts("10007", new DateOnly(2026, 3, 1), ["OLD-1"])] } },
    };

    [Theory]
    [MemberData(nameof(Changed))]
    public void A_check_comes_out_the_same_whatever_it_does_not_look_at(LooksAt changed, SuitabilityFacts facts)
    {
        Assert.All(Enum.GetValues<Check>().Where(c => Suitability.At(c) != changed), check => Assert.Equal(Said(check, Facts), Said(check, facts)));
        Assert.Contains(Enum.GetValues<Check>(), check => Suitability.At(check) == changed && Said(check, Facts) != Said(check, facts));
    }
}
