using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Procedures;

namespace KitOrders.Operations.Orders;

/// <summary>
/// A whole order as every screen and the HTTP API see it. On a draft the demand is a preview of what opening would reserve,
/// the checks are judged as of now and there are no reservations yet.
/// </summary>
public sealed record OrderView
{
    public required string Number { get; init; }
    public required OrderState State { get; init; }

    /// <summary>Tag of the position.</summary>
    public required string Pump { get; init; }

    public required string Serial { get; init; }
    public required string Model { get; init; }
    public required string Job { get; init; }

    /// <summary>The campaign it belongs to, which holds its spares; null where it stands alone.</summary>
    public string? Campaign { get; init; }

    public required string JobDescription { get; init; }
    public required string? Procedure { get; init; }
    public required int? ProcedureRevision { get; init; }
    public required int Score { get; init; }
    public required int Criticality { get; init; }
    public required int WorkClass { get; init; }
    public required DateOnly NeededBy { get; init; }
    public required DateOnly? PlannedFitOn { get; init; }

    /// <summary>The planned fit date; where none is given, the needed-by date.</summary>
    public required DateOnly FitOn { get; init; }

    public required bool Breakdown { get; init; }
    public required string? Paused { get; init; }
    public required string? StagedPlace { get; init; }
    public required string? CancelReason { get; init; }
    public required PumpAfterCancel? PumpIs { get; init; }
    public required decimal? EstimatedHours { get; init; }
    public required decimal? DowntimeHours { get; init; }
    public required long? StrokeCount { get; init; }
    public required DateTimeOffset MadeAt { get; init; }
    public required DateTimeOffset? OpenedAt { get; init; }
    public required DateTimeOffset? StartedAt { get; init; }
    public required DateTimeOffset? FinishedAt { get; init; }
    public required DateTimeOffset? ClosedAt { get; init; }
    public required long Version { get; init; }
    public required IReadOnlyList<OrderKitView> Kits { get; init; }

    /// <summary>Why the demand of a draft cannot be worked out; null when it can.</summary>
    public string? DemandRefused { get; init; }

    public required IReadOnlyList<DemandView> Demand { get; init; }
    public required IReadOnlyList<StepView> Steps { get; init; }
    public required IReadOnlyList<CheckView> Suitability { get; init; }

    /// <summary>"Compares recorded data only; …", to be shown wherever the checks are.</summary>
    public string SuitabilityNotice { get; init; } = Rules.Kits.Suitability.Notice;

    public required CostView Cost { get; init; }
    public required IReadOnlyList<PermitView> Permits { get; init; }
    public required IReadOnlyList<HoursView> Hours { get; init; }
    public required IReadOnlyList<RemovedView> Removed { get; init; }
    public required IReadOnlyList<EventView> History { get; init; }
}

public sealed record OrderKitView(string Kit, string Description, int? Revision, decimal Quantity, int? NewerRevision);

public sealed record DemandView
{
    public required string Part { get; init; }
    public required string Description { get; init; }
    public required Unit Unit { get; init; }
    public required LineSource Source { get; init; }
    public required decimal Gross { get; init; }
    public required decimal Built { get; init; }
    public required decimal Required { get; init; }
    public required decimal Picked { get; init; }
    public required decimal Reserved { get; init; }
    public required decimal Short { get; init; }

    /// <summary>How much of what is short is promised by purchase lines not yet received. It never reduces what is short.</summary>
    public decimal Incoming { get; init; }

    public DateOnly? PromisedOn { get; init; }
    public string? PromiseReference { get; init; }
    public required int? LeadTimeDays { get; init; }
    public required bool Spare { get; init; }
    public required decimal? UnitCost { get; init; }

    /// <summary>Who let the order go on without what is short, and why.</summary>
    public required string? ReleasedBy { get; init; }

    public required string? ReleaseReason { get; init; }
    public required IReadOnlyList<OriginView> Origins { get; init; }
    public required IReadOnlyList<ReservationView> Reservations { get; init; }

    /// <summary>What of the line stands in for another part that was short.</summary>
    public IReadOnlyList<StandsInView> InPlaceOf { get; init; } = [];

    /// <summary>What stands in for this part: as much less is required of it.</summary>
    public IReadOnlyList<StandsInView> ReplacedBy { get; init; } = [];

    /// <summary>The part that takes this one's place for good; null when none does.</summary>
    public string? SupersededBy { get; init; }
}

/// <param name="InPlaceOf">The part that the kit line names, where this one stands in for it.</param>
public sealed record OriginView(string Kit, int Line, decimal Quantity, string? InPlaceOf = null);

/// <param name="Part">The other part.</param>
public sealed record StandsInView(string Part, string Description, decimal Quantity, string Reason, string By, DateTimeOffset At);

/// <param name="Id">0 in the preview of a draft, where nothing is held yet.</param>
/// <param name="Quantity">Still held on the shelf.</param>
public sealed record ReservationView(int Id, string Lot, string Bin, int WalkOrder, DateOnly? ExpiresOn, decimal Quantity,
    decimal Picked, decimal Fitted, decimal Returned, decimal Scrapped);

public sealed record StepView
{
    public required int Step { get; init; }
    public required PartOf PartOf { get; init; }
    public required StepKind Kind { get; init; }
    public required string Text { get; init; }
    public required SignalWord? SignalWord { get; init; }
    public required string? Hazard { get; init; }
    public required string? Consequence { get; init; }
    public required string? Avoid { get; init; }
    public required string? Joint { get; init; }
    public required int? Bolts { get; init; }
    public required BoltSequence? Sequence { get; init; }
    public required decimal? Target { get; init; }
    public required decimal? Low { get; init; }
    public required decimal? High { get; init; }
    public required string? Unit { get; init; }
    public required decimal? TolerancePct { get; init; }
    public required int? Passes { get; init; }
    public required bool HoldPoint { get; init; }
    public required bool Witnessed { get; init; }
    public required string? Part { get; init; }
    public required string? PartDescription { get; init; }

    /// <summary>What the order uses in place of the part; the text of the step still names the part.</summary>
    public IReadOnlyList<string> InItsPlace { get; init; } = [];

    /// <summary>How many pieces a carry-over decision judges; 1 otherwise.</summary>
    public required int Pieces { get; init; }

    public required decimal? Minutes { get; init; }
    public required string? Tool { get; init; }
    public required string? Document { get; init; }
    public required string? Edition { get; init; }
    public required string? Page { get; init; }

    /// <summary>The cited document where it is on record; it opens at <c>/files/documents/{id}</c>.</summary>
    public int? DocumentId { get; init; }

    /// <summary>Pictures to look at, at <c>/files/pictures/{sha256}</c>, each with what it says under it.</summary>
    public IReadOnlyList<StepPicture> Pictures { get; init; } = [];

    /// <summary>Every result the step asks for has been recorded.</summary>
    public required bool Recorded { get; init; }

    /// <summary>A result that was not as specified and that no planner has accepted yet.</summary>
    public required bool Deviates { get; init; }

    public required DateTimeOffset? ReleasedAt { get; init; }
    public required string? ReleasedBy { get; init; }
    public required string? AcceptedBy { get; init; }
    public required string? AcceptReason { get; init; }
    public required IReadOnlyList<ResultView> Results { get; init; }
}

public sealed record ResultView(long Id, StepOutcome Outcome, decimal? Value, string? Unit, int? Pass, int? Bolt, int? Piece,
    CarryOverDecision? Decision, string? Tool, string? Note, DateTimeOffset RecordedAt, DateTimeOffset ReceivedAt, string Person,
    string? Witness, decimal? WitnessValue, long? Corrects, bool Corrected, string? Device);

public sealed record CheckView(Check Check, string Kit, CheckResult Result, string Reason, IReadOnlyDictionary<string, decimal> Numbers,
    bool OnCondition, bool Answerable, string? Caution, string? Answer, string? Note, string? AnsweredBy, DateTimeOffset? AnsweredAt);

/// <param name="Planned">At the costs of opening; spares are charged only when used and are not in it.</param>
public sealed record CostView(string Currency, CostSum Planned, CostSum Actual);

/// <param name="Parts">Null while a cost it needs is not known.</param>
public sealed record CostSum(decimal? Parts, decimal? Labour)
{
    public decimal? Total => Parts + Labour;
}

public sealed record PermitView(string Kind, string Reference, DateOnly? ValidTo, string RecordedBy, DateTimeOffset RecordedAt);

public sealed record HoursView(string Person, decimal Hours);

public sealed record RemovedView(string Part, string Description, decimal Quantity, RemovedTo To, string? Decontaminated);

public sealed record EventView(DateTimeOffset At, string Person, string Operation, string Sentence);
