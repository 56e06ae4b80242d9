using System.Globalization;
using System.Text;

namespace KitOrders.Web.Shared;

/// <summary>A table as a file: RFC 4180, UTF-8 with a mark, so that spreadsheets read it; dates as YYYY-MM-DD, numbers with a point.</summary>
public static class Csv
{
    public static IResult File(string name, IReadOnlyList<string> heads, IEnumerable<IReadOnlyList<object?>> rows)
    {
        var text = new StringBuilder();
        Line(text, heads);
        foreach (var row in rows)
            Line(text, row);
        return Results.File([.. Encoding.UTF8.GetPreamble(), .. Encoding.UTF8.GetBytes(text.ToString())], "text/csv; charset=utf-8", name);
    }

    static void Line(StringBuilder text, IReadOnlyList<object?> values) => text.AppendJoin(',', values.Select(Cell)).Append("\r\n");

    /// <summary>A text that a spreadsheet would take for a formula is led by an apostrophe, so that it stays a text.</summary>
    public static string Cell(object? value)
    {
        var text = value switch
        {
            null => "",
            DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            decimal number => number.ToString("0.####", CultureInfo.InvariantCulture),
            IFormattable formattable => formattable.ToString(null, CultureInfo.InvariantCulture),
            _ => value.ToString() ?? "",
        };
        if (value is string && text is ['=' or '+' or '-' or '@' or '\t' or '\r', ..])
            text = "'" + text;
        return text.AsSpan().IndexOfAny(",\"\r\n") < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
    }
}
