namespace KitOrders.Web.Paper;

/// <summary>Labels for shelves: the bin as large as it goes, with its code; two across, six down, cut along the hairlines.</summary>
static class BinLabels
{
    const int Across = 2, Down = 6;

    public const int OnASheet = Across * Down;

    public static byte[] Print(IReadOnlyList<string> bins, PaperSize size, PaperHead head) => PaperSheet.Print(size, head, sheet =>
    {
        var wide = sheet.Width / Across;
        var high = (sheet.Bottom - PaperSheet.Margin - 26) / Down;
        for (var n = 0; n < bins.Count; n++)
        {
            var place = n % OnASheet;
            if (n > 0 && place == 0)
                sheet.Turn();
            if (place == 0)
                sheet.Y = PaperSheet.Margin + 26;
            Label(sheet, bins[n], PaperSheet.Left + place % Across * wide, sheet.Y + place / Across * high, wide, high);
        }
    });

    static void Label(PaperSheet sheet, string bin, double x, double y, double wide, double high)
    {
        sheet.Box(x, y, wide, high, PaperSheet.Hair);
        var room = wide - 32;
        var points = Math.Min(44, 44 * room / sheet.Measure(bin, 44, bold: true));
        sheet.Text(bin, x + 16, y + 12 + points * .8, points, bold: true);
        sheet.Code(bin, x + 16, y + high - 56, room, 46, wideModule: 1.4);
    }
}
