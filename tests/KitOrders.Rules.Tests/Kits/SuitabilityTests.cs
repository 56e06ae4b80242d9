using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

/// <summary>Invented plant: pump model AP-50 on pilot air, kit CK-11 converting it to AP-50S, kit LK-20 detecting leaks.</summary>
public class SuitabilityTests
{
    static readonly DateOnly FitOn = new(2026, 3, 12);

    static readonly PumpFacts Pump = new("AP-50", Control.PilotAir, true, true, PortList.Parse("pilot=NPT 1/4 female; exhaust=BSPP 1/2 female").Value, []);

    static readonly FluidFacts Fluid = new("solvent 3", ["PTFE", "316"], ["NBR"], null, null);

    static readonly PositionFacts Position = new(Zone.None, null, null, new SupplyFacts(SupplyKind.Dc, 24m, 60m, 0.5m), Fluid);

    static readonly FitFacts Plain = new();

    static KitFacts Kit(string kit, FitFacts? fit, params LotFacts[] lots) => new(kit, 1, fit, lots, 0);

    static SuitabilityFacts Facts(PumpFacts? pump = null, PositionFacts? position = null, params KitFacts[] kits) =>
        new() { Pump = pump ?? Pump, Position = position ?? Position, Kits = kits, FitOn = FitOn };

    static Finding One(Check check, SuitabilityFacts facts) =>
        Suitability.Judge(facts).First(j => j.Check == check).Finding;

    static Finding One(Check check, FitFacts? fit, PumpFacts? pump = null, PositionFacts? position = null) =>
        One(check, Facts(pump, position, Kit("CK-11", fit)));

    [Fact]
    public void Every_kit_gets_all_eleven_checks_in_their_order()
    {
        var judgements = Suitability.Judge(Facts(null, null, Kit("CK-11", Plain), Kit("LK-20", null)));

        Assert.Equal(22, judgements.Count);
        Assert.Equal(Enum.GetValues<Check>(), judgements.Take(11).Select(j => j.Check));
        Assert.Equal(Enum.GetValues<Check>(), judgements.Skip(11).Select(j => j.Check));
        Assert.All(judgements.Take(11), j => Assert.Equal("CK-11", j.Kit));
        Assert.All(judgements, j => Assert.NotEmpty(j.Reason));
    }

    [Fact]
    public void A_kit_that_calls_for_nothing_passes_on_a_pump_about_which_nothing_is_recorded()
    {
        var bare = new PumpFacts("AP-50", null, null, null, [], []);
        var nowhere = new PositionFacts(null, null, null, new SupplyFacts(null, null, null, null), null);

        Assert.All(Suitability.Judge(Facts(bare, nowhere, Kit("RK-01", Plain))), j => Assert.Equal((j.Check, CheckResult.Passed), (j.Check, j.Result)));
    }

    [Fact]
    public void A_kit_with_no_entry_for_the_model_fails_and_what_it_calls_for_is_not_known()
    {
        var judgements = Suitability.Judge(Facts(null, null, Kit("CK-11", null)));

        Assert.Equal(CheckResult.Failed, judgements[0].Result);
        Assert.All(judgements.Where(j => j.Check is not Check.Model and not Check.ShelfLife), j => Assert.Equal(CheckResult.Unknown, j.Result));
    }

    [Theory]
    [InlineData(null, null, null, null, CheckResult.Passed)]
    [InlineData("AP-50S", Control.PilotAir, Control.Solenoid, Control.PilotAir, CheckResult.Passed)]
    [InlineData("AP-50S", Control.PilotAir, Control.Solenoid, Control.Solenoid, CheckResult.Failed)]
    [InlineData("AP-50B", Control.PilotAir, Control.PilotAir, Control.PilotAir, CheckResult.Failed)]
    [InlineData("AP-50S", Control.PilotAir, Control.Solenoid, null, CheckResult.Unknown)]
    [InlineData("AP-50S", Control.PilotAir, null, Control.PilotAir, CheckResult.Unknown)]
    public void Control_is_what_the_kit_converts_from_and_changes(string? to, Control? from, Control? target, Control? pump, CheckResult expected) =>
        Assert.Equal(expected, One(Check.Control, new FitFacts { ConvertsTo = to, FromControl = from, ToControl = target }, Pump with { Control = pump }).Result);

    [Theory]
    [InlineData(false, null, null, CheckResult.Passed)]
    [InlineData(true, true, false, CheckResult.Passed)]
    [InlineData(true, false, true, CheckResult.Failed)]
    [InlineData(true, null, true, CheckResult.Unknown)]
    [InlineData(true, null, false, CheckResult.Unknown)]
    public void The_sensing_rod_is_the_pumps_own_record(bool needs, bool? has, bool? canBeHad, CheckResult expected) =>
        Assert.Equal(expected, One(Check.SensingRod, new FitFacts { NeedsSensingRod = needs }, Pump with { SensingRod = has, ModelTakesSensingRod = canBeHad }).Result);

    [Theory]
    [InlineData("", CheckResult.Passed, "Does not apply")]
    [InlineData("pilot=NPT 1/4 male", CheckResult.Passed, "Port pilot: NPT 1/4 male mates with NPT 1/4 female.")]
    [InlineData("pilot=NPT 1/4 male; exhaust=G 1/2 male", CheckResult.Passed, "exhaust")]
    [InlineData("pilot=NPT 3/8 male", CheckResult.Failed, "different sizes")]
    [InlineData("pilot=NPT 1/4 female", CheckResult.Failed, "both are female")]
    [InlineData("pilot=BSPT 1/4 male", CheckResult.Failed, "different thread standards")]
    [InlineData("exhaust=BSPT 1/2 male", CheckResult.Unknown, "may not seal")]
    [InlineData("drain=NPT 1/4 male", CheckResult.Unknown, "no port of that name")]
    [InlineData("drain=NPT 1/4 male; pilot=NPT 1/2 male", CheckResult.Failed, "Port pilot")]
    public void Ports_take_the_fitting_that_goes_in(string ports, CheckResult expected, string reason)
    {
        var finding = One(Check.Ports, new FitFacts { Ports = PortList.Parse(ports).Value });
        Assert.Equal(expected, finding.Result);
        Assert.Contains(reason, finding.Reason);
    }

    [Fact]
    public void The_area_is_judged_for_what_is_electrical_or_marked()
    {
        var coil = new FitFacts { Coil = new CoilFacts(SupplyKind.Dc, 24m, 10m, 0.5m), ExMarking = "Gb IIC T4" };
        var zone1 = Position with { Zone = Zone.Gas1, ExGroup = "IIB", TemperatureClass = "T3" };

        Assert.Equal(CheckResult.Passed, One(Check.Area, coil, null, zone1).Result);
        Assert.Equal(CheckResult.Failed, One(Check.Area, coil with { ExMarking = null }, null, zone1).Result);
        Assert.Equal(CheckResult.Failed, One(Check.Area, coil, null, zone1 with { Fluid = Fluid with { IgnitionC = 90m } }).Result);
        Assert.Equal(CheckResult.Unknown, One(Check.Area, coil, null, zone1 with { Zone = null }).Result);
    }

    [Fact]
    public void The_voltage_is_judged_at_the_position()
    {
        var coil = new FitFacts { Coil = new CoilFacts(SupplyKind.Dc, 24m, 10m, 0.5m) };

        Assert.Equal(CheckResult.Passed, One(Check.Voltage, coil).Result);
        Assert.Equal(CheckResult.Failed, One(Check.Voltage, coil, null, Position with { Supply = Position.Supply with { CableM = 90m } }).Result);
        Assert.Equal(CheckResult.Unknown, One(Check.Voltage, coil, null, Position with { Supply = Position.Supply with { CableM = null } }).Result);
    }

    [Theory]
    [InlineData("", CheckResult.Passed)]
    [InlineData("PTFE", CheckResult.Passed)]
    [InlineData("ptfe+316", CheckResult.Passed)]
    [InlineData("PTFE+NBR", CheckResult.Failed)]
    [InlineData("PTFE+FKM", CheckResult.Unknown)]
    [InlineData("FKM+NBR", CheckResult.Failed)]
    public void Materials_are_those_the_plant_has_approved_for_the_fluid(string materials, CheckResult expected) =>
        Assert.Equal(expected, One(Check.Materials, new FitFacts { Materials = materials.Split('+', StringSplitOptions.RemoveEmptyEntries) }).Result);

    [Fact]
    public void Materials_against_a_fluid_not_recorded_are_unknown() =>
        Assert.Equal(CheckResult.Unknown, One(Check.Materials, new FitFacts { Materials = ["PTFE"] }, null, Position with { Fluid = null }).Result);

    [Theory]
    [InlineData(null, null, false)]
    [InlineData(null, true, true)]
    [InlineData(365, null, true)]
    [InlineData(365, false, false)]
    public void Flammable_fluids_show_the_bonding_caution(int? ignition, bool? bonding, bool shown)
    {
        var finding = One(Check.Materials, Plain, null, Position with { Fluid = Fluid with { IgnitionC = ignition, Bonding = bonding } });
        Assert.Equal(shown ? Suitability.BondingCaution : null, finding.Caution);
    }

    [Fact]
    public void A_prerequisite_is_fitted_or_brought_by_the_same_order()
    {
        var needs = Kit("LK-20", Plain with { Requires = ["CK-11"] });

        Assert.Equal(CheckResult.Failed, One(Check.Prerequisites, Facts(null, null, needs)).Result);
        Assert.Equal(CheckResult.Passed, One(Check.Prerequisites, Facts(Pump with { Fitted = ["ck-11"] }, null, needs)).Result);
        Assert.Equal(CheckResult.Passed, One(Check.Prerequisites, Facts(null, null, needs, Kit("CK-11", Plain))).Result);
        Assert.False(One(Check.Prerequisites, Facts(null, null, needs, Kit("CK-11", Plain))).OnCondition);
    }

    [Theory]
    [InlineData(-1, CheckResult.Passed, true)]
    [InlineData(0, CheckResult.Failed, false)]
    [InlineData(1, CheckResult.Failed, false)]
    public void A_prerequisite_brought_by_an_earlier_order_passes_on_condition(int days, CheckResult expected, bool onCondition)
    {
        var facts = Facts(null, null, Kit("LK-20", Plain with { Requires = ["CK-11"] })) with
        {
            OtherOrders = [new OtherOrderFacts("WO-7", FitOn.AddDays(days), ["CK-11"])],
        };
        var finding = One(Check.Prerequisites, facts);

        Assert.Equal((expected, onCondition), (finding.Result, finding.OnCondition));
        Assert.Contains("WO-7", finding.Reason);
    }

    [Fact]
    public void Of_several_prerequisites_each_must_be_there()
    {
        var needs = Kit("LK-20", Plain with { Requires = ["CK-11", "RK-01"] });
        var finding = One(Check.Prerequisites, Facts(Pump with { Fitted = ["CK-11"] }, null, needs));

        Assert.Equal(CheckResult.Failed, finding.Result);
        Assert.Contains("RK-01", finding.Reason);
        Assert.DoesNotContain("CK-11", finding.Reason);
    }

    [Fact]
    public void An_exclusion_looks_at_the_pump_the_order_and_earlier_orders()
    {
        var kit = Kit("LK-20", Plain with { Excludes = ["CK-11"] });
        var alone = Facts(null, null, kit);

        Assert.Equal(CheckResult.Passed, One(Check.Exclusions, alone).Result);
        Assert.Equal(CheckResult.Failed, One(Check.Exclusions, Facts(Pump with { Fitted = ["CK-11"] }, null, kit)).Result);
        Assert.Equal(CheckResult.Failed, One(Check.Exclusions, Facts(null, null, kit, Kit("CK-11", Plain))).Result);
        Assert.Equal(CheckResult.Failed, One(Check.Exclusions, alone with { OtherOrders = [new("WO-7", FitOn.AddDays(-1), ["CK-11"])] }).Result);
        Assert.Equal(CheckResult.Passed, One(Check.Exclusions, alone with { OtherOrders = [new("WO-7", FitOn.AddDays(1), ["CK-11"])] }).Result);
    }

    [Fact]
    public void A_kit_is_neither_its_own_prerequisite_nor_its_own_exclusion()
    {
        Assert.Equal(CheckResult.Failed, One(Check.Prerequisites, Plain with { Requires = ["CK-11"] }).Result);
        Assert.Equal(CheckResult.Passed, One(Check.Exclusions, Plain with { Excludes = ["CK-11"] }).Result);
    }

    [Theory]
    [InlineData(true, true, CheckResult.Failed)]
    [InlineData(true, false, CheckResult.Passed)]
    [InlineData(false, true, CheckResult.Passed)]
    public void Only_a_once_only_kit_fails_when_it_is_fitted_already(bool once, bool fitted, CheckResult expected) =>
        Assert.Equal(expected, One(Check.AlreadyFitted, Plain with { Once = once }, Pump with { Fitted = fitted ? ["CK-11"] : [] }).Result);

    [Theory]
    [InlineData(0, CheckResult.Passed)]
    [InlineData(30, CheckResult.Passed)]
    [InlineData(-1, CheckResult.Failed)]
    [InlineData(null, CheckResult.Unknown)]
    public void Lots_must_be_good_on_the_day_of_fitting(int? daysLeft, CheckResult expected)
    {
        var lots = new LotFacts[]
        {
            new("S-4", "A1", daysLeft is { } d ? FitOn.AddDays(d) : null, true),
            new("S-5", "A2", FitOn.AddDays(400), true),
            new("B-1", "A3", null, false),
        };
        var finding = One(Check.ShelfLife, Facts(null, null, Kit("RK-01", Plain, lots)));

        Assert.Equal(expected, finding.Result);
        Assert.Equal(daysLeft ?? 400, finding.Numbers["daysLeft"]);
    }

    [Fact]
    public void A_lot_that_went_into_quarantine_after_it_was_picked_fails_whatever_its_age()
    {
        var lots = new LotFacts[] { new("S-4", "A1", FitOn.AddDays(400), true), new("B-1", "A3", null, false) { Quarantined = true } };
        var finding = One(Check.ShelfLife, Facts(null, null, Kit("RK-01", Plain, lots)));
        Assert.Equal(CheckResult.Failed, finding.Result);
        Assert.Contains("B-1 lot A3", finding.Reason);
    }

    [Fact]
    public void Parts_not_on_hand_do_not_make_the_shelf_life_unknown()
    {
        var finding = One(Check.ShelfLife, Facts(null, null, new KitFacts("RK-01", 1, Plain, [], 3)));
        Assert.Equal(CheckResult.Passed, finding.Result);
        Assert.Contains("3 parts are not on hand", finding.Reason);
    }
}
