using KitOrders.Operations.Orders;
using KitOrders.Rules.Procedures;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Paper;

/// <summary>Draws the blocks of a job card. What a block measures is found by the same walk that draws it.</summary>
static class JobCardBlocks
{
    const double Number = 40, Text = 11, Small = 9;

    public static double Height(PaperSheet sheet, CardBlock block) => Walk(sheet, block, draw: false);

    public static void Draw(PaperSheet sheet, CardBlock block)
    {
        sheet.Room(Math.Min(Height(sheet, block), sheet.Whole));
        sheet.Y += Walk(sheet, block, draw: true);
    }

    static double Walk(PaperSheet sheet, CardBlock block, bool draw) => block switch
    {
        PartBlock part => Part(sheet, part.Part, draw),
        CautionBlockOf caution => Caution(sheet, caution, draw),
        StepBlock step => Step(sheet, step.Step, draw),
        _ => throw new ArgumentOutOfRangeException(nameof(block), block, null),
    };

    static double Part(PaperSheet sheet, PartOf part, bool draw)
    {
        if (draw)
        {
            sheet.Text(part switch { PartOf.Preliminary => "Before the work", PartOf.Main => "The work", _ => "Close up and hand back" }, PaperSheet.Left, sheet.Y + 24, 14, bold: true);
            sheet.Line(PaperSheet.Left, sheet.Y + 30, sheet.Right, sheet.Y + 30, PaperSheet.Heavy);
        }
        return 34;
    }

    /// <summary>The word in a black bar; the triangle where people can be hurt (ANSI Z535.4: NOTICE carries none).</summary>
    static double Caution(PaperSheet sheet, CautionBlockOf caution, bool draw)
    {
        var x = PaperSheet.Left + Number;
        var wide = sheet.Right - x;
        var room = wide - 20;
        var top = sheet.Y + 8;
        var y = top + 22 + 5;
        if (draw)
        {
            sheet.Fill(x, top, wide, 22);
            var triangle = new Caution(caution.Word, null, null, null).ShowsTriangle || caution.Word is null;
            if (triangle)
                sheet.Alert(x + 10, top + 4, 14);
            sheet.Text(caution.Word?.ToString().ToUpperInvariant() ?? "Hazard", x + (triangle ? 31 : 10), top + 16.5, 14, bold: true, white: true);
            sheet.Text(caution.Step is { } step ? $"before step {step}" : "for the whole job", sheet.Right - 8, top + 15, Small, right: true, white: true);
        }
        string[] texts = [$"{caution.Hazard} {caution.Consequence}".Trim(), caution.Avoid];
        foreach (var (text, bold) in texts.Zip([true, false]))
        {
            if (draw)
                sheet.Paragraph(text, x + 10, y, room, 10.5, bold);
            y += sheet.Height(text, room, 10.5, bold);
        }
        y += 7;
        if (draw)
            sheet.Box(x + 0.75, top, wide - 1.5, y - top, PaperSheet.Heavy);
        return y - sheet.Y + 2;
    }

    static double Step(PaperSheet sheet, StepView step, bool draw)
    {
        var x = PaperSheet.Left + Number;
        var room = sheet.Width - Number;
        var y = sheet.Y + 7;
        if (draw)
            sheet.Fit(Figures.Count(step.Step), PaperSheet.Left, y + 17, 19, Number - 6, bold: true);
        y += Write(sheet, step.Text, x, y, room, Text, bold: true, draw);
        foreach (var line in Details(step))
            y += Write(sheet, line, x, y, room, Small + .5, bold: false, draw);
        y += 5;
        y += StepBlanks.Walk(sheet, step, x, y, draw);
        if (step.HoldPoint)
        {
            if (draw)
            {
                sheet.Fill(PaperSheet.Left, y + 2, 5, 22);
                sheet.Text("Hold point: stop until it is released.", x, y + 17, 10.5, bold: true);
                sheet.Blank("Released by, time", x + 230, y + 17, sheet.Right - x - 230);
            }
            y += 28;
        }
        if (draw)
            sheet.Line(PaperSheet.Left, y + 3, sheet.Right, y + 3);
        return y + 3 - sheet.Y;
    }

    static double Write(PaperSheet sheet, string text, double x, double y, double room, double points, bool bold, bool draw) =>
        draw ? sheet.Paragraph(text, x, y, room, points, bold) : sheet.Height(text, room, points, bold);

    static IEnumerable<string> Details(StepView step)
    {
        if (step.Part is { } part)
            yield return $"Part {part}{(step.PartDescription is { } what ? $", {what}" : "")}{(step.InItsPlace.Count > 0 ? $"; in its place on this order: {string.Join(", ", step.InItsPlace)}" : "")}";
        if (step.Kind != StepKind.Torque && Asked(step) is { } asked)
            yield return asked;
        string?[] notes = [step.Tool is { } tool ? $"Tool {tool}" : null, step.Document is { } document ? $"See {document}{(step.Edition is { } edition ? $", edition {edition}" : "")}{(step.Page is { } page ? $", page {page}" : "")}" : null,
            step.Minutes is { } minutes ? $"{Figures.Quantity(minutes)} min" : null];
        if (string.Join(" · ", notes.OfType<string>()) is { Length: > 0 } said)
            yield return said;
        if (step.Pictures.Count > 0)
            yield return $"{(step.Pictures.Count == 1 ? "Picture" : "Pictures")} at the bench: {string.Join("; ", step.Pictures.Select(p => p.Caption))}";
        if (step.Recorded && step.Results.LastOrDefault(r => !r.Corrected) is { } last)
            yield return $"Recorded already by {last.Person}, {Days.Moment(last.RecordedAt)}.";
    }

    /// <summary>What is asked for, with its limits, in the unit of the procedure.</summary>
    static string? Asked(StepView step)
    {
        var unit = Unit(step);
        string? limits = (step.Low, step.High) switch
        {
            ({ } low, { } high) when low == high => $"exactly {Figures.Quantity(low)}{unit}",
            ({ } low, { } high) => $"{Figures.Quantity(low)} to {Figures.Quantity(high)}{unit}",
            ({ } low, null) => $"at least {Figures.Quantity(low)}{unit}",
            (null, { } high) => $"at most {Figures.Quantity(high)}{unit}",
            _ => null,
        };
        var target = step.Target is { } aim ? $"target {Figures.Quantity(aim)}{unit}{(step.TolerancePct is { } tolerance ? $" ± {Figures.Quantity(tolerance)} %" : "")}" : null;
        return target is null && limits is null ? null : $"Wanted: {string.Join(", ", new[] { target, limits }.OfType<string>())}";
    }

    public static string Unit(StepView step) => step.Unit switch
    {
        null or "" => "",
        "Nm" => " N·m",
        var unit => $" {unit}",
    };
}
