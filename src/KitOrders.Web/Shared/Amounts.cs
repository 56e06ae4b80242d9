using System.Globalization;
using KitOrders.Rules;

namespace KitOrders.Web.Shared;

/// <summary>Reads what a person wrote as a number.</summary>
public static class Amounts
{
    /// <summary>
    /// The number exactly as written. Refusals: <c>number-unreadable</c>; <c>number-too-large</c> and <c>number-too-fine</c> for
    /// what no record can hold, however it is meant.
    /// </summary>
    public static Outcome<decimal> Read(string? text, string field)
    {
        var written = text?.Trim() ?? "";
        if (written.Length == 0)
            return Refusal.Field(field, "number-unreadable", "Nothing is written here. Write a number like 3 or 2.5.");
        var figures = written.TrimStart('-', '+');
        if (!figures.Any(char.IsAsciiDigit) || figures.Any(c => !char.IsAsciiDigit(c) && c != '.') || figures.Count(c => c == '.') > 1)
            return Refusal.Field(field, "number-unreadable", $"\"{written}\" is no number. Write it like 3 or 2.5.");
        if (figures.Split('.') is [_, var behind] && behind.TrimEnd('0').Length > 4)
            return Refusal.Field(field, "number-too-fine", $"{written} has more than four decimals. Give at most four.");
        return decimal.TryParse(written, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number) ? number
            : Refusal.Field(field, "number-too-large", $"{written} is larger than can be kept. Look at it again.");
    }
}
