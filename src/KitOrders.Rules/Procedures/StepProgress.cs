namespace KitOrders.Rules.Procedures;

/// <summary>How much a step asks for: one result, or one per pass and bolt, or one per kept piece.</summary>
public sealed record StepShape(StepKind Kind, int Bolts = 1, int Passes = 1, int Pieces = 1)
{
    public int Needed => Kind switch
    {
        StepKind.Torque => Bolts * Passes,
        StepKind.CarryOver => Pieces,
        _ => 1,
    };
}

/// <summary>
/// One appended result. A result without pass and bolt speaks for the whole step, one without bolt for the whole pass.
/// Results with the same <see cref="RetryKey"/> are one result sent again.
/// </summary>
/// <param name="Corrects">The result this one replaces.</param>
/// <param name="Accepted">A planner has accepted that it is not as specified.</param>
public sealed record RecordedResult(string Id, StepOutcome Outcome)
{
    public string? Corrects { get; init; }

    public string? RetryKey { get; init; }

    public int? Pass { get; init; }

    public int? Bolt { get; init; }

    public int? Piece { get; init; }

    public CarryOverDecision? Decision { get; init; }

    public bool Accepted { get; init; }
}

/// <summary>
/// Where a step stands after its results. Results are never overwritten: a correction replaces what it points at, a later
/// result replaces an earlier one for the same bolt and pass or piece, a retry counts once.
/// </summary>
public sealed record StepProgress
{
    public required int Needed { get; init; }

    public required int Done { get; init; }

    /// <summary>The results that stand, oldest first.</summary>
    public required IReadOnlyList<RecordedResult> Standing { get; init; }

    /// <summary>The first pass with a bolt still to tighten, and that bolt; null when none is left or the step is no torque.</summary>
    public (int Pass, int Bolt)? Next { get; init; }

    public bool Recorded => Done >= Needed;

    /// <summary>Recorded, and everything not as specified accepted by a planner.</summary>
    public bool Resolved => Recorded && Standing.All(r => r.Outcome != StepOutcome.NotAsSpecified || r.Accepted);

    public static StepProgress Of(StepShape shape, IEnumerable<RecordedResult> results)
    {
        var standing = Stand(shape, results);
        var whole = standing.Any(r => IsWhole(shape, r));
        var missing = whole ? [] : Slots(shape).Where(s => !standing.Any(r => Covers(r, s))).ToList();
        return new StepProgress
        {
            Needed = shape.Needed,
            Done = shape.Needed - missing.Count,
            Standing = standing,
            Next = shape.Kind == StepKind.Torque && missing is [var next, ..] ? next : null,
        };
    }

    /// <summary>
    /// Can this result be appended? Pass p + 1 only after every bolt of pass p. Null when it can. Refused: <c>torque-pass-missing</c>,
    /// <c>torque-pass-unknown</c>, <c>torque-bolt-unknown</c>, <c>torque-pass-order</c>, <c>decision-missing</c>,
    /// <c>carry-over-too-many</c>, <c>corrects-unknown</c>.
    /// </summary>
    public Refusal? MayAppend(StepShape shape, RecordedResult result)
    {
        if (result.Corrects is { } corrected && Standing.All(r => r.Id != corrected))
        {
            return Refusal.Invalid("corrects-unknown", "The result to correct does not stand on this step. Correct the one that stands now.");
        }

        return shape.Kind switch
        {
            StepKind.Torque => MayAppendTorque(shape, result),
            StepKind.CarryOver => MayAppendDecision(shape, result),
            _ => null,
        };
    }

    Refusal? MayAppendTorque(StepShape shape, RecordedResult result) => (result.Pass, result.Bolt) switch
    {
        (null, null) when shape.Needed > 1 && result.Outcome == StepOutcome.AsSpecified =>
            Refusal.Field("pass", "torque-pass-missing", $"This joint has {shape.Bolts} bolts and {shape.Passes} passes. Record each pass, or each bolt of it."),
        (null, { }) when shape.Passes > 1 => Refusal.Field("pass", "torque-pass-missing", "Say which pass the bolt was tightened in."),
        ({ } pass, _) when pass < 1 || pass > shape.Passes => Refusal.Field("pass", "torque-pass-unknown", $"This joint has passes 1 to {shape.Passes}."),
        (_, { } bolt) when bolt < 1 || bolt > shape.Bolts => Refusal.Field("bolt", "torque-bolt-unknown", $"This joint has bolts 1 to {shape.Bolts}."),
        ({ } pass, _) when Next is { } next && pass > next.Pass =>
            Refusal.Conflict("torque-pass-order", $"Pass {next.Pass} is not complete: bolt {next.Bolt} is next. Finish it before pass {pass}."),
        _ => null,
    };

    Refusal? MayAppendDecision(StepShape shape, RecordedResult result) => result switch
    {
        { Outcome: StepOutcome.NotApplicable } => null,
        { Decision: null } => Refusal.Field("decision", "decision-missing", "Say whether the part is reused or replaced."),
        { Piece: { } piece } when piece < 1 || piece > shape.Pieces => Refusal.Field("piece", "carry-over-too-many", $"This step keeps {shape.Pieces} pieces."),
        { Corrects: null, Piece: null } when Recorded => Refusal.Conflict("carry-over-too-many", $"All {shape.Pieces} pieces are decided. Correct one of the decisions instead."),
        _ => null,
    };

    static List<RecordedResult> Stand(StepShape shape, IEnumerable<RecordedResult> results)
    {
        var standing = new List<RecordedResult>();
        var keys = new HashSet<string>();
        foreach (var result in results.Where(r => r.RetryKey is null || keys.Add(r.RetryKey)))
        {
            var placed = Placed(shape, result, standing);
            standing.RemoveAll(r => r.Id == result.Corrects || IsWhole(shape, r) || IsWhole(shape, placed) || SameSlot(r, placed));
            standing.Add(placed);
        }

        return standing;
    }

    /// <summary>Gives a result the place it speaks for: that of the result it corrects, the only pass, the next piece.</summary>
    static RecordedResult Placed(StepShape shape, RecordedResult result, List<RecordedResult> standing)
    {
        if (shape.Kind == StepKind.Torque)
        {
            var corrected = standing.Find(r => r.Id == result.Corrects);
            var pass = result.Pass ?? corrected?.Pass ?? (result.Bolt is not null && shape.Passes == 1 ? 1 : null);
            return result with { Pass = pass, Bolt = result.Bolt ?? (result.Pass is null ? corrected?.Bolt : null) };
        }

        return shape.Kind == StepKind.CarryOver && result.Piece is null && result.Decision is not null
            ? result with { Piece = standing.Find(r => r.Id == result.Corrects)?.Piece ?? Enumerable.Range(1, shape.Pieces).FirstOrDefault(p => standing.TrueForAll(r => r.Piece != p), shape.Pieces) }
            : result;
    }

    static bool IsWhole(StepShape shape, RecordedResult result) => shape.Kind switch
    {
        StepKind.Torque => result.Pass is null && result.Bolt is null,
        StepKind.CarryOver => result.Piece is null,
        _ => true,
    };

    static bool SameSlot(RecordedResult older, RecordedResult newer) =>
        older.Pass == newer.Pass && older.Piece == newer.Piece && (older.Bolt == newer.Bolt || newer.Bolt is null);

    static bool Covers(RecordedResult result, (int Pass, int Bolt) slot) => result.Piece is { } piece
        ? piece == slot.Bolt
        : result.Pass == slot.Pass && (result.Bolt is null || result.Bolt == slot.Bolt);

    static IEnumerable<(int Pass, int Bolt)> Slots(StepShape shape) => shape.Kind switch
    {
        StepKind.Torque => from pass in Enumerable.Range(1, shape.Passes) from bolt in Enumerable.Range(1, shape.Bolts) select (pass, bolt),
        StepKind.CarryOver => Enumerable.Range(1, shape.Pieces).Select(piece => (1, piece)),
        _ => [(1, 1)],
    };
}
