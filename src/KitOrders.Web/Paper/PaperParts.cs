namespace KitOrders.Web.Paper;

/// <summary>What more than one paper has: the head with its code, the title block, places to sign.</summary>
static class PaperParts
{
    /// <summary>The mark, the title and the code of what the paper is about, then a heavy rule.</summary>
    public static void Title(this PaperSheet sheet, string title, string? code, string words)
    {
        sheet.Mark(PaperSheet.Left, sheet.Y + 1, 12);
        sheet.Text("KitOrders", PaperSheet.Left + 20, sheet.Y + 11, 11, bold: true);
        sheet.Text(title, PaperSheet.Left, sheet.Y + 40, 27, bold: true);
        const double room = 200;
        if (code is not null)
            sheet.Code(code, sheet.Right - room, sheet.Y, room, 32, right: true);
        sheet.Text(words, sheet.Right, sheet.Y + 44, 10, bold: true, right: true);
        sheet.Y += 54;
        sheet.Rule(PaperSheet.Heavy);
    }

    /// <summary>Label, value and a word under it, side by side, parted by hairlines, closed by a heavy rule.</summary>
    public static void Block(this PaperSheet sheet, IReadOnlyList<PaperCell> cells)
    {
        var top = sheet.Y;
        var left = PaperSheet.Left;
        var high = cells.Any(c => c.Code is not null) ? 76 : 46;
        for (var n = 0; n < cells.Count; n++)
        {
            var wide = sheet.Width * cells[n].Wide / cells.Sum(c => c.Wide);
            var x = left + (n == 0 ? 0 : 7);
            var room = wide - (n == 0 ? 7 : 14);
            sheet.Text(cells[n].Label, x, top + 12, 8);
            var value = sheet.Lines(cells[n].Value, room, 9, bold: true);
            if (value.Count == 2 && sheet.Measure(cells[n].Value, 9, bold: true) > room)
            {
                // Two small lines read better than one tiny one.
                sheet.Text(value[0], x, top + 22, 9, bold: true);
                sheet.Text(value[1], x, top + 31.5, 9, bold: true);
            }
            else
            {
                sheet.Fit(cells[n].Value, x, top + 26, 10.5, room, bold: true);
            }
            sheet.Fit(cells[n].Sub ?? "", x, top + 41, 9.5, room);
            if (cells[n].Code is { } code)
                sheet.Code(code, x + (n == 0 ? 0 : 5), top + 46, room, 24);
            if (n > 0)
                sheet.Line(left, top, left, top + high);
            left += wide;
        }
        sheet.Y = top + high;
        sheet.Rule(PaperSheet.Heavy);
    }

    /// <summary>Lines to sign on, side by side.</summary>
    public static void Sign(this PaperSheet sheet, params string[] labels)
    {
        sheet.Room(56);
        var wide = (sheet.Width - 24 * (labels.Length - 1)) / labels.Length;
        for (var n = 0; n < labels.Length; n++)
        {
            var x = PaperSheet.Left + n * (wide + 24);
            sheet.Text(labels[n], x, sheet.Y + 12, 9);
            sheet.Line(x, sheet.Y + 46, x + wide, sheet.Y + 46, 0.8);
        }
        sheet.Y += 56;
    }

    /// <summary>A sentence that must be read, with a thick bar beside it.</summary>
    public static void Say(this PaperSheet sheet, string heading, string sentence)
    {
        var high = sheet.Height($"{heading} {sentence}", sheet.Width - 14, 9.5) + (heading.Length > 0 ? 13 : 0);
        sheet.Room(high + 10);
        var top = sheet.Y + 6;
        sheet.Fill(PaperSheet.Left, top, 3, high);
        var y = top;
        if (heading.Length > 0)
            y += sheet.Paragraph(heading, PaperSheet.Left + 12, y, sheet.Width - 14, 9.5, bold: true);
        sheet.Paragraph(sentence, PaperSheet.Left + 12, y, sheet.Width - 14, 9.5);
        sheet.Y = top + high + 6;
    }

    public static void Tick(this PaperSheet sheet, string label, double x, double y)
    {
        sheet.Box(x, y, 13, 13);
        sheet.Text(label, x + 18, y + 10.5, 9.5);
    }

    /// <summary>A label and a line to write on beside it.</summary>
    public static void Blank(this PaperSheet sheet, string label, double x, double baseline, double width)
    {
        sheet.Text(label, x, baseline, 8.5);
        sheet.Line(x + sheet.Measure(label, 8.5) + 5, baseline + 1.5, x + width, baseline + 1.5);
    }
}
