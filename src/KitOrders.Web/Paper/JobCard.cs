using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Procedures;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Paper;

/// <summary>What stands on a job card, from top to bottom.</summary>
abstract record CardBlock;

sealed record PartBlock(PartOf Part) : CardBlock;

/// <param name="Word">Null where the procedure names a hazard without grading it.</param>
/// <param name="Step">The step it belongs to; null for the whole job.</param>
sealed record CautionBlockOf(SignalWord? Word, string Hazard, string Consequence, string Avoid, int? Step) : CardBlock;

sealed record StepBlock(StepView Step) : CardBlock;

/// <summary>An order's steps on paper, each with the caution in front of it and room for what is done, read and seen.</summary>
static class JobCard
{
    public const string Disclaimer = $"{Suitability.Notice} Manufacturers' instructions, local codes and licensed practice decide.";

    /// <summary>The blocks in the order in which they are printed: cautions always before what they belong to.</summary>
    public static IReadOnlyList<CardBlock> Blocks(OrderView order) =>
    [
        .. order.Suitability.Select(c => c.Caution).OfType<string>().Distinct().Select(ForTheJob),
        .. order.Steps.OrderBy(s => s.PartOf).ThenBy(s => s.Step).GroupBy(s => s.PartOf)
            .SelectMany(part => part.SelectMany(Before).Prepend(new PartBlock(part.Key))),
    ];

    public static byte[] Print(OrderView order, PaperSize size, PaperHead head) => PaperSheet.Print(size, head, sheet =>
    {
        sheet.Title(head.Title, order.Number, $"Order {order.Number}");
        sheet.Block(
        [
            new("Pump", order.Pump, $"serial {order.Serial}"),
            new("Model", order.Model, order.StrokeCount is { } strokes ? $"{Figures.Count(strokes)} strokes" : null),
            new("Fit", Days.Text(order.FitOn), $"needed by {Days.Text(order.NeededBy)}"),
            new("Kit", order.StagedPlace is { } place ? $"at {place}" : Rules.Word.Of(order.State), string.Join(", ", order.Kits.Select(k => $"{k.Kit} rev {k.Revision}"))),
        ]);
        sheet.Block(
        [
            new("Job", order.JobDescription, order.Job, Wide: 2),
            new("Procedure", order.Procedure is { } procedure ? $"{procedure} rev {order.ProcedureRevision}" : Figures.None, order.EstimatedHours is { } hours ? $"estimate {Figures.Quantity(hours)} h" : null),
            new("Permits", order.Permits.Count == 0 ? "none recorded" : string.Join(", ", order.Permits.Select(p => p.Kind)), string.Join(", ", order.Permits.Select(p => p.Reference))),
            new("Steps", Figures.Count(order.Steps.Count), Figures.Of(order.Steps.Count(s => s.HoldPoint), "hold point")),
        ]);
        sheet.Say("", Disclaimer);
        if (Tools(order) is { Count: > 0 } tools)
            sheet.Say("", $"Tools to bring: {string.Join(", ", tools)}.");
        if (order.Demand.SelectMany(d => d.InPlaceOf.Select(o => $"{Figures.Quantity(o.Quantity)} × {d.Part}, {d.Description}, in place of {o.Part}")).ToList() is { Count: > 0 } standIns)
            sheet.Say("Alternates on this order; the steps still name the first part:", string.Join("; ", standIns) + ".");
        foreach (var check in order.Suitability.Where(c => c.Result != CheckResult.Passed))
            sheet.Say($"{Planner.PlannerWords.Of(check.Check)}: {Rules.Word.Of(check.Result)}{(check.Answer is { } answer ? $", answered {answer} by {check.AnsweredBy}" : "")}", check.Reason);
        if (order.Paused is { } why)
            sheet.Say("Work is paused.", why);
        if (order.Steps.Count == 0)
            sheet.Say("There are no steps yet.", "They are taken from the procedure when the order opens. Print the card again then.");
        var waiting = new List<CardBlock>();
        foreach (var block in Blocks(order))
        {
            waiting.Add(block);
            if (block is not StepBlock)
                continue;
            // A caution never stands at the foot of one sheet with its step on the next, as long as both fit on one.
            if (waiting.Sum(b => JobCardBlocks.Height(sheet, b)) is var high && high <= sheet.Whole)
                sheet.Room(high);
            foreach (var ready in waiting)
                JobCardBlocks.Draw(sheet, ready);
            waiting.Clear();
        }
        foreach (var alone in waiting)
            JobCardBlocks.Draw(sheet, alone);
        sheet.Y += 10;
        sheet.Sign("Done by, time", "Hours", "Parts not fitted and returned", "Handed back to, time");
    });

    static IEnumerable<CardBlock> Before(StepView step)
    {
        var caution = new Caution(step.SignalWord, step.Hazard, step.Consequence, step.Avoid);
        if (caution.IsWritten)
            yield return new CautionBlockOf(step.SignalWord, step.Hazard ?? "", step.Consequence ?? "", step.Avoid ?? "", step.Step);
        yield return new StepBlock(step);
    }

    /// <summary>The cautions of the rules are "hazard: how to avoid it", graded as on the screen.</summary>
    static CautionBlockOf ForTheJob(string caution)
    {
        var parts = caution.Split(": ", 2);
        return new CautionBlockOf(SignalWord.Warning, parts[0].TrimEnd('.') + ".", "", parts.Length > 1 ? char.ToUpperInvariant(parts[1][0]) + parts[1][1..] : "", null);
    }

    static List<string> Tools(OrderView order) => [.. order.Steps.Select(s => s.Tool).OfType<string>().Distinct()];
}
