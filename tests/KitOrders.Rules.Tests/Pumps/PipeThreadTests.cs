using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Pumps;

public class PipeThreadTests
{
    [Theory]
    [InlineData("NPT 1/4 female", "NPT 1/4 female", true)]
    [InlineData("npt 1/2 MALE", "NPT 1/2 male", true)]
    [InlineData("NPT 1/4", "NPT 1/4", true)]
    [InlineData("NPT 1 1/4 male", "NPT 1-1/4 male", true)]
    [InlineData("NPT 1-1/2\" female", "NPT 1-1/2 female", true)]
    [InlineData("BSPT 3/8 male", "BSPT 3/8 male", true)]
    [InlineData("BSPP 1/4 female", "BSPP 1/4 female", false)]
    [InlineData("G1/4 female", "BSPP 1/4 female", false)]
    [InlineData("R 1/2", "BSPT 1/2 male", true)]
    [InlineData("Rc 1/2", "BSPT 1/2 female", true)]
    [InlineData("Rp 1/2", "BSPP 1/2 female", false)]
    [InlineData("M12x1 female", "M12x1 female", false)]
    [InlineData("M12×1 male", "M12x1 male", false)]
    [InlineData("M 8 x 0.75", "M8x0.75", false)]
    [InlineData("M5 female", "M5x0.8 female", false)]
    public void A_thread_is_read_and_printed_in_one_form(string written, string printed, bool taper)
    {
        var thread = PipeThread.Parse(written).Value;

        Assert.Equal(printed, thread.ToString());
        Assert.Equal(taper, thread.IsTaper);
        Assert.Equal(thread, PipeThread.Parse(printed).Value);
    }

    [Theory]
    [InlineData("", "thread-unreadable")]
    [InlineData("1/4", "thread-unreadable")]
    [InlineData("NPTF 1/4 female", "thread-unreadable")]
    [InlineData("NPT 1/4 both", "thread-unreadable")]
    [InlineData("R 1/4 female", "thread-unreadable")]
    [InlineData("NPT 5/8 male", "thread-size-unknown")]
    [InlineData("G 7/16", "thread-size-unknown")]
    [InlineData("M12x20", "thread-size-unknown")]
    [InlineData("M13", "thread-size-unknown")]
    public void What_is_no_thread_is_refused(string written, string code) =>
        Assert.Equal(code, PipeThread.Parse(written).Refusal?.Code);

    // ASME B1.20.1, outside diameters in inches as printed at nusil.avantorsciences.com.
    [Theory]
    [InlineData("1/8", 0.405)]
    [InlineData("1/4", 0.540)]
    [InlineData("3/8", 0.675)]
    [InlineData("1/2", 0.840)]
    [InlineData("3/4", 1.050)]
    [InlineData("1", 1.315)]
    [InlineData("1-1/4", 1.660)]
    [InlineData("1-1/2", 1.900)]
    [InlineData("2", 2.375)]
    [InlineData("3", 3.500)]
    public void An_npt_thread_has_the_outside_diameter_of_its_pipe(string size, double inches) =>
        Assert.Equal((decimal)inches * 25.4m, PipeThread.Parse($"NPT {size}").Value.OutsideDiameterMm);

    // ISO 228 / ISO 7 major diameters in inches as printed at threadchart.net/standard/bsp.html; millimetres are rounded to 0.001.
    [Theory]
    [InlineData("1/8", 0.3830)]
    [InlineData("1/4", 0.5180)]
    [InlineData("3/8", 0.6560)]
    [InlineData("1/2", 0.8250)]
    [InlineData("3/4", 1.0410)]
    [InlineData("1", 1.3090)]
    [InlineData("1-1/4", 1.6500)]
    [InlineData("1-1/2", 1.8820)]
    [InlineData("2", 2.3470)]
    [InlineData("3", 3.4600)]
    public void A_bsp_thread_has_the_major_diameter_of_its_standard(string size, double inches)
    {
        Assert.Equal(Math.Round((decimal)inches * 25.4m, 3), PipeThread.Parse($"G {size}").Value.OutsideDiameterMm);
        Assert.Equal(Math.Round((decimal)inches * 25.4m, 3), PipeThread.Parse($"R {size}").Value.OutsideDiameterMm);
    }

    // ISO 7 millimetres as printed in the Mechanical Engineer's Pocket Book table at oreilly.com.
    [Theory]
    [InlineData("1/8", 9.728)]
    [InlineData("1/4", 13.157)]
    [InlineData("3/8", 16.662)]
    public void A_bsp_thread_has_the_printed_millimetres(string size, double millimetres) =>
        Assert.Equal((decimal)millimetres, PipeThread.Parse($"BSPT {size}").Value.OutsideDiameterMm);

    [Fact]
    public void A_metric_thread_has_its_nominal_diameter() =>
        Assert.Equal(12m, PipeThread.Parse("M12x1").Value.OutsideDiameterMm);

    [Theory]
    [InlineData("NPT 1/4 female", "NPT 1/4 male", Mating.Mates)]
    [InlineData("NPT 1/4 male", "NPT 1/4 female", Mating.Mates)]
    [InlineData("BSPT 1/4 female", "BSPT 1/4 male", Mating.Mates)]
    [InlineData("BSPP 1/4 female", "G 1/4 male", Mating.Mates)]
    [InlineData("M12x1 female", "M12x1 male", Mating.Mates)]
    [InlineData("BSPP 1/4 female", "BSPT 1/4 male", Mating.Unproven)]
    [InlineData("BSPT 1/4 male", "BSPP 1/4 female", Mating.Unproven)]
    [InlineData("BSPT 1/4 female", "BSPP 1/4 male", Mating.DoesNot)]
    [InlineData("BSPP 3/8 female", "BSPT 1/4 male", Mating.DoesNot)]
    [InlineData("NPT 1/4 female", "NPT 3/8 male", Mating.DoesNot)]
    [InlineData("NPT 1/4 female", "NPT 1/4 female", Mating.DoesNot)]
    [InlineData("M12x1 female", "M12x1.5 male", Mating.DoesNot)]
    [InlineData("M12x1 female", "NPT 1/4 male", Mating.DoesNot)]
    [InlineData("NPT 1/4 female", "NPT 1/4", Mating.Unproven)]
    [InlineData("NPT 1/4", "NPT 3/8 male", Mating.DoesNot)]
    public void Threads_mate_when_standard_and_size_agree_and_genders_differ(string port, string fitting, Mating expected) =>
        Assert.Equal(expected, PipeThread.Mate(PipeThread.Parse(port).Value, PipeThread.Parse(fitting).Value).Result);

    // NPT and BSP do not mix, 60° against 55° (ASME B1.20.1, ISO 228), not even at 1/2 and 3/4 where both have 14 threads per inch.
    [Theory]
    [InlineData("1/4")]
    [InlineData("1/2")]
    [InlineData("3/4")]
    public void Npt_and_bsp_never_mate(string size)
    {
        var port = PipeThread.Parse($"NPT {size} female").Value;
        Assert.Equal(Mating.DoesNot, PipeThread.Mate(port, PipeThread.Parse($"BSPT {size} male").Value).Result);
        Assert.Equal(Mating.DoesNot, PipeThread.Mate(port, PipeThread.Parse($"BSPP {size} male").Value).Result);
    }
}
