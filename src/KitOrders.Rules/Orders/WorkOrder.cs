using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Orders;

/// <summary>One job on one pump. It moves by its methods alone; each refuses, with what would be allowed, or moves.</summary>
public sealed class WorkOrder
{
    public const int NumberMaxLength = 30;

    public OrderId Id { get; private set; }

    public required string Number { get; init; }

    public OrderState State { get; private set; } = OrderState.Draft;

    public required PumpId PumpId { get; init; }

    /// <summary>The position where the pump stood when the order was made.</summary>
    public required PositionId PositionId { get; init; }

    public required JobId JobId { get; init; }

    /// <summary>The campaign it belongs to, which holds its spares; null where it stands alone.</summary>
    public CampaignId? CampaignId { get; init; }

    public required DateOnly NeededBy { get; set; }

    public DateOnly? PlannedFitOn { get; set; }

    /// <summary>1 to 10, 10 the most pressing.</summary>
    public required int WorkClass { get; set; }

    /// <summary>Opened while checks were still unknown; they stay pending until somebody answers.</summary>
    public bool Breakdown { get; init; }

    public required DateTimeOffset MadeAt { get; init; }

    public required PersonId MadeById { get; init; }

    public DateTimeOffset? OpenedAt { get; private set; }

    public DateTimeOffset? StagedAt { get; private set; }

    public string? StagedPlace { get; private set; }

    public DateTimeOffset? StartedAt { get; private set; }

    public DateTimeOffset? FinishedAt { get; private set; }

    public DateTimeOffset? ClosedAt { get; private set; }

    public DateTimeOffset? CancelledAt { get; private set; }

    public string? CancelReason { get; private set; }

    public PumpAfterCancel? PumpIs { get; private set; }

    /// <summary>Why work stands still; a mark on an order underway, not a state.</summary>
    public string? Paused { get; private set; }

    /// <summary>Hours of work as estimated by the job when the order was opened.</summary>
    public decimal? EstimatedHours { get; private set; }

    /// <summary>Rate per hour when the order was opened, in the plant's currency.</summary>
    public decimal? HourlyRate { get; private set; }

    public ProcedureRevisionId? ProcedureRevisionId { get; private set; }

    public decimal? DowntimeHours { get; private set; }

    public long? StrokeCount { get; private set; }

    /// <summary>What was fitted, at what it cost, and the hours worked at their rate; known at closing.</summary>
    public decimal? ActualParts { get; private set; }

    public decimal? ActualLabour { get; private set; }

    public List<OrderKit> Kits { get; init; } = [];

    public long Version { get; private set; } = 1;

    /// <summary>Planned fit date as given, else the needed-by date.</summary>
    public DateOnly FitOn => PlannedFitOn ?? NeededBy;

    public Refusal? Open(DateTimeOffset at, ProcedureRevisionId procedure, decimal? hours, decimal? hourlyRate)
    {
        if (CannotOpen(Number, State) is { } refusal)
            return refusal;
        ProcedureRevisionId = procedure;
        EstimatedHours = hours;
        HourlyRate = hourlyRate;
        OpenedAt = at;
        return Move(OrderState.Open);
    }

    /// <summary>Takes the plan of now; with new steps also their procedure's revision and the estimate that goes with it.</summary>
    /// <param name="newSteps">Null: the steps stay as they were frozen.</param>
    public Refusal? Replan(ProcedureRevisionId? newSteps, decimal? hours, decimal? hourlyRate)
    {
        if (State != OrderState.Open)
            return Wrong("planned again", "Only an open order can.");
        if (newSteps is not null)
        {
            ProcedureRevisionId = newSteps;
            EstimatedHours = hours;
            HourlyRate = hourlyRate;
        }

        Touch();
        return null;
    }

    /// <summary>Null for a draft.</summary>
    public static Refusal? CannotOpen(string number, OrderState state) =>
        state == OrderState.Draft ? null : Wrong(number, state, "opened", "Only a draft can be opened.");

    public Refusal? Stage(DateTimeOffset at, string? place)
    {
        if (State != OrderState.Open)
            return Wrong("staged", "Only an open order can be staged.");
        StagedAt = at;
        StagedPlace = place;
        return Move(OrderState.Staged);
    }

    public Refusal? Unstage()
    {
        if (State != OrderState.Staged)
            return Wrong("unstaged", "Only a staged order can be unstaged.");
        StagedAt = null;
        StagedPlace = null;
        return Move(OrderState.Open);
    }

    public Refusal? Start(DateTimeOffset at)
    {
        if (State != OrderState.Staged)
            return Wrong("started", State == OrderState.Open ? "Stage its kit first." : "Only a staged order can be started.");
        StartedAt = at;
        return Move(OrderState.Underway);
    }

    public Refusal? Pause(string reason)
    {
        if (State != OrderState.Underway)
            return Wrong("paused", "Only work underway can be paused.");
        Paused = reason;
        Touch();
        return null;
    }

    public Refusal? Resume()
    {
        if (State != OrderState.Underway || Paused is null)
            return Wrong("resumed", "Only paused work can be resumed.");
        Paused = null;
        Touch();
        return null;
    }

    public Refusal? Finish(DateTimeOffset at, decimal? downtimeHours, long? strokeCount)
    {
        if (State != OrderState.Underway)
            return Wrong("finished", State == OrderState.Staged ? "Start it first." : "Only work underway can be finished.");
        FinishedAt = at;
        DowntimeHours = downtimeHours ?? DowntimeHours;
        StrokeCount = strokeCount ?? StrokeCount;
        Paused = null;
        return Move(OrderState.Finished);
    }

    public Refusal? Reopen()
    {
        if (State != OrderState.Finished)
            return Wrong("reopened", "Only a finished order can be reopened.");
        FinishedAt = null;
        return Move(OrderState.Underway);
    }

    public Refusal? Close(DateTimeOffset at, decimal parts, decimal labour)
    {
        if (State != OrderState.Finished)
            return Wrong("closed", State == OrderState.Underway ? "Finish it first." : "Only a finished order can be closed.");
        ClosedAt = at;
        ActualParts = parts;
        ActualLabour = labour;
        return Move(OrderState.Closed);
    }

    public Refusal? Cancel(DateTimeOffset at, string reason, PumpAfterCancel? pumpIs)
    {
        if (State is OrderState.Finished or OrderState.Closed or OrderState.Cancelled)
            return Wrong("cancelled", State == OrderState.Finished
                ? "Reopen it first, then cancel and say what the pump is now." : "It has ended.");
        if (State == OrderState.Underway && pumpIs is null)
            return Refusal.Field("pumpIs", "pump-is-missing",
                $"Work on order {Number} has begun: say what the pump is now, unchanged, partlyConverted or converted.");
        CancelledAt = at;
        CancelReason = reason;
        PumpIs = pumpIs;
        Paused = null;
        return Move(OrderState.Cancelled);
    }

    /// <summary>Marks a change of something that belongs to the order, so that a stale second tab is noticed.</summary>
    public void Touch() => Version++;

    Refusal? Move(OrderState to)
    {
        State = to;
        Touch();
        return null;
    }

    Refusal Wrong(string verb, string what) => Wrong(Number, State, verb, what);

    static Refusal Wrong(string number, OrderState state, string verb, string what) => Refusal.Conflict("order-state",
        $"Order {number} is {Word.Of(state)} and cannot be {verb}. {what}");
}

/// <summary>A kit that an order uses, with the revision it was opened with.</summary>
public sealed class OrderKit
{
    public OrderId OrderId { get; init; }

    public required PartId KitPartId { get; init; }

    public required decimal Quantity { get; init; }

    /// <summary>Null on a draft: the current revision counts.</summary>
    public KitRevisionId? KitRevisionId { get; set; }
}
