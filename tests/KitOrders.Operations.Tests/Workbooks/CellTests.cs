using KitOrders.Operations.Workbooks;
using Xunit;

namespace KitOrders.Operations.Tests.Workbooks;

public sealed class CellTests
{
    [Theory]
    [InlineData("0.1", "0.1")]
    [InlineData("1.1000000000000001", "1.1")]
    [InlineData("0.30000000000000004", "0.3")]
    [InlineData("-12.5", "-12.5")]
    [InlineData("1E-3", "0.001")]
    [InlineData("2.5E+3", "2500")]
    [InlineData("123456789012345", "123456789012345")]
    [InlineData("99999999999.9999", "99999999999.9999")]
    [InlineData("1234567890123456", null)]
    [InlineData("1E+400", null)]
    [InlineData("NaN", null)]
    public void Numbers_are_what_the_spreadsheet_shows(string raw, string? text) => Assert.Equal(text, CellText.Number(raw));

    /// <summary>ECMA-376 part 1, 18.17.4.1: serial 1 is 1900-01-01 and 60 the 29 February 1900 that never was; counted from 1904, 0 is 1904-01-01.</summary>
    [Theory]
    [InlineData("1", false, "1900-01-01")]
    [InlineData("59", false, "1900-02-28")]
    [InlineData("60", false, null)]
    [InlineData("61", false, "1900-03-01")]
    [InlineData("2958465", false, "9999-12-31")]
    [InlineData("2958466", false, null)]
    [InlineData("0", false, null)]
    [InlineData("-1", false, null)]
    [InlineData("0", true, "1904-01-01")]
    [InlineData("45992.9999", false, "2025-12-01")]
    public void Serial_numbers_are_days(string raw, bool from1904, string? day) => Assert.Equal(day, CellText.Day(raw, false, from1904));

    [Theory]
    [InlineData("45992.34722222222", "2025-12-01T08:20")]
    [InlineData("45992.99999999", "2025-12-02")]
    [InlineData("45992", "2025-12-01")]
    public void A_day_with_a_time_keeps_its_minutes(string raw, string at) => Assert.Equal(at, CellText.Day(raw, true, false));

    [Theory]
    [InlineData("yyyy\\-mm\\-dd", 1)]
    [InlineData("[$-407]d. mmmm yyyy;@", 1)]
    [InlineData("mmm", 1)]
    [InlineData("dd/mm/yy hh:mm", 2)]
    [InlineData("h:mm AM/PM", 3)]
    [InlineData("[h]:mm:ss", 3)]
    [InlineData("0.00%", 4)]
    [InlineData("General", 0)]
    [InlineData("[Red]#,##0.00 \"days\"", 0)]
    [InlineData("#,##0.00\\ \"kr\";[Red]-0", 0)]
    [InlineData("0.00E+00", 0)]
    [InlineData("@", 0)]
    public void Formats_tell_days_from_numbers(string code, int shown) => Assert.Equal((Shown)shown, CellFormats.Meaning(code));

    [Theory]
    [InlineData("plain", "plain")]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("'=1+1", "''=1+1")]
    [InlineData("'quoted", "'quoted")]
    [InlineData("-5.5", "-5.5")]
    [InlineData("- tighten", "'- tighten")]
    [InlineData("@home", "'@home")]
    [InlineData("+49 1", "'+49 1")]
    public void Text_that_would_run_is_guarded_and_comes_back(string text, string cell)
    {
        Assert.Equal(cell, FormulaText.Guarded(text));
        Assert.False(FormulaText.Runs(cell));
        Assert.Equal(text, FormulaText.Unguarded(cell));
    }

    [Theory]
    [InlineData("_x0041_ & <b>", "_x005F_x0041_ &amp; &lt;b&gt;")]
    [InlineData("a_x", "a_x")]
    public void Text_goes_into_a_workbook_and_comes_back(string text, string inside)
    {
        Assert.Equal(inside, CellText.Encode(text));
        Assert.Equal(text, CellText.Decode(System.Net.WebUtility.HtmlDecode(inside)));
    }
}
