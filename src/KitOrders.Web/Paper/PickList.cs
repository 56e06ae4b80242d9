using KitOrders.Operations.Stock;
using KitOrders.Rules.Parts;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Paper;

/// <summary>A run on paper: the bins in walking order, what to take from each, for which tote, and room for what was short.</summary>
static class PickList
{
    const double RowHeight = 46;

    /// <summary>Whose run it is: the order's number, or all numbers of the run.</summary>
    public static string Of(PickRunView run) => string.Join(",", run.Orders.Select(o => o.Order));

    /// <summary>Lines that still lie on the shelf, in walking order.</summary>
    public static IReadOnlyList<RunLine> ToTake(PickRunView run) => [.. run.Lines.Where(l => l.Held > 0)];

    public static byte[] Print(PickRunView run, PaperSize size, PaperHead head) => PaperSheet.Print(size, head, sheet =>
    {
        var lines = ToTake(run);
        var alone = run.Orders.Count == 1;
        sheet.Title(head.Title, alone ? run.Orders[0].Order : null, alone ? $"Order {run.Orders[0].Order}" : $"Run of {Figures.Of(run.Orders.Count, "order")}");
        foreach (var row in run.Orders.Select(o => Tote(o) with { Code = alone ? null : o.Order }).Append(new PaperCell("Lines", Figures.Count(lines.Count), Walk(lines))).Chunk(4))
            sheet.Block(row);
        if (lines.Count == 0)
            sheet.Say("Nothing lies on the shelf for this run.", "All that is held has been picked.");
        else
            Heads(sheet);
        foreach (var line in lines)
        {
            if (sheet.Room(RowHeight))
                Heads(sheet);
            Row(sheet, line);
        }
        if (lines.Where(l => l.InPlaceOf is not null).Select(l => $"{l.Part} {l.InPlaceOf}").Distinct().ToList() is { Count: > 0 } standIns)
            sheet.Say("Alternates, by a planner's decision:", string.Join("; ", standIns) + ".");
        foreach (var order in run.Orders.Where(o => o.Missing.Count > 0))
            sheet.Say($"Short on order {order.Order}, not on this list:", string.Join(", ", order.Missing));
        sheet.Say("Take the lot that is printed.",
            "If the shelf holds less, write what is there and why: empty bin, damaged, expired, wrong label, other. Do not make up the number from another bin.");
        sheet.Sign("Picked by, time", "Second count by", "Handed over to, time");
    });

    static PaperCell Tote(RunOrder order) => new($"Tote {order.Tote}", $"{order.Order}, {order.Pump}", $"fit {Days.Text(order.FitOn)}");

    static string Walk(IReadOnlyList<RunLine> lines) => lines.Count == 0 ? "" : lines[0].Bin == lines[^1].Bin ? lines[0].Bin : $"{lines[0].Bin} to {lines[^1].Bin}";

    static void Heads(PaperSheet sheet)
    {
        var c = Columns.Of(sheet);
        var at = sheet.Y + 16;
        sheet.Text("Bin", c.Bin, at, 8.5);
        sheet.Text("Part", c.Part, at, 8.5);
        sheet.Text("What, lot", c.What, at, 8.5);
        sheet.Text("Take", c.Take, at, 8.5, right: true);
        sheet.Text("Tote", c.Tote, at, 8.5);
        sheet.Text("Picked", c.Picked, at, 8.5);
        sheet.Text("If short: found, why", c.Short + 7, at, 8.5);
        sheet.Y += 22;
        sheet.Rule(0.8);
    }

    static void Row(PaperSheet sheet, RunLine line)
    {
        var c = Columns.Of(sheet);
        var top = sheet.Y;
        sheet.Fit(line.Bin, c.Bin, top + 27, 15, c.Part - c.Bin - 12, bold: true);
        var used = sheet.Code(line.Part, c.Part, top + 5, c.What - c.Part, 23, wideModule: 0.9);
        sheet.Fit(line.Part, c.Part, top + 39, 9.5, Math.Max(used, c.What - c.Part - 8));
        var take = $"{Figures.Quantity(line.Held)}{(line.Unit == Unit.Each ? "" : $" {Rules.Word.Of(line.Unit)}")}";
        var room = c.Take - c.What - Math.Min(sheet.Measure(take, 15, bold: true), 64) - 8;
        var points = sheet.Lines(line.Description, room, 9.5).Count > 2 ? 8 : 9.5;
        var what = sheet.Lines(line.Description, room, points);
        sheet.Fit(what[0], c.What, top + 14, points, room);
        if (what.Count > 1)
            sheet.Fit(string.Join(' ', what.Skip(1)), c.What, top + 25, points, room);
        sheet.Fit($"lot {line.Lot}{(line.ExpiresOn is { } last ? $", until {Days.Text(last, DayForm.Year)}" : "")}", c.What, top + 38, 9, room);
        sheet.Fit(take, c.Take, top + 27, 15, 64, bold: true, right: true);
        var totes = line.Pieces.Where(p => p.Held > 0).GroupBy(p => p.Tote).Select(g => (g.Key, Held: g.Sum(p => p.Held))).ToList();
        for (var n = 0; n < totes.Count; n++)
        {
            // Beside one tote the quantity to take says it all; more than three stand in two columns of small print.
            var label = totes.Count == 1 ? totes[n].Key : $"{totes[n].Key} {Figures.Quantity(totes[n].Held)}";
            var step = totes.Count <= 3 ? 13 : 36.0 / totes.Count;
            sheet.Fit(label, c.Tote, top + (totes.Count == 1 ? 26 : 14 + n * step), Math.Min(10, step), c.Picked - c.Tote - 4);
        }
        sheet.Box(c.Picked + 2, top + 11, 24, 24, 1);
        sheet.Line(c.Short, top, c.Short, top + RowHeight);
        sheet.Y = top + RowHeight;
        sheet.Rule(PaperSheet.Hair);
    }

    /// <summary>Where the columns stand; the sheet's spare width goes to the room for what was short.</summary>
    sealed record Columns(double Bin, double Part, double What, double Take, double Tote, double Picked, double Short)
    {
        public static Columns Of(PaperSheet sheet)
        {
            var x = PaperSheet.Left;
            return new Columns(x, x + 76, x + 196, x + 368, x + 378, x + 416, x + 456);
        }
    }
}
