namespace KitOrders.Rules.Procedures;

/// <summary>A step of an order as it stands; see <see cref="StepProgress"/> for recorded and resolved.</summary>
/// <param name="Released">A hold point that a named person has released.</param>
public sealed record StepFacts(string Step, PartOf PartOf, StepKind Kind, bool HoldPoint, bool Witnessed, bool Recorded, bool Resolved, bool Released);

/// <summary>What somebody wants to record on a step. Persons by their name or number, whichever tells them apart.</summary>
public sealed record RecordAttempt(string Step, StepOutcome Outcome, string? Note, string Performer, string? Witness = null, bool WitnessGaveReading = false);

/// <summary>
/// The order of work. Preliminary steps strictly in order (29 CFR 1910.147(d): shut down, isolate, lock, relieve, verify, each
/// before the next) and all of them before any main step; main steps in any order; close-up steps only after all main steps,
/// and strictly in order (1910.147(e)). Nothing passes a hold point that is not released.
/// </summary>
public static class StepOrder
{
    /// <summary>
    /// May this be recorded now? Null when it may. A step already recorded may be recorded again at any time: that is a
    /// correction. Refused: <c>step-unknown</c>, <c>not-applicable-hold-point</c>, <c>note-missing</c>, <c>witness-missing</c>,
    /// <c>witness-same-person</c>, <c>witness-reading-missing</c>, <c>hold-point-not-released</c>, <c>preliminary-order</c>,
    /// <c>preliminary-first</c>, <c>main-first</c>, <c>close-up-order</c>.
    /// </summary>
    public static Refusal? MayRecord(IEnumerable<StepFacts> steps, RecordAttempt attempt)
    {
        var inOrder = InOrder(steps);
        var at = inOrder.FindIndex(s => s.Step == attempt.Step);
        if (at < 0)
        {
            return Refusal.NotFound("step-unknown", $"This order has no step {attempt.Step}.");
        }

        return Form(inOrder[at], attempt) ?? (inOrder[at].Recorded ? null : Turn(inOrder, at));
    }

    /// <summary>The steps whose turn it is: not recorded yet and not kept back by another.</summary>
    public static IReadOnlyList<StepFacts> WhoseTurn(IEnumerable<StepFacts> steps)
    {
        var inOrder = InOrder(steps);
        return [.. inOrder.Where((step, at) => !step.Recorded && Turn(inOrder, at) is null)];
    }

    /// <summary>May this hold point be released? Null when it may. Refused: <c>step-unknown</c>, <c>not-a-hold-point</c>, <c>hold-point-released</c>, <c>hold-point-not-recorded</c>.</summary>
    public static Refusal? MayRelease(IEnumerable<StepFacts> steps, string step) => steps.FirstOrDefault(s => s.Step == step) switch
    {
        null => Refusal.NotFound("step-unknown", $"This order has no step {step}."),
        { HoldPoint: false } => Refusal.Conflict("not-a-hold-point", $"Step {step} is no hold point; there is nothing to release."),
        { Released: true } => Refusal.Conflict("hold-point-released", $"Step {step} is released already."),
        { Recorded: false } => Refusal.Conflict("hold-point-not-recorded", $"Step {step} is not recorded. Record it, then release it."),
        { Resolved: false } => Refusal.Conflict("hold-point-not-recorded", $"Step {step} is not as specified. Correct it, or have a planner accept it, then release it."),
        _ => null,
    };

    static List<StepFacts> InOrder(IEnumerable<StepFacts> steps) => [.. steps.OrderBy(s => s.PartOf)];

    /// <summary>What the result itself needs: a note, a witness who is somebody else.</summary>
    static Refusal? Form(StepFacts step, RecordAttempt attempt) => attempt switch
    {
        { Outcome: StepOutcome.NotApplicable } when step.HoldPoint =>
            Refusal.Field("outcome", "not-applicable-hold-point", $"Step {step.Step} is a hold point and cannot be not applicable. Record what was found."),
        { Outcome: StepOutcome.NotApplicable } when string.IsNullOrWhiteSpace(attempt.Note) =>
            Refusal.Field("note", "note-missing", $"Say in a note why step {step.Step} does not apply."),
        _ when !step.Witnessed => null,
        { Witness: null or "" } => Refusal.Field("witness", "witness-missing", $"Step {step.Step} is witnessed: a second person must sign it."),
        _ when string.Equals(attempt.Witness, attempt.Performer, StringComparison.OrdinalIgnoreCase) =>
            Refusal.Field("witness", "witness-same-person", $"Step {step.Step} needs a second person; {attempt.Performer} cannot witness their own work."),
        { Outcome: not StepOutcome.NotApplicable, WitnessGaveReading: false } when step.Kind == StepKind.Reading =>
            Refusal.Field("witness", "witness-reading-missing", $"The witness of step {step.Step} must give their own reading before seeing the first."),
        _ => null,
    };

    static Refusal? Turn(List<StepFacts> steps, int at)
    {
        var step = steps[at];
        var before = steps.Take(at).ToList();
        if (before.Find(s => s is { HoldPoint: true, Released: false, Recorded: true }) is { } hold)
        {
            return Refusal.Conflict("hold-point-not-released", $"Step {hold.Step} is a hold point and not released. Have it released before step {step.Step}.");
        }

        if (step.PartOf != PartOf.CloseUp && before.Find(s => s.PartOf == PartOf.Preliminary && !s.Resolved) is { } unsafeYet)
        {
            return step.PartOf == PartOf.Preliminary
                ? Refusal.Conflict("preliminary-order", $"Preliminary steps are done in order. {Do(unsafeYet)} before step {step.Step}.")
                : Refusal.Conflict("preliminary-first", $"The pump is not proved safe. {Do(unsafeYet)} before step {step.Step}.");
        }

        if (step.PartOf == PartOf.CloseUp && before.Find(s => s.PartOf != PartOf.CloseUp && !s.Resolved) is { } undone)
        {
            return Refusal.Conflict("main-first", $"Close-up begins when all work is done. {Do(undone)} before step {step.Step}.");
        }

        if (step.PartOf == PartOf.CloseUp && before.Find(s => s.PartOf == PartOf.CloseUp && !s.Recorded) is { } earlier)
        {
            return Refusal.Conflict("close-up-order", $"Close-up steps are done in order. {Do(earlier)} before step {step.Step}.");
        }

        return before.Find(s => s is { HoldPoint: true, Released: false }) is { } ahead
            ? Refusal.Conflict("hold-point-not-released", $"Step {ahead.Step} is a hold point. Record it and have it released before step {step.Step}.")
            : null;
    }

    static string Do(StepFacts step) => step.Recorded
        ? $"Step {step.Step} is not as specified: correct it or have a planner accept it"
        : $"Record step {step.Step}";
}
