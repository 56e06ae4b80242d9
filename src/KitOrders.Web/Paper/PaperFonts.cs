using PdfSharp.Drawing;
using PdfSharp.Fonts;

namespace KitOrders.Web.Paper;

/// <summary>The product's own face, embedded in every file, so that paper looks the same wherever it is printed.</summary>
sealed class PaperFonts : IFontResolver
{
    const string Family = "Atkinson Hyperlegible Next", Regular = "AtkinsonHyperlegibleNext-Regular", Bold = "AtkinsonHyperlegibleNext-Bold";

    // PDFsharp knows one resolver for the whole program, set before its first font.
    static PaperFonts() => GlobalFontSettings.FontResolver = new PaperFonts();

    public static XFont Of(double size, bool bold) => new(Family, size, bold ? XFontStyleEx.Bold : XFontStyleEx.Regular, XPdfFontOptions.UnicodeDefault);

    /// <summary>Signs that the face does not hold, spelt with those it does.</summary>
    public static string Spelt(string text) => text.ReplaceLineEndings(" ")
        .Replace("≥", ">=", StringComparison.Ordinal).Replace("≤", "<=", StringComparison.Ordinal).Replace("→", "->", StringComparison.Ordinal)
        .Replace("Ω", "ohm", StringComparison.Ordinal).Replace("\u2126", "ohm", StringComparison.Ordinal)
        .Replace("µ", "u", StringComparison.Ordinal).Replace("μ", "u", StringComparison.Ordinal).Replace("⌀", "Ø", StringComparison.Ordinal);

    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? Bold : Regular);

    public byte[]? GetFont(string faceName)
    {
        using var stream = typeof(PaperFonts).Assembly.GetManifestResourceStream($"{faceName}.ttf")
            ?? throw new InvalidOperationException($"The font {faceName} is not embedded.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
