using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;

namespace KitOrders.Rules.Orders;

/// <summary>
/// One job on many pumps, an order for each. It holds the spares of the parts that its orders keep; everything else is its
/// orders' own.
/// </summary>
public sealed class Campaign
{
    public const int NumberMaxLength = 30;
    public const int NameMaxLength = 80;

    /// <summary>What its numbers begin with; no order takes such a number.</summary>
    public const string NumberBegins = "C-";

    public CampaignId Id { get; private set; }

    public required string Number { get; init; }

    public required string Name { get; init; }

    public required JobId JobId { get; init; }

    public required DateOnly NeededBy { get; init; }

    public required DateTimeOffset MadeAt { get; init; }

    public required PersonId MadeById { get; init; }

    /// <summary>How far its orders have come; it has no state of its own.</summary>
    public static CampaignState StateOf(IEnumerable<OrderState> orders)
    {
        ArgumentNullException.ThrowIfNull(orders);
        var states = orders.ToHashSet();
        return states.All(s => s is OrderState.Closed or OrderState.Cancelled) ? CampaignState.Ended
            : states.Any(s => s is OrderState.Underway or OrderState.Finished or OrderState.Closed) ? CampaignState.Underway
            : states.Any(s => s is OrderState.Open or OrderState.Staged) ? CampaignState.Open
            : CampaignState.Draft;
    }

    /// <summary>
    /// The day of each of so many pumps, so many a day from the first day on; the most pressing come first. Calendar days.
    /// </summary>
    public static IReadOnlyList<DateOnly> Spread(int pumps, DateOnly first, int perDay)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(perDay, 1);
        return [.. Enumerable.Range(0, pumps).Select(n => first.AddDays(n / perDay))];
    }
}

/// <summary>What the states of a campaign's orders come to.</summary>
public enum CampaignState
{
    /// <summary>Nothing is opened; nothing is held.</summary>
    Draft,

    /// <summary>At least one order is open or staged, and none has begun.</summary>
    Open,

    /// <summary>Work on at least one pump has begun.</summary>
    Underway,

    /// <summary>Every order is closed or cancelled.</summary>
    Ended,
}

/// <summary>A spare of a campaign that an order of it has used.</summary>
public sealed class SpareUse
{
    public required OrderId OrderId { get; init; }

    /// <summary>Of the campaign, that it was picked from.</summary>
    public required Stock.ReservationId ReservationId { get; init; }

    public required decimal Quantity { get; set; }
}

/// <summary>What an opened order of a campaign keeps of one part; counted once, when it was opened.</summary>
public sealed class OrderSpareNeed
{
    public required OrderId OrderId { get; init; }

    public required Parts.PartId PartId { get; init; }

    /// <summary>Parts for which every one has its spare.</summary>
    public required decimal ForAll { get; init; }

    /// <summary>Parts for which spares are held by rate.</summary>
    public required decimal ByRate { get; init; }

    /// <summary>Reject rate as it stood at opening.</summary>
    public required decimal Rate { get; init; }

    /// <summary>Spares the order would hold if it stood alone.</summary>
    public required decimal Alone { get; init; }

    public Kits.SpareShare Share => new(ForAll, ByRate, Rate, Alone);
}
