using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Planning;

/// <summary>A figure with what it was made from. Value is null when there is nothing to divide by.</summary>
public sealed record Measure(string Definition, decimal Counted, decimal Of, decimal? Value)
{
    internal static Measure Percent(string definition, decimal counted, decimal of) =>
        new(definition, counted, of, of > 0 ? counted * 100 / of : null);
}

/// <param name="DoneOn">Null: not done yet.</param>
public readonly record struct ScheduledOrder(OrderId Order, DateOnly ScheduledOn, DateOnly? DoneOn);

/// <summary>One request to the store for an item.</summary>
public readonly record struct StoreRequest(bool NormallyStocked, bool Filled);

/// <summary>One count of a bin against the book.</summary>
public readonly record struct CountedBin(PartId Part, decimal Book, decimal Counted);

/// <summary>Measures as their published definitions have them. Percentages are 0 to 100.</summary>
public static class Measures
{
    /// <summary>Work orders done as scheduled / scheduled; done in the scheduled week counts (alliedreliability.com, quoting SMRP). Weeks start on Monday.</summary>
    public static Measure ScheduleCompliance(IEnumerable<ScheduledOrder> scheduled)
    {
        var all = scheduled.ToList();
        return Measure.Percent(
            "Schedule compliance (SMRP): work orders done in the week for which they were scheduled, per 100 scheduled.",
            all.Count(o => o.DoneOn is { } done && Monday(done) == Monday(o.ScheduledOn)),
            all.Count);
    }

    /// <summary>Planned hours worked / all maintenance hours (SMRP draft "Planned Work").</summary>
    public static Measure PlannedWork(decimal plannedHours, decimal totalHours) => Measure.Percent(
        "Planned work (SMRP): hours worked on planned work, per 100 hours of maintenance work.", plannedHours, totalHours);

    /// <summary>Requests not filled of normally stocked items / all requests; an item not normally stocked is no stock-out (SMRP draft "Stock Outs").</summary>
    public static Measure StockOuts(IEnumerable<StoreRequest> requests)
    {
        var all = requests.ToList();
        return Measure.Percent(
            "Stock-outs (SMRP): requests for normally stocked items that could not be filled, per 100 requests to the store.",
            all.Count(r => r is { NormallyStocked: true, Filled: false }),
            all.Count);
    }

    /// <summary>Records counted equal to the book / records counted: the exact-match definition.</summary>
    /// <param name="tolerancePercent">Of the book quantity, for the definition with tolerance bands; 0 is exact match.</param>
    public static Measure InventoryAccuracy(IEnumerable<CountedBin> counts, decimal tolerancePercent = 0)
    {
        var all = counts.ToList();
        return Measure.Percent(
            tolerancePercent == 0
                ? "Inventory accuracy: records whose count equals the book, per 100 counted."
                : "Inventory accuracy: records whose count is within the tolerance of the book, per 100 counted.",
            all.Count(c => Math.Abs(c.Counted - c.Book) * 100 <= tolerancePercent * c.Book),
            all.Count);
    }

    /// <summary>Value of stock purchased in the period / value of stock on hand (SMRP 5.5.31): purchases, not issues. A ratio, not a percentage.</summary>
    public static Measure Turns(decimal purchased, decimal onHand) => new(
        "Stores inventory turns (SMRP 5.5.31): value of stock purchased in the period, divided by the value of stock on hand. Purchases, not issues.",
        purchased,
        onHand,
        onHand > 0 ? purchased / onHand : null);

    static DateOnly Monday(DateOnly day) => day.AddDays(-(((int)day.DayOfWeek + 6) % 7));
}
