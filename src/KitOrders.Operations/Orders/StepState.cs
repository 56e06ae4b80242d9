using System.Globalization;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;

namespace KitOrders.Operations.Orders;

/// <summary>Reads kept steps and results the way the rules of the order of work want them.</summary>
internal sealed record StepState(bool Recorded, bool Resolved, bool Deviates, StepProgress Progress, StepShape Shape)
{
    public static StepState Of(OrderStep step, IReadOnlyCollection<StepResult> results)
    {
        var shape = ShapeOf(step);
        var progress = StepProgress.Of(shape, results.OrderBy(r => r.Id).Select(r => FactOf(r, step.AcceptedAt is not null)));
        return new StepState(progress.Recorded, progress.Resolved, progress.Standing.Any(r => r.Outcome == StepOutcome.NotAsSpecified), progress, shape);
    }

    public static StepShape ShapeOf(OrderStep step) => new(step.Kind, step.Bolts ?? 1, PassesOf(step), step.Pieces);

    /// <summary>A joint of two or more bolts has at least two passes, whatever the procedure states; the import has warned of fewer.</summary>
    public static int PassesOf(OrderStep step) => Math.Max(step.Passes ?? 1, step.Bolts >= 2 ? 2 : 1);

    public static StepFacts FactsOf(OrderStep step, IReadOnlyCollection<StepResult> results)
    {
        var state = Of(step, results);
        return new StepFacts(NumberOf(step), step.PartOf, step.Kind, step.HoldPoint, step.Witnessed, state.Recorded, state.Resolved, step.ReleasedAt is not null);
    }

    public static string NumberOf(OrderStep step) => step.Number.ToString(CultureInfo.InvariantCulture);

    static RecordedResult FactOf(StepResult r, bool accepted) => new(r.Id.ToString(CultureInfo.InvariantCulture), r.Outcome)
    {
        Corrects = r.CorrectsId?.ToString(CultureInfo.InvariantCulture), Pass = r.Pass, Bolt = r.Bolt, Piece = r.Piece,
        Decision = r.Decision, Accepted = accepted,
    };
}
