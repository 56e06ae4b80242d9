using KitOrders.Rules.Parts;
using KitOrders.Rules.People;

namespace KitOrders.Rules.Stock;

/// <summary>One count of a lot in a bin beside what the book said just before.</summary>
public sealed class BinCount
{
    public long Id { get; private set; }

    public required DateTimeOffset At { get; init; }

    public required PartId PartId { get; init; }

    public required LotId LotId { get; init; }

    public required BinId BinId { get; init; }

    public required decimal Book { get; init; }

    public required decimal Counted { get; init; }

    public required PersonId PersonId { get; init; }
}
