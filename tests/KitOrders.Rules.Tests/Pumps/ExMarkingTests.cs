using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Pumps;

public class ExMarkingTests
{
    [Theory]
    [InlineData("Gb IIC T4", "Gb IIC 135")]
    [InlineData("gb iic t4", "Gb IIC 135")]
    [InlineData("Db IIIC T120C", "Db IIIC 120")]
    [InlineData("Db IIIC T120°C", "Db IIIC 120")]
    [InlineData("Db IIIC T120 °C", "Db IIIC 120")]
    [InlineData("Db IIIC T4", "Db IIIC 135")]
    [InlineData("Ex db IIB T3 Gb", "Gb IIB 200")]
    [InlineData("II 2G Ex db eb mb IIC T6 Gb", "Gb IIC 85")]
    [InlineData("II 2G Ex db IIC T4 Gb / II 2D Ex tb IIIC T135°C Db", "Gb IIC 135, Db IIIC 135")]
    [InlineData("Gb IIC T4 Db IIIC T120C", "Gb IIC 135, Db IIIC 120")]
    [InlineData("Gb IIC T4; Db IIIC T120C", "Gb IIC 135, Db IIIC 120")]
    [InlineData("Gb Db IIC T4 IIIC T120C", "Gb IIC 135, Db IIIC 120")]
    [InlineData("Gb IIB T3 Gc IIC T6", "Gb IIB 200, Gc IIC 85")]
    [InlineData("Ex db IIB T3 Gb, Ex ec IIC T6 Gc", "Gb IIB 200, Gc IIC 85")]
    [InlineData("Ex db IIC T6...T4 Gb", "Gb IIC 135")]
    [InlineData("Ex db IIC T4-T6 Gb", "Gb IIC 135")]
    [InlineData("Ex db IIB+H2 T4 Gb", "Gb IIB+H2 135")]
    [InlineData("Ex db IIC T4 Ga/Gb", "Gb IIC 135")]
    [InlineData("Ex h IIC T3C Gb", "Gb IIC 160")]
    [InlineData("EX DB IIC T4 GB", "Gb IIC 135")]
    [InlineData("db IIIC T120C", "Db IIIC 120")]
    [InlineData("Gb IIC", "Gb IIC ?")]
    [InlineData("Gb T4", "Gb ? 135")]
    public void A_marking_is_read_into_levels_with_group_and_temperature(string text, string expected)
    {
        var marking = ExMarking.Parse(text).Value;

        Assert.Equal(expected, string.Join(", ", marking.Levels.Select(l => $"{l.Level} {l.Group?.Name ?? "?"} {l.Temperature?.Celsius.ToString() ?? "?"}")));
        Assert.False(marking.IntrinsicSafety || marking.ClassDivision);
    }

    // ATEX categories 1G/2G/3G and 1D/2D/3D map to the levels of IEC 60079-0 (cablesystems.co.uk glossary, equipment protection level).
    [Theory]
    [InlineData("II 1G IIC T4", "Ga")]
    [InlineData("II 2 G EEx d IIC T4", "Gb")]
    [InlineData("II 3G Ex nA IIC T4", "Gc")]
    [InlineData("II 1D T120°C IIIC", "Da")]
    [InlineData("II 2GD Ex d IIC T4", "Gb Db")]
    [InlineData("II 3D IIIB T120°C", "Dc")]
    public void Categories_stand_for_levels_where_no_level_is_marked(string text, string levels) =>
        Assert.Equal(levels, string.Join(" ", ExMarking.Parse(text).Value.Levels.Select(l => l.Level)));

    [Theory]
    [InlineData("Ex ia IIC T4 Ga")]
    [InlineData("II 2(1)G Ex db [ia Ga] IIC T4 Gb")]
    [InlineData("Ex ib IIB T4 Gb")]
    [InlineData("intrinsically safe")]
    public void Intrinsic_safety_is_recognised(string text) => Assert.True(ExMarking.Parse(text).Value.IntrinsicSafety);

    [Theory]
    [InlineData("Class I Div 1 Groups A B C D T4")]
    [InlineData("Class I, Division 2, Groups C, D T4")]
    [InlineData("CL II DIV 1 GR E F G")]
    [InlineData("C1D2")]
    [InlineData("CID1")]
    public void Class_and_division_is_recognised(string text) => Assert.True(ExMarking.Parse(text).Value.ClassDivision);

    [Fact]
    public void A_class_with_zones_is_a_zone_marking() =>
        Assert.False(ExMarking.Parse("Class I Zone 1 AEx db IIC T4 Gb").Value.ClassDivision);

    [Theory]
    [InlineData("IP65")]
    [InlineData("IIC T4")]
    [InlineData("12")]
    [InlineData("")]
    public void What_states_no_level_is_refused(string text) =>
        Assert.Equal("ex-marking-unreadable", ExMarking.Parse(text).Refusal?.Code);

    // Maximum surface temperatures of IEC 60079-0 and the sub-classes of NEC 500, as printed at grinsafe.com.
    [Theory]
    [InlineData("T1", 450)]
    [InlineData("T2", 300)]
    [InlineData("T3", 200)]
    [InlineData("T4", 135)]
    [InlineData("T5", 100)]
    [InlineData("T6", 85)]
    [InlineData("T2A", 280)]
    [InlineData("T2B", 260)]
    [InlineData("T2C", 230)]
    [InlineData("T2D", 215)]
    [InlineData("T3A", 180)]
    [InlineData("T3B", 165)]
    [InlineData("T3C", 160)]
    [InlineData("T4A", 120)]
    public void A_temperature_class_is_its_highest_surface_temperature(string name, int celsius) =>
        Assert.Equal(celsius, SurfaceTemperature.Read(name)?.Celsius);

    [Theory]
    [InlineData("T7")]
    [InlineData("T")]
    [InlineData("120C")]
    [InlineData("")]
    [InlineData(null)]
    public void What_is_no_temperature_is_not_read(string? text) => Assert.Null(SurfaceTemperature.Read(text));
}
