using System.Globalization;
using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Rules.Tests.Stock;

public class ShelfLifeTests
{
    static IReadOnlyList<Elastomer> Read(string codes) => Elastomer.Read(codes).Value;

    static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>ISO 2230:2002 storage periods and extensions as printed at epidor.com.</summary>
    [Theory]
    [InlineData(ElastomerGroup.A, 5, 2)]
    [InlineData(ElastomerGroup.B, 7, 3)]
    [InlineData(ElastomerGroup.C, 10, 5)]
    public void Storage_periods_are_those_of_the_standard(ElastomerGroup group, int period, int extension) =>
        Assert.Equal((period, extension), ShelfLife.Years(group));

    /// <summary>Bands of BS ISO 2230:2002 as printed at eapseals.com/more-info/storage.</summary>
    [Theory]
    [InlineData("NR", ElastomerGroup.A)]
    [InlineData("IR", ElastomerGroup.A)]
    [InlineData("AU", ElastomerGroup.A)]
    [InlineData("NBR", ElastomerGroup.B)]
    [InlineData("HNBR", ElastomerGroup.B)]
    [InlineData("CR", ElastomerGroup.B)]
    [InlineData("EPDM", ElastomerGroup.C)]
    [InlineData("FKM", ElastomerGroup.C)]
    [InlineData("VMQ", ElastomerGroup.C)]
    [InlineData("FVMQ", ElastomerGroup.C)]
    [InlineData("FFKM", ElastomerGroup.C)]
    public void Elastomers_stand_in_the_group_that_was_printed(string code, ElastomerGroup group)
    {
        var elastomer = Assert.Single(Read(code));
        Assert.Equal(group, elastomer.Group);
        Assert.False(elastomer.FromMemory);
    }

    [Fact]
    public void Codes_whose_group_was_never_seen_in_print_say_so() =>
        Assert.All(Read("SBR+ACM+IIR+CSM+FEPM"), e => Assert.True(e is { FromMemory: true, Ages: true }));

    /// <summary>Our own arithmetic on the printed periods and the printed quarter convention (last day of the quarter).</summary>
    [Theory]
    [InlineData("2Q24", "NBR", false, "2031-06-30")]
    [InlineData("2Q24", "NBR", true, "2034-06-30")]
    [InlineData("2Q24", "EPDM", false, "2034-06-30")]
    [InlineData("2Q24", "EPDM", true, "2039-06-30")]
    [InlineData("2Q24", "NR", false, "2029-06-30")]
    [InlineData("2Q24", "NR", true, "2031-06-30")]
    [InlineData("4Q23", "NBR", false, "2030-12-31")]
    [InlineData("2024-02-29", "NR", false, "2029-02-28")]
    [InlineData("2024-02-29", "NBR", false, "2031-02-28")]
    [InlineData("2024-02-29", "NBR+FKM", true, "2034-02-28")]
    [InlineData("2025-03-10", "FKM+NBR", false, "2032-03-10")]
    [InlineData("2025-03-10", "FKM+PTFE", false, "2035-03-10")]
    [InlineData("2025-03-10", "EPDM+NBR+NR", false, "2030-03-10")]
    public void The_last_good_day_follows_from_cure_and_the_shortest_lived_elastomer(string cured, string codes, bool extended, string last) =>
        Assert.Equal(last, Day(ShelfLife.ExpiresOn(CureDate.Read(cured, 2026).Value, Read(codes), extended)));

    [Theory]
    [InlineData("")]
    [InlineData("PTFE")]
    [InlineData("PTFE+TPV")]
    public void Without_an_elastomer_that_ages_there_is_no_expiry_and_no_cure_date_is_needed(string codes)
    {
        Assert.Null(ShelfLife.ExpiresOn(new DateOnly(2000, 1, 1), Read(codes)));
        Assert.False(ShelfLife.NeedsCureDate(Read(codes)));
        Assert.True(ShelfLife.NeedsCureDate(Read("PTFE+NBR")));
    }

    [Theory]
    [InlineData("XYZ")]
    [InlineData("NBR+")]
    [InlineData("+")]
    [InlineData("NBR,FKM")]
    public void An_unknown_elastomer_is_refused(string codes) => Assert.Equal("elastomer-unknown", Elastomer.Read(codes).Refusal?.Code);

    [Fact]
    public void Codes_are_read_in_any_case_and_once_each() => Assert.Equal("NBR+FKM", Elastomer.Write(Read(" nbr + FKM+NBR ")));

    [Theory]
    [InlineData("2024-06-30", false, true)]
    [InlineData("2024-06-29", false, false)]
    [InlineData(null, false, true)]
    [InlineData(null, true, false)]
    [InlineData("2030-01-01", true, false)]
    public void A_lot_is_usable_up_to_its_last_good_day_unless_quarantined(string? last, bool quarantined, bool usable) => Assert.Equal(
        usable,
        ShelfLife.IsUsable(last is null ? null : DateOnly.Parse(last, CultureInfo.InvariantCulture), quarantined, new DateOnly(2024, 6, 30)));
}
