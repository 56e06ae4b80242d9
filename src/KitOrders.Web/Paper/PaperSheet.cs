using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace KitOrders.Web.Paper;

/// <param name="Title">"Job card".</param>
/// <param name="Of">What the paper is about: stands on every sheet.</param>
/// <param name="Plant">The plant's name.</param>
/// <param name="PrintedAt">In the plant's own time.</param>
public sealed record PaperHead(string Title, string Of, string Plant, DateTimeOffset PrintedAt, string PrintedBy);

/// <summary>One label over one value in the title block.</summary>
/// <param name="Wide">Its share of the width, beside the others.</param>
/// <param name="Code">What a scanner reads under it.</param>
public sealed record PaperCell(string Label, string Value, string? Sub = null, double Wide = 1, string? Code = null);

/// <summary>A paper that grows downwards, sheet by sheet, in black ink alone. Lengths are points; y grows downwards.</summary>
sealed class PaperSheet : IDisposable
{
    public const double Margin = 30, Left = Margin, Hair = 0.5, Heavy = 1.5;

    const double FootHeight = 30;

    // PDFsharp keeps fonts for the whole program and does not promise to be used by many at once.
    static readonly Lock printer = new();

    readonly PdfDocument document = new();
    readonly PaperSize size;
    readonly PaperHead head;
    XGraphics ink = null!;

    PaperSheet(PaperSize size, PaperHead head)
    {
        (this.size, this.head) = (size, head);
        document.Info.Title = $"{head.Title} {head.Of}";
        document.Info.Creator = "KitOrders";
        Turn();
    }

    public double Y { get; set; }

    public double Right => size.Width - Margin;

    public double Width => size.Width - 2 * Margin;

    public double Bottom => size.Height - Margin - FootHeight;

    /// <summary>The room of a sheet below its running head.</summary>
    public double Whole => Bottom - Margin - 26;

    public int Pages => document.PageCount;

    /// <summary>Draws a paper and answers the file.</summary>
    public static byte[] Print(PaperSize size, PaperHead head, Action<PaperSheet> draw)
    {
        lock (printer)
        {
            using var sheet = new PaperSheet(size, head);
            draw(sheet);
            return sheet.Finish();
        }
    }

    /// <summary>Goes to the next sheet where less than this is left. Answers whether it did.</summary>
    public bool Room(double height)
    {
        if (Y + height <= Bottom)
            return false;
        Turn();
        return true;
    }

    public void Turn()
    {
        var page = document.AddPage();
        (page.Width, page.Height) = (XUnit.FromPoint(size.Width), XUnit.FromPoint(size.Height));
        ink?.Dispose();
        ink = XGraphics.FromPdfPage(page);
        Y = Margin;
        if (document.PageCount == 1)
            return;
        Text($"{head.Title} {head.Of}, continued", Left, Y + 8, 10, bold: true);
        Y += 14;
        Rule(Heavy);
        Y += 10;
    }

    public double Measure(string text, double points, bool bold = false) => ink.MeasureString(PaperFonts.Spelt(text), PaperFonts.Of(points, bold)).Width;

    /// <summary>Writes one line with its baseline there.</summary>
    public void Text(string text, double x, double baseline, double points, bool bold = false, bool right = false, bool white = false)
    {
        var spelt = PaperFonts.Spelt(text);
        var font = PaperFonts.Of(points, bold);
        ink.DrawString(spelt, font, white ? XBrushes.White : XBrushes.Black, right ? x - ink.MeasureString(spelt, font).Width : x, baseline);
    }

    /// <summary>Writes one line no wider than that, smaller where it has to be.</summary>
    public void Fit(string text, double x, double baseline, double points, double width, bool bold = false, bool right = false)
    {
        var wide = Measure(text, points, bold);
        Text(text, x, baseline, wide > width ? points * width / wide : points, bold, right);
    }

    /// <summary>Lines of words no wider than that; a word longer than a line is cut.</summary>
    public IReadOnlyList<string> Lines(string text, double width, double points, bool bold = false)
    {
        var lines = new List<string>();
        var line = "";
        foreach (var word in PaperFonts.Spelt(text).Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (line.Length > 0 && Measure($"{line} {word}", points, bold) > width)
            {
                lines.Add(line);
                line = "";
            }
            line = line.Length == 0 ? word : $"{line} {word}";
            while (Measure(line, points, bold) > width && line.Length > 1)
            {
                var fits = Enumerable.Range(1, line.Length - 1).Last(n => n == 1 || Measure(line[..n], points, bold) <= width);
                lines.Add(line[..fits]);
                line = line[fits..];
            }
        }
        return line.Length > 0 ? [.. lines, line] : lines;
    }

    /// <summary>How high <see cref="Paragraph"/> will be.</summary>
    public double Height(string text, double width, double points, bool bold = false) => Lines(text, width, points, bold).Count * points * 1.35;

    /// <summary>Writes lines from the top down and answers their height.</summary>
    public double Paragraph(string text, double x, double top, double width, double points, bool bold = false)
    {
        var lines = Lines(text, width, points, bold);
        for (var n = 0; n < lines.Count; n++)
            Text(lines[n], x, top + points * (1.35 * n + 1), points, bold);
        return lines.Count * points * 1.35;
    }

    /// <summary>A line across the sheet at the present height.</summary>
    public void Rule(double thickness) => Line(Left, Y, Right, Y, thickness);

    public void Line(double x1, double y1, double x2, double y2, double thickness = Hair) => ink.DrawLine(new XPen(XColors.Black, thickness), x1, y1, x2, y2);

    public void Fill(double x, double y, double width, double height, bool white = false) => ink.DrawRectangle(white ? XBrushes.White : XBrushes.Black, x, y, width, height);

    /// <summary>A box to tick or to write in.</summary>
    public void Box(double x, double y, double width, double height, double thickness = 0.8) => ink.DrawRectangle(new XPen(XColors.Black, thickness), x, y, width, height);

    public void Circle(double x, double y, double radius) => ink.DrawEllipse(new XPen(XColors.Black, 0.8), x - radius, y - radius, 2 * radius, 2 * radius);

    /// <summary>The safety alert: a white triangle with a black stroke in it, on black.</summary>
    public void Alert(double x, double y, double side)
    {
        ink.DrawPolygon(XBrushes.White, [new XPoint(x + side / 2, y), new XPoint(x + side, y + side), new XPoint(x, y + side)], XFillMode.Winding);
        Fill(x + side * .45, y + side * .32, side * .1, side * .36);
        Fill(x + side * .45, y + side * .76, side * .1, side * .11);
    }

    /// <summary>The product's mark: two chambers and the rod between them.</summary>
    public void Mark(double x, double y, double height)
    {
        ink.DrawPie(XBrushes.Black, x, y, height, height, 90, 180);
        ink.DrawPie(XBrushes.Black, x + height * .25, y, height, height, 270, 180);
        Fill(x + height * .48, y + height * .41, height * .3, height * .18);
    }

    /// <summary>
    /// Code 128 in that room, or a QR code where it does not fit. The bars begin at x, or end at x + width; the room holds the
    /// light beside their inner end, what lies beyond the other is to be left light. Answers the width of the bars.
    /// </summary>
    public double Code(string text, double x, double y, double width, double height, double wideModule = 1.1, bool right = false)
    {
        if (Bars.Code128(text) is { } bars && width / (bars.Count + Bars.QuietModules) is var module and >= Bars.LeastModule)
        {
            module = Math.Min(module, wideModule);
            var from = right ? x + width - bars.Count * module : x;
            for (var n = 0; n < bars.Count; n++)
            {
                var run = bars.Skip(n).TakeWhile(dark => dark).Count();
                if (run > 0)
                    Fill(from + n * module, y, run * module, height);
                n += run;
            }
            return bars.Count * module;
        }
        var rows = Bars.Qr(text);
        var side = Math.Min(width, height) / rows.Count;
        x = right ? x + width - side * rows.Count : x;
        for (var row = 0; row < rows.Count; row++)
        {
            for (var column = 0; column < rows.Count; column++)
            {
                // A hair of overlap keeps printers from parting neighbours.
                if (rows[row][column])
                    Fill(x + column * side, y + row * side, side * 1.02, side * 1.02);
            }
        }
        return side * rows.Count;
    }

    public void Dispose()
    {
        ink.Dispose();
        document.Dispose();
    }

    byte[] Finish()
    {
        ink.Dispose();
        for (var n = 0; n < document.PageCount; n++)
        {
            ink = XGraphics.FromPdfPage(document.Pages[n], XGraphicsPdfPageOptions.Append);
            var baseline = size.Height - Margin;
            Fit(head.Plant, Left, baseline, 8, Width * .28);
            var note = $"{head.Title} {head.Of}, printed {Shared.Days.Moment(head.PrintedAt)} by {head.PrintedBy}: the screen is newer";
            var wide = Math.Min(Measure(note, 8), Width * .54);
            Fit(note, Left + (Width - wide) / 2, baseline, 8, Width * .54);
            Text($"{n + 1} of {document.PageCount}", Right, baseline, 8, right: true);
            ink.Dispose();
        }
        using var file = new MemoryStream();
        document.Save(file, closeStream: false);
        return file.ToArray();
    }
}
