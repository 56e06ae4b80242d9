using KitOrders.Rules.Procedures;
using Xunit;

namespace KitOrders.Rules.Tests.Procedures;

public class TorqueTests
{
    // NIST SP 811 factors, worked out from pound, standard gravity and inch: 0.1129848 and 1.355818 N·m.
    [Theory]
    [InlineData(1, TorqueUnit.PoundForceInch, 0.1129848290276)]
    [InlineData(1, TorqueUnit.PoundForceFoot, 1.3558179483314)]
    [InlineData(25, TorqueUnit.PoundForceInch, 2.8246207256904)]
    [InlineData(120, TorqueUnit.PoundForceInch, 13.558179483314)]
    [InlineData(10, TorqueUnit.PoundForceFoot, 13.558179483314)]
    [InlineData(450, TorqueUnit.PoundForceInch, 50.843173062428)]
    [InlineData(7.5, TorqueUnit.NewtonMetre, 7.5)]
    public void Torque_is_kept_in_newton_metres(double value, TorqueUnit unit, double newtonMetres)
    {
        var converted = Torque.ToNm((decimal)value, unit);
        Assert.InRange(converted - (decimal)newtonMetres, -0.0000000001m, 0.0000000001m);
        Assert.Equal((decimal)value, Math.Round(Torque.FromNm(converted, unit), 12));
    }

    [Theory]
    [InlineData("N·m", TorqueUnit.NewtonMetre)]
    [InlineData("Nm", TorqueUnit.NewtonMetre)]
    [InlineData("N.m", TorqueUnit.NewtonMetre)]
    [InlineData("lbf·in", TorqueUnit.PoundForceInch)]
    [InlineData("in-lb", TorqueUnit.PoundForceInch)]
    [InlineData("lbf.ft", TorqueUnit.PoundForceFoot)]
    [InlineData("ft-lbs", TorqueUnit.PoundForceFoot)]
    public void Usual_spellings_of_the_unit_are_read(string text, TorqueUnit expected)
    {
        Assert.True(Torque.TryReadUnit(text, out var unit));
        Assert.Equal(expected, unit);
    }

    [Theory]
    [InlineData("bar")]
    [InlineData("")]
    [InlineData(null)]
    public void Another_unit_is_not_read(string? text) => Assert.False(Torque.TryReadUnit(text, out _));

    // engineersedge.com torque wrench extensions; 71.1 N·m as printed at agentcalc.com, 37.5 lbf·ft at jaguarforums.com 104912.
    [Theory]
    [InlineData(80, 40, 5, AdapterPosition.InLine, 71.1)]
    [InlineData(50, 18, 6, AdapterPosition.InLine, 37.5)]
    [InlineData(80, 40, 5, AdapterPosition.RightAngle, 80)]
    public void An_adapter_changes_the_setting_by_its_length(double torque, double wrench, double adapter, AdapterPosition position, double setting) =>
        Assert.Equal((decimal)setting, Math.Round(TorqueTool.Setting((decimal)torque, (decimal)wrench, (decimal)adapter, position).Value, 1));

    // Our own example of T·L/(L−E).
    [Fact]
    public void A_reversed_adapter_needs_a_higher_setting() =>
        Assert.Equal(100m, TorqueTool.Setting(80m, 40m, 8m, AdapterPosition.Reversed).Value);

    [Theory]
    [InlineData(0, 5, AdapterPosition.InLine)]
    [InlineData(40, -1, AdapterPosition.InLine)]
    [InlineData(40, 40, AdapterPosition.Reversed)]
    public void Lengths_that_cannot_be_are_refused(double wrench, double adapter, AdapterPosition position) =>
        Assert.Equal("adapter-length", TorqueTool.Setting(80m, (decimal)wrench, (decimal)adapter, position).Refusal?.Code);

    [Theory]
    [InlineData("2026-03-12", 10, null)]
    [InlineData("2026-03-12", 50, null)]
    [InlineData("2026-03-12", 9.99, "tool-out-of-range")]
    [InlineData("2026-03-12", 50.01, "tool-out-of-range")]
    [InlineData("2026-03-13", 20, "tool-out-of-calibration")]
    public void A_tool_must_be_in_calibration_and_its_range_hold_the_setting(string on, double setting, string? code) =>
        Assert.Equal(code, new TorqueTool("TW-3", 10m, 50m, new DateOnly(2026, 3, 12)).MayBeUsed((decimal)setting, DateOnly.Parse(on))?.Code);

    [Fact]
    public void A_tool_without_calibration_or_range_on_record_is_not_used()
    {
        Assert.Equal("tool-calibration-unknown", new TorqueTool("TW-3", 10m, 50m, null).MayBeUsed(20m, new DateOnly(2026, 3, 12))?.Code);
        Assert.Equal("tool-range-unknown", new TorqueTool("TW-3", 10m, null, new DateOnly(2026, 3, 12)).MayBeUsed(20m, new DateOnly(2026, 3, 12))?.Code);
    }
}
