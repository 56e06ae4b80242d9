using System.Globalization;

namespace KitOrders.Rules.Stock;

/// <summary>
/// Cure dates as they stand on labels: a day, or a quarter, of which the last day counts (the quarter convention as printed at
/// oringslimited.co.uk and fairwayseals.co.uk; ISO 2230:2002 clause 5.3 writes July to September 1994 as 3/94).
/// </summary>
public static class CureDate
{
    /// <summary>
    /// Reads <c>2025-08-14</c>, <c>3Q25</c>, <c>3Q2025</c>, <c>3/25</c>, <c>3/2025</c>. Two-digit years up to this year's are
    /// 20yy, above 19yy. Refusal: <c>cure-date-unreadable</c>.
    /// </summary>
    /// <param name="thisYear">The plant's current year, 2000 to 2099.</param>
    public static Outcome<DateOnly> Read(string? text, int thisYear)
    {
        var written = (text ?? "").Trim();
        if (DateOnly.TryParseExact(written, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
        {
            return day;
        }

        if (written.Length is 4 or 6
            && written[0] is >= '1' and <= '4'
            && written[1] is 'Q' or 'q' or '/'
            && written[2..].All(char.IsAsciiDigit))
        {
            var year = int.Parse(written[2..], CultureInfo.InvariantCulture);
            if (written.Length == 4)
            {
                year += year <= thisYear % 100 ? 2000 : 1900;
            }

            if (year >= 1900)
            {
                return LastDayOfQuarter(written[0] - '0', year);
            }
        }

        return Refusal.Field(
            "curedOn",
            "cure-date-unreadable",
            $"\"{written}\" is neither a date such as 2025-08-14 nor a quarter such as 3Q25, 3Q2025, 3/25 or 3/2025. Copy it from the label.");
    }

    public static DateOnly LastDayOfQuarter(int quarter, int year) =>
        new(year, quarter * 3, DateTime.DaysInMonth(year, quarter * 3));
}
