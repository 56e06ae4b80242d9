using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Stock;

/// <summary>Free stock that is used up line by line; the order of lots within a part stands from the start.</summary>
sealed class Shelf
{
    readonly Dictionary<PartId, LinkedList<Rest>> byPart = [];

    public static Shelf Of(IEnumerable<LotBalance> balances)
    {
        var shelf = new Shelf();
        foreach (var part in balances.Where(b => b.Free > 0 && !b.Quarantined).GroupBy(b => b.Part))
        {
            shelf.byPart[part.Key] = new LinkedList<Rest>(
                part.Order(Comparer<LotBalance>.Create(LotBalance.FirstOut)).Select(b => new Rest(b)));
        }

        return shelf;
    }

    /// <summary>Takes what is usable on the fit date, up to what is needed, and answers how much that was.</summary>
    public decimal Take(PartId part, decimal needed, DateOnly fitOn, Action<LotBalance, decimal>? taken = null)
    {
        var left = needed;
        var node = byPart.TryGetValue(part, out var rests) ? rests.First : null;
        while (node is not null && left > 0)
        {
            var next = node.Next;
            var rest = node.Value;
            if (rest.Balance.UsableOn(fitOn))
            {
                var quantity = Math.Min(left, rest.Free);
                rest.Free -= quantity;
                left -= quantity;
                taken?.Invoke(rest.Balance, quantity);
                if (rest.Free == 0)
                {
                    rests!.Remove(node);
                }
            }

            node = next;
        }

        return needed - left;
    }

    sealed class Rest(LotBalance balance)
    {
        public LotBalance Balance { get; } = balance;

        public decimal Free { get; set; } = balance.Free;
    }
}
