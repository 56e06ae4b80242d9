using System.Globalization;
using System.Text;
using CsvHelper;
using CsvHelper.Configuration;

namespace KitOrders.Operations;

/// <summary>Reads the bytes of an import file: UTF-8 with or without byte order mark, RFC 4180, lines ended by CRLF or LF.</summary>
internal static class CsvText
{
    /// <summary>A cell longer than this is a quote that was never closed.</summary>
    public const int LongestCell = 20_000;

    static readonly UTF8Encoding strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    /// <summary>The text, or null with an error when the bytes are not UTF-8.</summary>
    public static string? Read(ReadOnlySpan<byte> bytes, ImportErrors errors)
    {
        if (bytes.StartsWith(Encoding.UTF8.Preamble))
            bytes = bytes[3..];
        try
        {
            return strict.GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            errors.Add(0, "", "The file is not UTF-8 text. Save it as CSV UTF-8 and import it again.");
            return null;
        }
    }

    /// <summary>The rows as they stand, blank ones left out, the header first. Stops after <paramref name="most"/> rows.</summary>
    public static List<string[]> Rows(string text, int most, ImportErrors errors)
    {
        var rows = new List<string[]>();
        var badRow = -1;
        using var parser = new CsvParser(new StringReader(text.StartsWith('\uFEFF') ? text[1..] : text), new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            Mode = CsvMode.RFC4180,
            Delimiter = ",",
            DetectDelimiter = false,
            IgnoreBlankLines = true,
            MaxFieldSize = LongestCell,
            BadDataFound = _ => badRow = rows.Count,
        });
        try
        {
            while (rows.Count <= most && parser.Read())
            {
                var cells = parser.Record!;
                if (badRow == rows.Count)
                    errors.Add(rows.Count, "", "A quote stands where none may be. Put the whole cell in quotes and write a quote within it twice.");
                badRow = -1;
                if (!Array.TrueForAll(cells, string.IsNullOrWhiteSpace))
                    rows.Add(cells);
            }
        }
        catch (MaxFieldSizeException)
        {
            errors.Add(rows.Count, "", $"A cell is longer than {LongestCell:N0} characters: a quote was opened and not closed.");
        }
        return rows;
    }
}
