using KitOrders.Operations.Orders;
using KitOrders.Rules.Procedures;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Paper;

/// <summary>The room a step leaves for what was done: boxes to tick, a cell for each bolt and pass, lines to write on.</summary>
static class StepBlanks
{
    const double RowHeight = 22, CellWidth = 34, Pattern = 78;

    /// <summary>Draws from y down, or only measures. Answers the height.</summary>
    public static double Walk(PaperSheet sheet, StepView step, double x, double y, bool draw)
    {
        var high = step.Kind switch
        {
            StepKind.Torque => Torque(sheet, step, x, y, draw),
            StepKind.CarryOver => Pieces(sheet, step, x, y, draw),
            StepKind.Reading => Reading(sheet, step, x, y, draw),
            StepKind.Check => Ticks(sheet, x, y, draw, "as specified", "not as specified, note:"),
            StepKind.FunctionTest => (step.Unit is null ? 0 : Reading(sheet, step, x, y, draw)) is var read
                ? read + Ticks(sheet, x, y + read, draw, "passed", "not passed, note:") : 0,
            StepKind.Photograph => Ticks(sheet, x, y, draw, "photograph taken"),
            _ => Ticks(sheet, x, y, draw, "done"),
        };
        if (draw)
        {
            sheet.Blank("By, time", sheet.Right - 150, y + 11, 150);
            if (step.Witnessed)
                sheet.Blank(step.Kind is StepKind.Torque or StepKind.Reading ? "Witness, what they read" : "Witness", x, y + high + 13, 260);
        }
        return high + (step.Witnessed ? 24 : 0);
    }

    static double Ticks(PaperSheet sheet, double x, double y, bool draw, params string[] labels)
    {
        if (draw)
        {
            var at = x;
            foreach (var label in labels)
            {
                sheet.Tick(label, at, y);
                at += 18 + sheet.Measure(label, 9.5) + 16;
            }
            if (labels[^1].EndsWith(':'))
                sheet.Line(at - 10, y + 12.5, sheet.Right - 160, y + 12.5);
        }
        return 19;
    }

    static double Reading(PaperSheet sheet, StepView step, double x, double y, bool draw)
    {
        if (draw)
        {
            sheet.Box(x, y, 90, RowHeight);
            sheet.Text($"{JobCardBlocks.Unit(step).Trim()}  read", x + 97, y + 15, 9.5);
        }
        return RowHeight + 5;
    }

    static double Pieces(PaperSheet sheet, StepView step, double x, double y, bool draw)
    {
        for (var n = 0; draw && n < step.Pieces; n++)
        {
            var row = y + n * RowHeight;
            sheet.Text(step.Pieces == 1 ? "This piece" : $"Piece {n + 1}", x, row + 10.5, 9.5);
            sheet.Tick("reuse", x + 62, row);
            sheet.Tick("replace by the spare", x + 122, row);
        }
        return step.Pieces * RowHeight + 2;
    }

    /// <summary>A row for each pass, a cell for each bolt in the order of tightening, and where each bolt lies.</summary>
    static double Torque(PaperSheet sheet, StepView step, double x, double y, bool draw)
    {
        var bolts = step.Bolts ?? 1;
        var joint = new TorqueJoint(bolts, step.Sequence, step.Target ?? 0, step.TolerancePct, step.Low, step.High, Math.Max(step.Passes ?? 1, bolts >= 2 ? 2 : 1));
        var plan = TorquePlan.For(joint);
        if (!plan.IsDone)
        {
            if (draw)
                sheet.Paragraph($"The joint cannot be laid out: {plan.Refusal!.Sentence}", x, y + 16, sheet.Right - x, 9.5);
            return RowHeight + sheet.Height($"The joint cannot be laid out: {plan.Refusal!.Sentence}", sheet.Right - x, 9.5);
        }
        var unit = JobCardBlocks.Unit(step);
        var left = bolts > 2 ? x + Pattern + 14 : x;
        const double label = 142;
        var across = Math.Max(1, (int)((sheet.Right - left - label) / CellWidth));
        var deep = (bolts + across - 1) / across;
        var top = y + 18;
        if (draw)
        {
            sheet.Fit($"{step.Joint ?? "Joint"}: {Figures.Of(bolts, "bolt")}{(bolts > 1 && step.Sequence is { } s ? $", {Rules.Word.Of(s)}" : "")}", left, y + 11, 9.5, sheet.Right - 160 - left);
            if (bolts > 2)
                Circle(sheet, plan.Value, x + Pattern / 2, top + Pattern / 2);
        }
        foreach (var pass in plan.Value.Passes)
        {
            if (draw)
            {
                sheet.Fit($"Pass {pass.Pass}: {Figures.Quantity(decimal.Round(pass.TargetNm, 2))}{unit}", left, top + 11, 10, label - 8, bold: true);
                sheet.Fit(Limits(pass, unit), left, top + 20, 7.5, label - 8);
            }
            for (var n = 0; draw && n < bolts; n++)
            {
                var (cx, cy) = (left + label + n % across * CellWidth, top + n / across * RowHeight);
                sheet.Box(cx, cy, CellWidth, RowHeight);
                sheet.Text($"{n + 1}", cx + 3, cy + 8, 7);
            }
            top += deep * RowHeight + 4;
        }
        return Math.Max(top, bolts > 2 ? y + 18 + Pattern : 0) - y + 4;
    }

    static string Limits(TorquePass pass, string unit) => (pass.LowNm, pass.HighNm) switch
    {
        ({ } low, { } high) => $"{Figures.Quantity(decimal.Round(low, 2))} to {Figures.Quantity(decimal.Round(high, 2))}{unit}",
        ({ } low, null) => $"at least {Figures.Quantity(decimal.Round(low, 2))}{unit}",
        (null, { } high) => $"not above {Figures.Quantity(decimal.Round(high, 2))}{unit}",
        _ => "",
    };

    static void Circle(PaperSheet sheet, TorquePlan plan, double x, double y)
    {
        var bolt = Math.Min(9, 95.0 / plan.Bolts.Count);
        foreach (var placed in plan.Bolts)
        {
            var angle = (double)placed.AngleDegrees * Math.PI / 180;
            var (cx, cy) = (x + 29 * Math.Sin(angle), y - 29 * Math.Cos(angle));
            sheet.Circle(cx, cy, bolt);
            var text = $"{placed.Bolt}";
            var points = Math.Min(9, bolt * 1.2);
            sheet.Text(text, cx - sheet.Measure(text, points, bold: true) / 2, cy + points * .35, points, bold: true);
        }
    }
}
