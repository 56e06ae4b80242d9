using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Stock;

/// <summary>What can be said as a quantity or a cost of stock.</summary>
public static class StockQuantity
{
    public const decimal Most = 99_999_999;

    /// <summary>
    /// Null when it can be taken: above 0 (or 0 where allowed), at most 99,999,999, four decimals at most, whole for counted
    /// units. Refusals: <c>quantity-not-positive</c>, <c>quantity-too-large</c>, <c>quantity-not-whole</c>, <c>quantity-too-fine</c>.
    /// </summary>
    public static Refusal? Refuse(decimal quantity, Unit unit, string field = "quantity", bool zeroAllowed = false)
    {
        if (quantity < 0 || (quantity == 0 && !zeroAllowed))
            return Refusal.Field(field, "quantity-not-positive",
                zeroAllowed ? $"{quantity:0.####} cannot be: the quantity is 0 or more." : "The quantity must be above 0. Stock goes down by a scrap, a count or a transfer.");
        if (quantity > Most)
            return Refusal.Field(field, "quantity-too-large", $"{quantity:0.####} is more than {Most:0} and surely not meant. Look at it again.");
        if (unit.IsCounted() && quantity != decimal.Truncate(quantity))
            return Refusal.Field(field, "quantity-not-whole", $"The part is counted by the {Word.Of(unit)}, so {quantity:0.####} cannot be: give a whole number.");
        if (quantity != Math.Round(quantity, 4))
            return Refusal.Field(field, "quantity-too-fine", "Give at most four decimals.");
        return null;
    }

    /// <summary>Null when it can be taken: none, or 0 to 99,999,999 with at most four decimals. Refusal: <c>cost-out-of-range</c>.</summary>
    public static Refusal? RefuseCost(decimal? cost, string field = "unitCost") =>
        cost is { } given && (given < 0 || given > Most || given != Math.Round(given, 4))
            ? Refusal.Field(field, "cost-out-of-range", $"The cost per unit lies from 0 to {Most:0} with at most four decimals, or is left out.")
            : null;
}
