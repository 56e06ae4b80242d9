using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using PdfSharp.Pdf;
using PdfSharp.Pdf.Advanced;
using PdfSharp.Pdf.IO;
using ZXing;

namespace KitOrders.Web.Tests.Paper;

/// <summary>A printed file read back: its sheets, its texts in the order in which they were written, and what its bars say to a scanner.</summary>
sealed partial class PrintedPaper
{
    PrintedPaper(double width, double height, IReadOnlyList<IReadOnlyList<string>> texts, IReadOnlyList<string> codes) =>
        (Width, Height, Texts, Codes) = (width, height, texts, codes);

    public double Width { get; }

    public double Height { get; }

    /// <summary>By sheet.</summary>
    public IReadOnlyList<IReadOnlyList<string>> Texts { get; }

    public IReadOnlyList<string> Codes { get; }

    public IReadOnlyList<string> All => [.. Texts.SelectMany(t => t)];

    public static PrintedPaper Read(byte[] file)
    {
        using var document = PdfReader.Open(new MemoryStream(file), PdfDocumentOpenMode.Import);
        var texts = new List<IReadOnlyList<string>>();
        var codes = new List<string>();
        foreach (PdfPage page in document.Pages)
        {
            var content = string.Concat(Enumerable.Range(0, page.Contents.Elements.Count)
                .Select(n => Encoding.Latin1.GetString(page.Contents.Elements.GetDictionary(n)!.Stream.UnfilteredValue) + "\n"));
            texts.Add(TextsOf(content, page));
            codes.AddRange(CodesOf(content));
        }
        var first = document.Pages[0];
        return new PrintedPaper(first.Width.Point, first.Height.Point, texts, codes);
    }

    static List<string> TextsOf(string content, PdfPage page)
    {
        var fonts = page.Resources!.Elements.GetDictionary("/Font")!;
        var maps = fonts.Elements.Keys.ToDictionary(name => name, name => Letters(fonts.Elements.GetDictionary(name)!));
        var texts = new List<string>();
        Dictionary<int, string>? font = null;
        foreach (Match match in FontOrText().Matches(content))
        {
            if (match.Groups["font"].Success)
                font = maps[match.Groups["font"].Value];
            else
                texts.Add(string.Concat(match.Groups["text"].Value.Where(char.IsAsciiHexDigit).Chunk(4).Select(h => font![Hex(new string(h))])));
        }
        return texts;
    }

    /// <summary>Glyph to letter, as the file itself tells readers that copy text.</summary>
    static Dictionary<int, string> Letters(PdfDictionary font)
    {
        var map = Encoding.Latin1.GetString(font.Elements.GetDictionary("/ToUnicode")!.Stream.UnfilteredValue);
        var letters = new Dictionary<int, string>();
        foreach (Match range in GlyphRange().Matches(map))
        {
            for (var glyph = Hex(range.Groups[1].Value); glyph <= Hex(range.Groups[2].Value); glyph++)
                letters[glyph] = char.ConvertFromUtf32(Hex(range.Groups[3].Value) + glyph - Hex(range.Groups[1].Value));
        }
        return letters;
    }

    /// <summary>Paints the upright bars as a scanner would see them, row by row, and reads each row.</summary>
    static IEnumerable<string> CodesOf(string content)
    {
        var bars = Rectangle().Matches(content).Select(m => m.Groups.Values.Skip(1).Select(g => double.Parse(g.Value, CultureInfo.InvariantCulture)).ToArray())
            .Where(r => r[2] < 8 && Math.Abs(r[3]) > 20).ToList();
        foreach (var row in bars.GroupBy(r => (Math.Round(r[1], 1), Math.Round(r[3], 1))))
        {
            foreach (var code in Parted([.. row.OrderBy(r => r[0])]))
            {
                const int scale = 12;
                const int quiet = 200;
                var from = code[0][0];
                var wide = (int)((code[^1][0] + code[^1][2] - from) * scale) + 2 * quiet;
                var light = new byte[wide * 20];
                Array.Fill(light, (byte)255);
                foreach (var bar in code)
                {
                    var start = (int)Math.Round((bar[0] - from) * scale) + quiet;
                    for (var line = 0; line < 20; line++)
                        Array.Fill(light, (byte)0, line * wide + start, (int)Math.Round(bar[2] * scale));
                }
                var read = new BarcodeReaderGeneric { Options = { PossibleFormats = [BarcodeFormat.CODE_128], TryHarder = true } }
                    .Decode(new RGBLuminanceSource(light, wide, 20, RGBLuminanceSource.BitmapFormat.Gray8));
                if (read is not null)
                    yield return read.Text;
            }
        }
    }

    /// <summary>Codes side by side are parted by more light than any code holds inside.</summary>
    static IEnumerable<List<double[]>> Parted(List<double[]> bars)
    {
        var code = new List<double[]>();
        foreach (var bar in bars)
        {
            if (code.Count > 0 && bar[0] - (code[^1][0] + code[^1][2]) > 9)
            {
                yield return code;
                code = [];
            }
            code.Add(bar);
        }
        if (code.Count > 5)
            yield return code;
    }

    static int Hex(string text) => int.Parse(text, NumberStyles.HexNumber, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"(?<font>/F\d+) [\d.-]+ Tf|<(?<text>[0-9A-Fa-f\s]*)>\s*Tj")]
    private static partial Regex FontOrText();

    [GeneratedRegex(@"<([0-9A-Fa-f]{4})>\s*<([0-9A-Fa-f]{4})>\s*<([0-9A-Fa-f]{4})>")]
    private static partial Regex GlyphRange();

    [GeneratedRegex(@"([\d.-]+) ([\d.-]+) ([\d.-]+) ([\d.-]+) re\s+f")]
    private static partial Regex Rectangle();
}
