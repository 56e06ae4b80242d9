using System.Globalization;
using System.Text;
using KitOrders.Operations.Workbooks;

namespace KitOrders.Operations;

/// <summary>
/// Writes rows as an import reads them: RFC 4180, UTF-8 with a byte order mark so that spreadsheets take it for what it is, days as 2026-03-12, numbers
/// with a decimal point.
/// </summary>
internal static class CsvLines
{
    public static async Task Write(Stream to, IReadOnlyList<string> names, IAsyncEnumerable<object?[]> rows)
    {
        await using var text = new StreamWriter(to, new UTF8Encoding(encoderShouldEmitUTF8Identifier: true), 64 * 1024, leaveOpen: true) { NewLine = "\r\n" };
        await text.WriteLineAsync(string.Join(',', names));
        var line = new StringBuilder();
        await foreach (var row in rows)
        {
            line.Clear().AppendJoin(',', row.Select(cell => Quoted(Of(cell))));
            await text.WriteLineAsync(line);
        }
    }

    /// <summary>A cell's text; what a spreadsheet would run as a formula is guarded.</summary>
    internal static string Of(object? cell) => cell switch
    {
        null => "",
        string text => FormulaText.Guarded(CellText.Clean(text)),
        DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        decimal number => CellText.Plain(number),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => throw new InvalidOperationException($"A cell cannot hold a {cell.GetType().Name}."),
    };

    static string Quoted(string text) => text.AsSpan().IndexOfAny(",\"\r\n") < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
