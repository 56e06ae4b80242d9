using System.Globalization;
using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Rules.Tests.Stock;

public class CureDateTests
{
    [Theory]
    [InlineData("2025-08-14", "2025-08-14")]
    [InlineData("3Q25", "2025-09-30")]
    [InlineData("3q25", "2025-09-30")]
    [InlineData("3Q2025", "2025-09-30")]
    [InlineData("3/25", "2025-09-30")]
    [InlineData("3/2025", "2025-09-30")]
    [InlineData(" 1/24 ", "2024-03-31")]
    [InlineData("2Q24", "2024-06-30")]
    [InlineData("4Q23", "2023-12-31")]
    [InlineData("3/94", "1994-09-30")] // July to September 1994 = 3/94: ISO 2230:2002 clause 5.3, excerpt at freeisostandardspdf.com
    [InlineData("4Q20", "2020-12-31")] // cured 15 November 2020 = 4Q20, the clock starts on 1 January 2021 (oringslimited.co.uk)
    [InlineData("1Q26", "2026-03-31")]
    [InlineData("1Q27", "1927-03-31")]
    [InlineData("1Q00", "2000-03-31")]
    public void Cure_dates_are_read_as_labels_write_them(string text, string day) =>
        Assert.Equal(day, CureDate.Read(text, 2026).Value.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));

    [Theory]
    [InlineData("5Q24")]
    [InlineData("0Q24")]
    [InlineData("Q24")]
    [InlineData("12/24")]
    [InlineData("3Q5")]
    [InlineData("3Q025")]
    [InlineData("3Q0025")]
    [InlineData("3-25")]
    [InlineData("2025-02-29")]
    [InlineData("14/08/2025")]
    [InlineData("")]
    [InlineData(null)]
    public void Anything_else_is_refused(string? text) => Assert.Equal("cure-date-unreadable", CureDate.Read(text, 2026).Refusal?.Code);
}
