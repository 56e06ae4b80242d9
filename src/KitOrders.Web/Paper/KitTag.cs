using KitOrders.Operations.Orders;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Paper;

/// <summary>What lies on a staged kit: whose it is, where it waits, what is in it and what is not.</summary>
static class KitTag
{
    public static byte[] Print(OrderView order, PaperSize size, PaperHead head) => PaperSheet.Print(size, head, sheet =>
    {
        sheet.Title(head.Title, order.Number, $"Order {order.Number}");
        var top = sheet.Y;
        sheet.Text("Order", PaperSheet.Left, top + 16, 9);
        sheet.Fit(order.Number, PaperSheet.Left, top + 64, 52, sheet.Width * .56, bold: true);
        sheet.Line(PaperSheet.Left + sheet.Width * .6, top, PaperSheet.Left + sheet.Width * .6, top + 82);
        var x = PaperSheet.Left + sheet.Width * .6 + 10;
        sheet.Text("Staged at", x, top + 16, 9);
        sheet.Fit(order.StagedPlace ?? "", x, top + 64, 52, sheet.Right - x, bold: true);
        if (order.StagedPlace is null)
            sheet.Line(x, top + 68, sheet.Right, top + 68, 0.8);
        sheet.Y = top + 82;
        sheet.Rule(PaperSheet.Heavy);
        sheet.Block(
        [
            new("Pump", order.Pump, $"serial {order.Serial}"),
            new("Job", order.JobDescription, string.Join(", ", order.Kits.Select(k => $"{k.Kit} rev {k.Revision}")), Wide: 2),
            new("Fit", Days.Text(order.FitOn), $"needed by {Days.Text(order.NeededBy)}"),
            new("State", Rules.Word.Of(order.State), order.State is OrderState.Open or OrderState.Draft ? "not staged yet" : null),
        ]);
        Contents(sheet, order);
        var lacking = Lacking(order);
        for (var n = 0; n < lacking.Count; n++)
            sheet.Say(n == 0 ? "Not in this kit:" : "", lacking[n]);
        sheet.Y += 8;
        sheet.Sign("Staged by, time", "Handed over to, time");
    });

    /// <summary>What has been picked, lot by lot.</summary>
    public static IReadOnlyList<(DemandView Line, ReservationView Lot)> Picked(OrderView order) =>
        [.. order.Demand.SelectMany(d => d.Reservations.Where(r => r.Picked > 0).Select(r => (d, r)))];

    /// <summary>What is wanted and was not picked, as a sentence per line.</summary>
    public static IReadOnlyList<string> Lacking(OrderView order) =>
        [.. order.Demand.Where(d => d.Required > d.Picked).Select(d =>
            $"{Amount(d, d.Required - d.Picked)} × {d.Part}, {d.Description}{(d.ReleasedBy is { } by ? $": let go by {by}, {d.ReleaseReason}" : d.Reserved > 0 ? ": not picked yet" : ": short")}")];

    static void Contents(PaperSheet sheet, OrderView order)
    {
        var rows = Picked(order);
        if (rows.Count == 0)
        {
            sheet.Say("Nothing has been picked for this order.", "The kit is empty so far.");
            return;
        }
        Heads(sheet);
        foreach (var (line, lot) in rows)
        {
            var room = sheet.Width - 342;
            var what = sheet.Height(line.Description, room, 9.5);
            var high = Math.Max(22, what + 9);
            if (sheet.Room(high))
                Heads(sheet);
            var at = sheet.Y + 15;
            sheet.Fit(line.Part, PaperSheet.Left, at, 10, 98, bold: true);
            sheet.Paragraph(line.Description, PaperSheet.Left + 104, sheet.Y + 5.5, room, 9.5);
            sheet.Fit(lot.Lot, sheet.Right - 232, at, 9.5, 90);
            sheet.Fit(lot.ExpiresOn is { } last ? Days.Text(last, DayForm.Year) : Figures.None, sheet.Right - 136, at, 9.5, 66);
            sheet.Fit(Amount(line, lot.Picked), sheet.Right - 24, at, 10, 44, bold: true, right: true);
            sheet.Box(sheet.Right - 14, sheet.Y + 4, 13, 13);
            sheet.Y += high;
            sheet.Rule(PaperSheet.Hair);
        }
    }

    static void Heads(PaperSheet sheet)
    {
        var at = sheet.Y + 16;
        sheet.Text("Part", PaperSheet.Left, at, 8.5);
        sheet.Text("What", PaperSheet.Left + 104, at, 8.5);
        sheet.Text("Lot", sheet.Right - 232, at, 8.5);
        sheet.Text("Good until", sheet.Right - 136, at, 8.5);
        sheet.Text("In the kit", sheet.Right, at, 8.5, right: true);
        sheet.Y += 22;
        sheet.Rule(0.8);
    }

    static string Amount(DemandView line, decimal quantity) => Figures.Quantity(quantity) + (line.Unit == Unit.Each ? "" : $" {Rules.Word.Of(line.Unit)}");
}
