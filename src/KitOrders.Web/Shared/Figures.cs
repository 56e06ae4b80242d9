using System.Globalization;

namespace KitOrders.Web.Shared;

/// <summary>How numbers are written on every screen and paper; a dash for none, the unit in the head of the column.</summary>
public static class Figures
{
    public const string None = "–";

    /// <summary>1 · 0.52 · 1,250: no more decimals than the record holds, at most four.</summary>
    public static string Quantity(decimal value) => value.ToString("#,##0.####", CultureInfo.InvariantCulture);

    /// <summary>A dash for zero, as in the columns picked, reserved, short.</summary>
    public static string QuantityOrDash(decimal value) => value == 0 ? None : Quantity(value);

    /// <summary>596.20 · 1,234.50; the currency stands in the head.</summary>
    public static string Money(decimal value) => value.ToString("#,##0.00", CultureInfo.InvariantCulture);

    /// <summary>4,218,300.</summary>
    public static string Count(long value) => value.ToString("#,##0", CultureInfo.InvariantCulture);

    /// <summary>"1 line", "3 lines": a number with its word in the right form.</summary>
    public static string Of(long count, string one, string? many = null) =>
        count == 1 ? $"1 {one}" : $"{Count(count)} {many ?? one + "s"}";
}
