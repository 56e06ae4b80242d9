using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Procedures;

public readonly record struct ProcedureId(int Value);

public readonly record struct ProcedureRevisionId(int Value);

public readonly record struct JobId(int Value);

public sealed class Procedure
{
    public ProcedureId Id { get; private set; }

    public required string Code { get; init; }

    public List<ProcedureRevision> Revisions { get; } = [];
}

/// <summary>A numbered version of a procedure's steps. Frozen once released; orders keep their own copy.</summary>
public sealed class ProcedureRevision
{
    public ProcedureRevisionId Id { get; private set; }

    public ProcedureId ProcedureId { get; init; }

    public required int Number { get; set; }

    public RevisionState State { get; private set; } = RevisionState.Draft;

    public DateOnly? ReleasedOn { get; private set; }

    /// <summary>Goes up with every keeping of the draft, so that nobody writes over what another kept.</summary>
    public long Version { get; private set; } = 1;

    public List<ProcedureStep> Steps { get; } = [];

    public void Kept() => Version++;

    public void Release(DateOnly on)
    {
        State = RevisionState.Released;
        ReleasedOn = on;
        Version++;
    }

    public void Supersede() => State = RevisionState.Superseded;
}

/// <summary>What a step says, whether in a procedure or frozen in an order.</summary>
public abstract class Step
{
    public required int Number { get; init; }

    public required PartOf PartOf { get; init; }

    public required StepKind Kind { get; init; }

    public required string Text { get; init; }

    public SignalWord? SignalWord { get; init; }

    public string? Hazard { get; init; }

    public string? Consequence { get; init; }

    public string? Avoid { get; init; }

    public string? Joint { get; init; }

    public int? Bolts { get; init; }

    public BoltSequence? Sequence { get; init; }

    public decimal? Target { get; init; }

    public decimal? Low { get; init; }

    public decimal? High { get; init; }

    public string? Unit { get; init; }

    public decimal? TolerancePct { get; init; }

    public int? Passes { get; init; }

    public bool HoldPoint { get; init; }

    public bool Witnessed { get; init; }

    /// <summary>The part the step speaks of; for a carry-over decision the part kept from the pump.</summary>
    public PartId? PartId { get; init; }

    public decimal? Minutes { get; init; }

    public string? Tool { get; init; }

    public string? Document { get; init; }

    public string? Edition { get; init; }

    public string? Page { get; init; }

    /// <summary>The cited document where it is on record, so that it opens from the step.</summary>
    public DocumentId? DocumentId { get; init; }

    /// <summary>Pictures to look at, each as <see cref="StepPicture"/> writes it.</summary>
    public List<string> Pictures { get; init; } = [];
}

public sealed class ProcedureStep : Step
{
    public int Id { get; private set; }

    public ProcedureRevisionId ProcedureRevisionId { get; init; }

    /// <summary>The only model it applies to; null is all models.</summary>
    public PumpModelId? ModelId { get; init; }
}

/// <summary>What is done to a pump: a procedure plus the kits it uses.</summary>
public sealed class Job
{
    public JobId Id { get; private set; }

    public required string Code { get; init; }

    public required string Description { get; set; }

    public required ProcedureId ProcedureId { get; set; }

    /// <summary>The crew that does it, by name; its rate prices the planned hours.</summary>
    public string? Crew { get; set; }

    /// <summary>Estimated hours of work.</summary>
    public decimal? Hours { get; set; }

    public List<JobKit> Kits { get; } = [];
}

public sealed class JobKit
{
    public JobId JobId { get; init; }

    public required PartId KitPartId { get; init; }

    public required decimal Quantity { get; set; }
}
