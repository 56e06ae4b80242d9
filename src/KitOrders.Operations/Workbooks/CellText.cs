using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml;

namespace KitOrders.Operations.Workbooks;

/// <summary>What a cell holds, as the text that the same cell has in a CSV file.</summary>
internal static partial class CellText
{
    /// <summary>Digits that a spreadsheet keeps of a number.</summary>
    public const int Digits = 15;

    /// <summary>
    /// A number as the spreadsheet shows it at its most exact: 1.1 is kept in the file as 1.1000000000000001. Null when it has more whole digits than a
    /// spreadsheet keeps or is no number.
    /// </summary>
    public static string? Number(string raw)
    {
        if (!decimal.TryParse(raw, NumberStyles.Float, CultureInfo.InvariantCulture, out var exact))
            return null;
        if (SignificantDigits(exact) > Digits)
        {
            if (decimal.Truncate(exact) == exact || !double.TryParse(raw, NumberStyles.Float, CultureInfo.InvariantCulture, out var kept)
                || !decimal.TryParse(kept.ToString("G15", CultureInfo.InvariantCulture), NumberStyles.Float, CultureInfo.InvariantCulture, out exact))
                return null;
        }
        return Plain(exact);
    }

    public static string Plain(decimal number) => number.ToString("0.############################", CultureInfo.InvariantCulture);

    public static int SignificantDigits(decimal number) =>
        Plain(Math.Abs(number)).Replace(".", "", StringComparison.Ordinal).TrimStart('0').Length;

    /// <summary>
    /// The day that a serial number stands for, with the time where <paramref name="withTime"/> asks for it and there is one. Null for what is no day: before
    /// 1900, after 9999, and the 29 February 1900 that spreadsheets count and that never was.
    /// </summary>
    /// <param name="from1904">Whether days are counted from 1904 instead of 1900.</param>
    public static string? Day(string raw, bool withTime, bool from1904)
    {
        if (!decimal.TryParse(raw, NumberStyles.Float, CultureInfo.InvariantCulture, out var serial) || serial is < 0 or >= 2_958_466)
            return null;
        var minutes = (int)decimal.Round((serial - decimal.Floor(serial)) * 24 * 60);
        var days = (int)decimal.Floor(serial) + (from1904 ? 1462 : 0) + (withTime ? minutes / (24 * 60) : 0);
        minutes %= 24 * 60;
        if (days is < 1 or 60 or > 2_958_465)
            return null;
        var day = new DateOnly(1899, 12, days < 60 ? 31 : 30).AddDays(days).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        return withTime && minutes > 0 ? $"{day}T{minutes / 60:00}:{minutes % 60:00}" : day;
    }

    /// <summary>The serial number of a day, counted from 1900.</summary>
    public static int Serial(DateOnly day) => day.DayNumber - new DateOnly(1899, 12, day < new DateOnly(1900, 3, 1) ? 31 : 30).DayNumber;

    /// <summary>Text with the characters that a workbook writes as _x000D_.</summary>
    public static string Decode(string text) => !text.Contains("_x", StringComparison.Ordinal) ? text
        : Escaped().Replace(text, m => ((char)int.Parse(m.ValueSpan[2..6], NumberStyles.HexNumber, CultureInfo.InvariantCulture)).ToString());

    /// <summary>Text as it stands inside a workbook's XML.</summary>
    public static string Encode(string text)
    {
        if (text.Contains("_x", StringComparison.Ordinal))
            text = Escaped().Replace(text, m => "_x005F" + m.Value);
        return text.AsSpan().IndexOfAny('&', '<', '>') < 0 ? text
            : text.Replace("&", "&amp;", StringComparison.Ordinal).Replace("<", "&lt;", StringComparison.Ordinal).Replace(">", "&gt;", StringComparison.Ordinal);
    }

    /// <summary>Text without what neither a cell nor XML can hold: control characters become blanks, line breaks stay.</summary>
    public static string Clean(string text)
    {
        text = text.Replace("\r\n", "\n", StringComparison.Ordinal);
        var clean = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
            clean.Append(rune.Value != '\n' && (Rune.IsControl(rune) || (rune.IsBmp && !XmlConvert.IsXmlChar((char)rune.Value))) ? " " : rune.ToString());
        return clean.ToString().Trim();
    }

    /// <summary>The letters of a column, counted from 0.</summary>
    public static string Letters(int column)
    {
        var letters = "";
        for (var left = column + 1; left > 0; left = (left - 1) / 26)
            letters = (char)('A' + ((left - 1) % 26)) + letters;
        return letters;
    }

    [GeneratedRegex("_x[0-9A-Fa-f]{4}_")]
    private static partial Regex Escaped();
}
