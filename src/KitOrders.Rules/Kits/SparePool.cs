namespace KitOrders.Rules.Kits;

/// <summary>What one order of a campaign may have to replace of a part.</summary>
/// <param name="ForAll">Parts for which every one has its spare.</param>
/// <param name="ByRate">Parts for which spares are held by rate.</param>
/// <param name="Rate">Reject rate as it stood when the order was opened, 0 to 1.</param>
/// <param name="Alone">Spares the order would hold if it stood alone.</param>
public sealed record SpareShare(decimal ForAll, decimal ByRate, decimal Rate, decimal Alone);

/// <param name="Quantity">Spares that all orders together hold; whole parts.</param>
/// <param name="Kept">Parts kept for which spares are counted.</param>
/// <param name="Rate">The rate they were counted with: the orders' rates, weighted by what each keeps.</param>
/// <param name="Alone">What the orders would hold one by one.</param>
public sealed record PoolSize(decimal Quantity, decimal Kept, decimal Rate, decimal Alone);

/// <summary>The spares of one part that a campaign holds for all its orders.</summary>
public static class SparePool
{
    /// <summary>
    /// All orders as one: the smallest number that they together outlast with the accepted risk. Never more than the orders
    /// would hold one by one: where each alone accepts to hold none, holding some for all of them would not be pooling.
    /// </summary>
    /// <param name="risk">Accepted risk of too few, 0 to 1; a plant setting.</param>
    public static PoolSize Size(IReadOnlyCollection<SpareShare> orders, decimal risk)
    {
        ArgumentNullException.ThrowIfNull(orders);
        var byRate = orders.Sum(o => o.ByRate);
        var rate = byRate == 0 ? 0 : orders.Sum(o => o.ByRate * o.Rate) / byRate;
        var forAll = orders.Sum(o => o.ForAll);
        var alone = orders.Sum(o => o.Alone);
        var together = Math.Ceiling(forAll) + SpareCount.Hold((long)Math.Ceiling(byRate), rate, risk);
        return new PoolSize(Math.Min(together, alone), forAll + byRate, rate, alone);
    }

    /// <summary>What the campaign's line asks for after something happened to one of its orders.</summary>
    /// <param name="before">What it asked for until now; 0 where there was no line.</param>
    /// <param name="picked">Of it; what is in hand is never asked for less.</param>
    /// <param name="size">Of the orders that have been opened and not ended.</param>
    /// <param name="rejected">Parts that these orders have rejected so far; above the size the demand grows.</param>
    /// <param name="usedByEnded">Spares that ended orders have used.</param>
    /// <param name="ending">An order has ended: what was enough for more orders is enough for fewer.</param>
    public static decimal Required(decimal before, decimal picked, decimal size, decimal rejected, decimal usedByEnded, bool ending)
    {
        var wanted = usedByEnded + Math.Max(size, rejected);
        return Math.Max(ending ? Math.Min(before, wanted) : wanted, picked);
    }
}
