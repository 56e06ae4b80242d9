using System.Globalization;

namespace KitOrders.Operations;

/// <summary>
/// Text that a spreadsheet would run as a formula. A file never holds it raw: an export puts an apostrophe before it, an import takes that one off
/// again, and refuses the text without one.
/// </summary>
internal static class FormulaText
{
    const char Guard = '\'';

    public static bool Runs(ReadOnlySpan<char> cell)
    {
        var text = cell.TrimStart();
        return text.Length > 0 && (text[0] is '=' or '+' or '@'
            || (text[0] == '-' && !decimal.TryParse(text, NumberStyles.Number, CultureInfo.InvariantCulture, out _)));
    }

    /// <summary>Text that is guarded already, by whoever wrote it, gets one more: what is put on is what is taken off.</summary>
    public static string Guarded(string text) => Runs(text.AsSpan().TrimStart(Guard)) ? Guard + text : text;

    public static string Unguarded(string cell) => cell[0] == Guard && Runs(cell.AsSpan().TrimStart(Guard)) ? cell[1..] : cell;
}
