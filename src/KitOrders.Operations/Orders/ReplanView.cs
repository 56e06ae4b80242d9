using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;

namespace KitOrders.Operations.Orders;

/// <summary>What planning an open order again would change. Nothing of it is kept.</summary>
public sealed record ReplanView
{
    public required string Order { get; init; }
    public required long Version { get; init; }

    /// <summary>Stands for everything shown here: given back with the decision, so that nothing else is done than what was seen.</summary>
    public required string Seen { get; init; }

    public required IReadOnlyList<ReplanKit> Kits { get; init; }

    /// <summary>The procedure's revisions; null when the order has none.</summary>
    public required ReplanProcedure? Procedure { get; init; }

    /// <summary>Every line of before and after.</summary>
    public required IReadOnlyList<ReplanLine> Lines { get; init; }

    /// <summary>Steps that a newer revision of the procedure would change; they change by choice only.</summary>
    public required IReadOnlyList<ReplanStep> Steps { get; init; }

    /// <summary>The checks as of now, with the revisions and lots of the new plan.</summary>
    public required IReadOnlyList<CheckView> Suitability { get; init; }

    public string SuitabilityNotice { get; init; } = Rules.Kits.Suitability.Notice;

    /// <summary>What will be lost: alternates that stand in, short lines that a planner let go.</summary>
    public required IReadOnlyList<string> GivenUp { get; init; }

    /// <summary>Why the order cannot be planned again as things are; null when it can.</summary>
    public required string? Refused { get; init; }
}

public sealed record ReplanKit(string Kit, int? Before, int? After);

public sealed record ReplanProcedure(string Procedure, int? Before, int? After);

/// <param name="Before">Null: the line is new.</param>
/// <param name="After">Null: the line goes.</param>
public sealed record ReplanLine(string Part, string Description, Unit Unit, LineSource Source, ReplanFigures? Before, ReplanFigures? After)
{
    public bool Changed => Before != After;
}

public sealed record ReplanFigures(decimal Gross, decimal Built, decimal Required, decimal Reserved, decimal Short);

/// <param name="Before">What the step says now; null: it is new.</param>
/// <param name="After">What it would say; null: it goes.</param>
public sealed record ReplanStep(int Step, string? Before, string? After);
