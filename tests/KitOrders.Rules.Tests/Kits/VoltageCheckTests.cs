using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class VoltageCheckTests
{
    static readonly CoilFacts Coil = new(SupplyKind.Dc, 24m, 10m, 0.5m);
    static readonly SupplyFacts Supply = new(SupplyKind.Dc, 24m, 60m, 0.5m);

    // IEC 60228 class 5 copper, plain, maximum Ω/km at 20 °C, as printed at mycableengineering.com (iec-60228-dc-resistance).
    [Theory]
    [InlineData(0.5, 39.0)]
    [InlineData(0.75, 26.0)]
    [InlineData(1.0, 19.5)]
    [InlineData(1.5, 13.3)]
    [InlineData(2.5, 7.98)]
    [InlineData(4, 4.95)]
    [InlineData(6, 3.30)]
    public void The_resistance_is_the_maximum_of_the_standard(double mm2, double ohmPerKm) =>
        Assert.Equal((decimal)ohmPerKm, VoltageCheck.OhmPerKm[(decimal)mm2]);

    // Our own example on the IEC 60228 values: a 0.5 A coil over 100 m.
    [Theory]
    [InlineData(0.5, 3.900)]
    [InlineData(0.75, 2.600)]
    [InlineData(1.0, 1.950)]
    [InlineData(1.5, 1.330)]
    [InlineData(2.5, 0.798)]
    public void The_drop_is_twice_length_times_current_times_resistance(double mm2, double volts) =>
        Assert.Equal((decimal)volts, VoltageCheck.Drop(100m, 0.5m, VoltageCheck.OhmPerKm[(decimal)mm2]));

    // Our own example on the IEC 60228 values: the longest runs for a drop of 2.4 V at 0.5 A.
    [Theory]
    [InlineData(0.5, 61.5)]
    [InlineData(0.75, 92.3)]
    [InlineData(1.0, 123.0)]
    [InlineData(1.5, 180.4)]
    [InlineData(2.5, 300.7)]
    public void The_longest_run_passes_and_a_little_more_fails(double mm2, double metres)
    {
        var run = Supply with { CableM = (decimal)metres, CableMm2 = (decimal)mm2 };
        Assert.Equal(CheckResult.Passed, VoltageCheck.Judge(Coil, run).Result);
        Assert.Equal(CheckResult.Failed, VoltageCheck.Judge(Coil, run with { CableM = run.CableM + 0.2m }).Result);
    }

    [Fact]
    public void The_reason_shows_the_numbers()
    {
        var finding = VoltageCheck.Judge(Coil, Supply);

        Assert.Equal("24.0 V − 2.3 V over 60 m of 0.5 mm² = 21.7 V, the coil needs at least 21.6 V.", finding.Reason);
        Assert.Equal(2.34m, finding.Numbers["dropVolts"]);
        Assert.Equal(21.66m, finding.Numbers["coilVolts"]);
        Assert.Equal(21.6m, finding.Numbers["lowestVolts"]);
    }

    [Fact]
    public void A_near_miss_is_written_with_the_decimals_that_tell()
    {
        var finding = VoltageCheck.Judge(Coil, Supply with { CableM = 62m });
        Assert.Equal(CheckResult.Failed, finding.Result);
        Assert.Equal("24.00 V − 2.42 V over 62 m of 0.5 mm² = 21.58 V, the coil needs at least 21.60 V.", finding.Reason);
    }

    [Theory]
    [InlineData(26.4, CheckResult.Passed)]
    [InlineData(26.5, CheckResult.Failed)]
    [InlineData(21.6, CheckResult.Passed)]
    [InlineData(21.5, CheckResult.Failed)]
    public void The_limits_count_as_inside(double supplied, CheckResult expected) =>
        Assert.Equal(expected, VoltageCheck.Judge(Coil, Supply with { Volts = (decimal)supplied, CableM = 0m }).Result);

    [Fact]
    public void Exactly_the_lowest_voltage_at_the_end_of_the_cable_passes() =>
        Assert.Equal(CheckResult.Passed, VoltageCheck.Judge(Coil with { Amps = 1m }, Supply with { CableM = 80m, CableMm2 = 1m, Volts = 24.72m }).Result);

    [Theory]
    [InlineData(SupplyKind.Dc, SupplyKind.Ac50)]
    [InlineData(SupplyKind.Ac50, SupplyKind.Ac60)]
    [InlineData(SupplyKind.Ac60, SupplyKind.Dc)]
    public void Another_kind_of_supply_fails_before_anything_else(SupplyKind coil, SupplyKind supply)
    {
        var finding = VoltageCheck.Judge(Coil with { Kind = coil, Volts = null }, Supply with { Kind = supply, CableM = null });
        Assert.Equal(CheckResult.Failed, finding.Result);
    }

    [Fact]
    public void A_kit_without_electrics_does_not_call_for_a_supply() =>
        Assert.Equal(CheckResult.Passed, VoltageCheck.Judge(new CoilFacts(null, null, null, null), new SupplyFacts(null, null, null, null)).Result);

    public static TheoryData<string, CoilFacts, SupplyFacts> Unanswered => new()
    {
        { "the coil's kind of supply", Coil with { Kind = null }, Supply },
        { "the coil's volts", Coil with { Volts = null }, Supply },
        { "the coil's tolerance", Coil with { TolerancePercent = null }, Supply },
        { "the coil's amps", Coil with { Amps = null }, Supply },
        { "the position's kind of supply", Coil, Supply with { Kind = null } },
        { "the position's volts", Coil, Supply with { Volts = null } },
        { "the cable's length", Coil, Supply with { CableM = null } },
        { "the cable's cross-section", Coil, Supply with { CableMm2 = null } },
        { "0.34 mm² is not a listed cross-section", Coil, Supply with { CableMm2 = 0.34m } },
    };

    [Theory]
    [MemberData(nameof(Unanswered))]
    public void What_the_record_cannot_answer_is_unknown_and_named(string missing, CoilFacts coil, SupplyFacts supply)
    {
        var finding = VoltageCheck.Judge(coil, supply);
        Assert.Equal(CheckResult.Unknown, finding.Result);
        Assert.Contains(missing, finding.Reason);
        Assert.True(finding.Answerable);
    }

    [Fact]
    public void A_supply_outside_the_limits_fails_whatever_the_cable() =>
        Assert.Equal(CheckResult.Failed, VoltageCheck.Judge(Coil, Supply with { Volts = 110m, CableM = null }).Result);
}
