using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class AreaCheckTests
{
    static Finding Judge(string? marking, Zone? zone, string? group = "IIA", string? temperature = "T1", decimal? ignition = null, bool electrical = true) =>
        AreaCheck.Judge(electrical, marking, new AreaFacts(zone, group, temperature, ignition));

    // Zone against level, IEC 60079-14 as printed at cablesystems.co.uk (equipment protection level).
    [Theory]
    [InlineData(Zone.Gas0, "Ga")]
    [InlineData(Zone.Gas1, "Ga Gb")]
    [InlineData(Zone.Gas2, "Ga Gb Gc")]
    [InlineData(Zone.Dust20, "Da")]
    [InlineData(Zone.Dust21, "Da Db")]
    [InlineData(Zone.Dust22, "Da Db Dc")]
    public void A_level_suits_the_zones_it_is_made_for_and_no_other(Zone zone, string suitable)
    {
        var gas = suitable[0] == 'G';
        foreach (var level in Enum.GetNames<ProtectionLevel>())
        {
            var expected = suitable.Split(' ').Contains(level) ? CheckResult.Passed : CheckResult.Failed;
            var marking = level[0] == 'G' ? $"{level} IIC T6" : $"{level} IIIC T80°C";
            Assert.Equal((level, expected), (level, Judge(marking, zone, gas ? "IIA" : "IIIA", "T3").Result));
        }
    }

    // IIC covers IIB covers IIA; IIIC covers the others (bishopengineeringth.com, hazardous area).
    [Theory]
    [InlineData("Gb IIC T4", Zone.Gas1, "IIC", CheckResult.Passed)]
    [InlineData("Gb IIC T4", Zone.Gas1, "IIB", CheckResult.Passed)]
    [InlineData("Gb IIB T4", Zone.Gas1, "IIA", CheckResult.Passed)]
    [InlineData("Gb IIB T4", Zone.Gas1, "IIC", CheckResult.Failed)]
    [InlineData("Gb IIA T4", Zone.Gas1, "IIB", CheckResult.Failed)]
    [InlineData("Gb IIB+H2 T4", Zone.Gas1, "IIB", CheckResult.Passed)]
    [InlineData("Gb IIB+H2 T4", Zone.Gas1, "IIC", CheckResult.Failed)]
    [InlineData("Db IIIC T120°C", Zone.Dust21, "IIIA", CheckResult.Passed)]
    [InlineData("Db IIIB T120°C", Zone.Dust21, "IIIC", CheckResult.Failed)]
    public void A_group_covers_itself_and_the_lesser_ones(string marking, Zone zone, string required, CheckResult expected) =>
        Assert.Equal(expected, Judge(marking, zone, required, "T4").Result);

    // T4 satisfies T3 (bishopengineeringth.com); class limits of IEC 60079-0 as printed at cmp-products.com.
    [Theory]
    [InlineData("Gb IIC T4", "T3", CheckResult.Passed)]
    [InlineData("Gb IIC T4", "T4", CheckResult.Passed)]
    [InlineData("Gb IIC T3", "T4", CheckResult.Failed)]
    [InlineData("Gb IIC T6...T3", "T4", CheckResult.Failed)]
    [InlineData("Gb IIC", "T4", CheckResult.Unknown)]
    [InlineData("Gb IIC T4", "hot", CheckResult.Unknown)]
    public void A_marked_temperature_satisfies_the_class_when_it_is_not_hotter(string marking, string required, CheckResult expected) =>
        Assert.Equal(expected, Judge(marking, Zone.Gas1, "IIC", required).Result);

    [Theory]
    [InlineData("Db IIIC T120°C", "T120°C", CheckResult.Passed)]
    [InlineData("Db IIIC T120C", "T125C", CheckResult.Passed)]
    [InlineData("Db IIIC T130°C", "T120°C", CheckResult.Failed)]
    public void A_dust_area_may_require_a_figure(string marking, string required, CheckResult expected) =>
        Assert.Equal(expected, Judge(marking, Zone.Dust21, "IIIC", required).Result);

    // Required class by ignition temperature, °C, as printed in the gas table at e2s.com: the class's limit lies below it, the next hotter one does not.
    [Theory]
    [InlineData("acetone", 465, "T1", null)]
    [InlineData("ethanol", 365, "T2", "T1")]
    [InlineData("toluene", 535, "T1", null)]
    [InlineData("xylene", 463, "T1", null)]
    [InlineData("cyclohexane", 245, "T3", "T2")]
    [InlineData("kerosene", 295, "T3", "T2")]
    [InlineData("diethyl ether", 160, "T4", "T3")]
    [InlineData("hydrogen", 500, "T1", null)]
    [InlineData("acetylene", 305, "T2", "T1")]
    [InlineData("carbon disulfide", 95, "T6", "T5")]
    [InlineData("propan-2-ol", 399, "T2", "T1")]
    public void The_surface_stays_below_the_ignition_temperature_of_the_fluid(string fluid, int ignition, string enough, string? tooHot)
    {
        Assert.Equal((fluid, CheckResult.Passed), (fluid, Judge($"Gb IIC {enough}", Zone.Gas1, "IIC", "T1", ignition).Result));
        if (tooHot is not null)
        {
            Assert.Equal((fluid, CheckResult.Failed), (fluid, Judge($"Gb IIC {tooHot}", Zone.Gas1, "IIC", "T1", ignition).Result));
        }
    }

    [Fact]
    public void A_surface_exactly_at_the_ignition_temperature_fails() =>
        Assert.Equal(CheckResult.Failed, Judge("Gb IIC T4", Zone.Gas1, "IIC", "T4", 135).Result);

    [Theory]
    [InlineData("Gb IIB T3", "Group IIB does not cover IIC. T3 (200 °C) is hotter than the T4 (135 °C) the area allows.")]
    [InlineData("Gc IIC T4", "Level Gc does not suit zone 1, which needs Ga or Gb.")]
    public void Everything_that_fails_is_named(string marking, string reason) =>
        Assert.Equal(reason, Judge(marking, Zone.Gas1, "IIC", "T4").Reason);

    [Theory]
    [InlineData(null, "T4")]
    [InlineData("IIC", null)]
    [InlineData("IIIC", "T4")]
    [InlineData("IID", "T4")]
    public void What_the_area_requires_and_is_not_recorded_is_unknown_and_needs_recording(string? group, string? temperature)
    {
        var finding = Judge("Gb IIC T6", Zone.Gas1, group, temperature);
        Assert.Equal(CheckResult.Unknown, finding.Result);
        Assert.False(finding.Answerable);
    }

    [Fact]
    public void A_wrong_level_fails_even_where_the_group_is_not_recorded() =>
        Assert.Equal(CheckResult.Failed, Judge("Gc IIC T6", Zone.Gas1, null, "T4").Result);

    [Fact]
    public void One_suitable_level_of_several_is_enough()
    {
        Assert.Equal(CheckResult.Passed, Judge("Gb IIB T3 Gc IIC T6", Zone.Gas2, "IIC", "T6").Result);
        Assert.Equal(CheckResult.Failed, Judge("Gb IIB T3 Gc IIC T6", Zone.Gas1, "IIC", "T6").Result);
        Assert.Equal(CheckResult.Passed, Judge("Gb IIC T4 Db IIIC T120C", Zone.Dust21, "IIIC", "T125C").Result);
    }

    [Theory]
    [InlineData("Ex ia IIC T4 Ga", Zone.Gas1, CheckResult.Unknown)]
    [InlineData("Class I Div 1 Group D T4", Zone.Gas1, CheckResult.Unknown)]
    [InlineData("made for bad places", Zone.Gas1, CheckResult.Unknown)]
    [InlineData("Ex ia IIC T4 Ga", Zone.None, CheckResult.Passed)]
    [InlineData(null, Zone.None, CheckResult.Passed)]
    [InlineData(null, Zone.Gas2, CheckResult.Failed)]
    [InlineData(" ", Zone.Dust22, CheckResult.Failed)]
    [InlineData(null, null, CheckResult.Unknown)]
    [InlineData("Ga IIC T6", null, CheckResult.Unknown)]
    public void Electrical_kits_need_a_zone_on_record_and_a_marking_that_can_be_calculated(string? marking, Zone? zone, CheckResult expected)
    {
        var finding = Judge(marking, zone, "IIC", "T4");
        Assert.Equal(expected, finding.Result);
        Assert.False(finding.Answerable);
    }

    [Fact]
    public void A_kit_that_is_neither_electrical_nor_marked_may_go_anywhere()
    {
        Assert.Equal(CheckResult.Passed, Judge(null, null, null, null, null, electrical: false).Result);
        Assert.Equal(CheckResult.Passed, Judge(null, Zone.Gas0, null, null, null, electrical: false).Result);
    }

    [Fact]
    public void A_marked_kit_without_electrics_is_judged_by_its_marking() =>
        Assert.Equal(CheckResult.Failed, Judge("Ex h IIB T3 Gb", Zone.Gas1, "IIC", "T3", electrical: false).Result);

    [Fact]
    public void The_temperatures_compared_are_given_as_numbers()
    {
        var numbers = Judge("Gb IIC T4", Zone.Gas1, "IIC", "T3", 160).Numbers;
        Assert.Equal((135m, 200m, 160m), (numbers["surfaceC"], numbers["requiredC"], numbers["ignitionC"]));
    }
}
