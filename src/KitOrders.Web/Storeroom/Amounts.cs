using System.Globalization;
using KitOrders.Rules;

namespace KitOrders.Web.Storeroom;

/// <summary>Reads what a person wrote as a number.</summary>
static class Amounts
{
    public static Outcome<decimal> Read(string? text, string field) =>
        decimal.TryParse(text?.Trim(), NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number) ? number
            : Refusal.Field(field, "number-unreadable", $"\"{text}\" is no number. Write it like 3 or 2.5.");
}
