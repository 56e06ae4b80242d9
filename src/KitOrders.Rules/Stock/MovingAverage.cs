namespace KitOrders.Rules.Stock;

/// <summary>The moving weighted average cost per unit: every priced receipt moves it, nothing else does.</summary>
public static class MovingAverage
{
    /// <summary>
    /// (on hand × average + received × price) / (on hand + received), to four places, halves to even. A receipt without a
    /// price leaves the average as it is. Where nothing was on hand, or nothing of it had a price, the price is the average.
    /// </summary>
    /// <param name="onHand">In stock before the receipt, in the part's unit, 0 or more.</param>
    /// <param name="average">Per unit; null before the first priced receipt.</param>
    /// <param name="received">Above 0.</param>
    /// <param name="price">Per unit, 0 or more; null where none is recorded.</param>
    public static decimal? After(decimal onHand, decimal? average, decimal received, decimal? price)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(onHand);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(received);
        if (price is not { } paid)
            return average;
        return average is { } before ? Math.Round(((onHand * before) + (received * paid)) / (onHand + received), 4) : paid;
    }

    /// <summary>
    /// The average without a receipt that was wrong: (on hand × average − received × price) / (on hand − received). Where nothing
    /// would be left, or the rest would cost less than nothing, the average stays.
    /// </summary>
    /// <param name="onHand">In stock, the wrong receipt included.</param>
    public static decimal? Without(decimal onHand, decimal? average, decimal received, decimal? price)
    {
        if (price is not { } paid || average is not { } now || onHand <= received)
            return average;
        var rest = ((onHand * now) - (received * paid)) / (onHand - received);
        return rest < 0 ? average : Math.Round(rest, 4);
    }
}
