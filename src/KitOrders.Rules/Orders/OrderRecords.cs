using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;

namespace KitOrders.Rules.Orders;

/// <summary>A step frozen at opening for the pump's model. Releases and acceptances are recorded beside it.</summary>
public sealed class OrderStep : Step
{
    public int Id { get; private set; }

    public required OrderId OrderId { get; init; }

    /// <summary>How many pieces a carry-over step judges; 1 otherwise.</summary>
    public int Pieces { get; init; } = 1;

    public DateTimeOffset? ReleasedAt { get; private set; }

    public PersonId? ReleasedById { get; private set; }

    /// <summary>A planner took a result that was not as specified, and why.</summary>
    public DateTimeOffset? AcceptedAt { get; private set; }

    public PersonId? AcceptedById { get; private set; }

    public string? AcceptReason { get; private set; }

    public void Release(DateTimeOffset at, PersonId by)
    {
        ReleasedAt = at;
        ReleasedById = by;
    }

    public void Accept(DateTimeOffset at, PersonId by, string reason)
    {
        AcceptedAt = at;
        AcceptedById = by;
        AcceptReason = reason;
    }
}

/// <summary>One result of a step. Appended, never overwritten; a correction points at what it corrects.</summary>
public sealed class StepResult
{
    public long Id { get; private set; }

    public required OrderId OrderId { get; init; }

    public required int OrderStepId { get; init; }

    public required StepOutcome Outcome { get; init; }

    public decimal? Value { get; init; }

    public string? Unit { get; init; }

    public int? Pass { get; init; }

    public int? Bolt { get; init; }

    /// <summary>Which of the pieces a carry-over decision is about, from 1.</summary>
    public int? Piece { get; init; }

    public CarryOverDecision? Decision { get; init; }

    public string? Tool { get; init; }

    public string? Note { get; init; }

    /// <summary>When the person says it was done; the server's own time is <see cref="ReceivedAt"/>.</summary>
    public required DateTimeOffset RecordedAt { get; init; }

    public required DateTimeOffset ReceivedAt { get; init; }

    public required PersonId PersonId { get; init; }

    public PersonId? WitnessId { get; init; }

    public decimal? WitnessValue { get; init; }

    public long? CorrectsId { get; init; }

    public string? Device { get; init; }
}

/// <summary>How the checks of suitability came out when the order was opened, and again when work began.</summary>
public sealed class OrderJudgement
{
    public required OrderId OrderId { get; init; }

    /// <summary>The whole list as JSON: it is written and read as one.</summary>
    public required string Checks { get; init; }
}

/// <summary>Who answered what the record could not, for one check of one kit of the order.</summary>
public sealed class OrderCheck
{
    public required OrderId OrderId { get; init; }

    public required string Kit { get; init; }

    public required Check Check { get; init; }

    public string? Answer { get; set; }

    public string? AnswerNote { get; set; }

    public PersonId? AnsweredById { get; set; }

    public DateTimeOffset? AnsweredAt { get; set; }
}

public sealed class Permit
{
    public int Id { get; private set; }

    public required OrderId OrderId { get; init; }

    public required string Kind { get; init; }

    public required string Reference { get; init; }

    /// <summary>Last day on which it counts; null when none was given.</summary>
    public DateOnly? ValidTo { get; init; }

    public required PersonId RecordedById { get; init; }

    public required DateTimeOffset RecordedAt { get; init; }
}

public sealed class HoursWorked
{
    public int Id { get; private set; }

    public required OrderId OrderId { get; init; }

    public required string Person { get; init; }

    public required decimal Hours { get; init; }

    /// <summary>Rate per hour when they were recorded; null when no crew rate was known.</summary>
    public decimal? HourlyRate { get; init; }
}

/// <summary>A part taken off the pump and where it went.</summary>
public sealed class RemovedPart
{
    public int Id { get; private set; }

    public required OrderId OrderId { get; init; }

    public required PartId PartId { get; init; }

    public required decimal Quantity { get; init; }

    public required RemovedTo To { get; init; }

    /// <summary>How it was decontaminated, and by whom; needed for serviceable stock and vendors.</summary>
    public string? Decontaminated { get; init; }
}

/// <summary>Who did what, when: one row for every write, kept for ever.</summary>
public sealed class AuditEntry
{
    public long Id { get; private set; }

    public required DateTimeOffset At { get; init; }

    public required PersonId PersonId { get; init; }

    public required string Operation { get; init; }

    public OrderId? OrderId { get; init; }

    /// <summary>What it was done to, in the words of the trade: "part 30-11, lot A4".</summary>
    public required string Subject { get; init; }

    public required string Sentence { get; init; }

    public string? Device { get; init; }
}
