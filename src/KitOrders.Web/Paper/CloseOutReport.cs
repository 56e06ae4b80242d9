using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Paper;

/// <summary>What a campaign came to: its sums, its spares, and every pump with what was done to it.</summary>
static class CloseOutReport
{
    const double Small = 8.5;

    public static byte[] Print(CloseOutView report, PaperSize size, PaperHead head) => PaperSheet.Print(size, head, sheet =>
    {
        sheet.Title(head.Title, report.Number, $"Campaign {report.Number}");
        sheet.Block(
        [
            new("Campaign", report.Name, report.JobDescription, Wide: 2),
            new("State", Word.Of(report.State), $"as of {Days.Text(report.AsOf, DayForm.Year)}"),
            new("Needed by", Days.Text(report.NeededBy, DayForm.Year)),
        ]);
        var closed = report.Pumps.Where(p => p.State == OrderState.Closed).ToList();
        sheet.Block(
        [
            new("Pumps", $"{closed.Count} of {report.Pumps.Count(p => p.State != OrderState.Cancelled)} closed", $"{report.Pumps.Count(p => p.State == OrderState.Cancelled)} cancelled"),
            new("Hours worked", Figures.Quantity(report.HoursActual), $"planned {Figures.Quantity(report.HoursPlanned)} for all pumps"),
            new($"Cost of those closed, {report.Currency}", Money(report.CostActual), $"planned {Money(report.CostPlanned)}"),
        ]);
        Spares(sheet, report);
        foreach (var pump in report.Pumps)
            Pump(sheet, pump);
        sheet.Y += 12;
        sheet.Sign("Reported by, date", "Accepted by, date");
    });

    static void Spares(PaperSheet sheet, CloseOutView report)
    {
        Heading(sheet, "Spares for carried-over parts, pooled");
        if (report.Spares.Count == 0)
            sheet.Say("None.", "No part that these kits keep has spares.");
        foreach (var s in report.Spares)
            Line(sheet, $"{s.Part}, {s.Description}", $"held {Figures.Quantity(s.Pooled)} together for {Figures.Quantity(s.Kept)} kept parts, {Figures.Quantity(s.Alone)} one by one; "
                + $"{Figures.Quantity(s.Used)} used, {Figures.Quantity(s.Returned)} given back, {Figures.Quantity(s.InHand)} in hand, {Figures.Quantity(s.Reserved)} on the shelf, {Figures.Quantity(s.Short)} short.");
    }

    static void Pump(PaperSheet sheet, CloseOutRow pump)
    {
        sheet.Room(92);
        Heading(sheet, $"{pump.Pump}, serial {pump.Serial}");
        Line(sheet, "Model", pump.Is is { } now ? now == pump.Was ? $"{pump.Was} as before" : $"{pump.Was} became {now}" : $"{pump.Was}, nothing written back");
        Line(sheet, "Order", $"{pump.Order}, {Word.Of(pump.State)}{(pump.CancelReason is { } why ? $": {why}" : "")}. Planned for {Days.Text(pump.FitOn, DayForm.Year)}"
            + $"{Moment(", opened", pump.OpenedAt)}{Moment(", started", pump.StartedAt)}{Moment(", finished", pump.FinishedAt)}{Moment(", closed", pump.ClosedAt)}.");
        Line(sheet, "Hours, cost", $"{Figures.Quantity(pump.HoursActual)} h of {(pump.HoursPlanned is { } h ? Figures.Quantity(h) : "none")} planned; {pump.Cost.Currency} {Money(pump.Cost.Actual.Total)} of {Money(pump.Cost.Planned.Total)} planned.");
        Line(sheet, "Parts", pump.Parts.Count == 0 ? "none" : string.Join(", ", pump.Parts));
        Line(sheet, "Pooled spares", pump.Spares.Count == 0 ? "none" : string.Join(", ", pump.Spares));
        foreach (var item in pump.NotAsSpecified)
            Line(sheet, "Not as specified", item);
        foreach (var answer in pump.Answered)
            Line(sheet, "Answered", answer);
    }

    static void Heading(PaperSheet sheet, string words)
    {
        sheet.Room(40);
        sheet.Y += 10;
        sheet.Text(words, PaperSheet.Left, sheet.Y + 11, 11, bold: true);
        sheet.Y += 16;
        sheet.Rule(PaperSheet.Hair);
    }

    static void Line(PaperSheet sheet, string label, string words)
    {
        const double room = 120;
        var high = Math.Max(sheet.Height(words, sheet.Width - room, Small), sheet.Height(label, room - 8, Small, bold: true));
        sheet.Room(high + 4);
        sheet.Paragraph(label, PaperSheet.Left, sheet.Y + 3, room - 8, Small, bold: true);
        sheet.Paragraph(words, PaperSheet.Left + room, sheet.Y + 3, sheet.Width - room, Small);
        sheet.Y += high + 4;
    }

    static string Money(decimal? value) => value is { } known ? Figures.Money(known) : "not known";

    static string Moment(string what, DateTimeOffset? at) => at is { } moment ? $"{what} {Days.Moment(moment)}" : "";
}
