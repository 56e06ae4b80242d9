using System.Globalization;
using KitOrders.Rules;

namespace KitOrders.Web.Api;

/// <summary>A day in a query, with a sentence where it cannot be read.</summary>
static class QueryDay
{
    public static Outcome<DateOnly?> Read(string? text, string name)
    {
        if (string.IsNullOrWhiteSpace(text))
            return (DateOnly?)null;
        return DateOnly.TryParseExact(text.Trim(), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) && day.Year is >= 1900 and <= 2199
            ? day
            : Refusal.Field(name, "day-unreadable", $"'{text}' is no day such as 2026-03-02 between 1900 and 2199.");
    }
}
