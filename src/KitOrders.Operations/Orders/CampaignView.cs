using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;

namespace KitOrders.Operations.Orders;

/// <param name="Pumps">Orders that were not cancelled.</param>
/// <param name="Short">Spares that are short and that no planner let go.</param>
public sealed record CampaignRow(string Number, string Name, string Job, string JobDescription, CampaignState State, DateOnly NeededBy,
    int Pumps, int Drafts, int Open, int Underway, int Closed, int Cancelled, DateOnly FirstFit, DateOnly LastFit, decimal Short);

/// <summary>A campaign with its orders and the spares it holds for all of them.</summary>
public sealed record CampaignView
{
    public required string Number { get; init; }
    public required string Name { get; init; }
    public required string Job { get; init; }
    public required string JobDescription { get; init; }
    public required CampaignState State { get; init; }
    public required DateOnly NeededBy { get; init; }
    public required DateTimeOffset MadeAt { get; init; }
    public required string MadeBy { get; init; }
    public required DateOnly Today { get; init; }
    public required string Currency { get; init; }
    public required decimal SpareRisk { get; init; }
    public required IReadOnlyList<OrderKitView> Kits { get; init; }

    /// <summary>The most pressing first.</summary>
    public required IReadOnlyList<CampaignOrder> Orders { get; init; }

    public required IReadOnlyList<CampaignSpare> Spares { get; init; }

    /// <summary>What happened to the campaign, oldest first; what happened to an order stands on the order.</summary>
    public required IReadOnlyList<EventView> History { get; init; }

    public string SuitabilityNotice { get; init; } = Suitability.Notice;
}

/// <summary>One pump of a campaign, with its order.</summary>
public sealed record CampaignOrder
{
    public required string Number { get; init; }
    public required string Pump { get; init; }
    public required string Model { get; init; }
    public required OrderState State { get; init; }
    public required string? Paused { get; init; }
    public required string? StagedPlace { get; init; }
    public required int Score { get; init; }
    public required DateOnly FitOn { get; init; }

    /// <summary>Lines, and those of them that are short; of a draft as it would open if it stood alone.</summary>
    public required int Lines { get; init; }

    public required int LinesShort { get; init; }

    /// <summary>Parts that are short: "1 × 30-2214".</summary>
    public required IReadOnlyList<string> Short { get; init; }

    /// <summary>Lines picked whole.</summary>
    public required int LinesPicked { get; init; }

    /// <summary>The first day with all parts in hand; null for drafts, for orders past staging and while a line is uncovered.</summary>
    public required DateOnly? ReadyOn { get; init; }

    /// <summary>Why a draft's demand cannot be worked out.</summary>
    public required string? DemandRefused { get; init; }

    public required IReadOnlyList<CheckView> Checks { get; init; }
    public required int StepsDone { get; init; }
    public required int Steps { get; init; }
    public required decimal? HoursPlanned { get; init; }
    public required decimal HoursActual { get; init; }
    public required CostView Cost { get; init; }

    /// <summary>Spares of the campaign that it has used.</summary>
    public required decimal SparesUsed { get; init; }

    public bool Failed => Checks.Any(c => c.Result == CheckResult.Failed);

    /// <summary>Unknown checks that nobody has answered with yes.</summary>
    public IEnumerable<CheckView> Unanswered => Checks.Where(c => c.Result == CheckResult.Unknown && !AnswerCheck.Allows(c.Answer));

    /// <summary>A draft that nothing on record keeps from opening.</summary>
    public bool WouldOpen => State == OrderState.Draft && !Failed && DemandRefused is null && !Unanswered.Any();
}

/// <summary>Spares of one part, pooled.</summary>
public sealed record CampaignSpare
{
    public required string Part { get; init; }
    public required string Description { get; init; }

    /// <summary>Parts kept on the pumps of the orders that are open or would open.</summary>
    public required decimal Kept { get; init; }

    public required decimal Rate { get; init; }

    /// <summary>What these orders would hold one by one.</summary>
    public required decimal Alone { get; init; }

    /// <summary>What they hold, or would hold, together.</summary>
    public required decimal Pooled { get; init; }

    /// <summary>What the campaign asks for now: picked, reserved and short.</summary>
    public required decimal Required { get; init; }

    public required decimal Picked { get; init; }
    public required decimal Reserved { get; init; }
    public required decimal Short { get; init; }

    /// <summary>Of those picked: used by orders, given back, and still in hand.</summary>
    public required decimal Used { get; init; }

    public required decimal Returned { get; init; }
    public decimal InHand => Picked - Used - Lots.Sum(l => l.Returned) - Lots.Sum(l => l.Scrapped);
    public required decimal Incoming { get; init; }
    public required DateOnly? PromisedOn { get; init; }
    public required decimal? UnitCost { get; init; }
    public required string? ReleasedBy { get; init; }
    public required string? ReleaseReason { get; init; }
    public required IReadOnlyList<ReservationView> Lots { get; init; }
}
