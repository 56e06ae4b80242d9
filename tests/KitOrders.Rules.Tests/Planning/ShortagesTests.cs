using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Planning;
using Xunit;

namespace KitOrders.Rules.Tests.Planning;

public class ShortagesTests
{
    static readonly DateOnly AsOf = new(2026, 3, 2);

    static ShortLine Short(string part, int order, decimal quantity, decimal? hours) => new(new PartId(part[0]), part, new OrderId(order), quantity, hours);

    static IncomingFact Coming(string part, int? promisedIn, string reference) =>
        new(new PartId(part[0]), reference, promisedIn is { } days ? AsOf.AddDays(days) : null, 1);

    static string[] RollUp(ShortLine[] lines, params IncomingFact[] incoming) =>
        [.. Shortages.RollUp(lines, incoming, new PromiseRule(AsOf, 7))
            .Select(s => $"{s.PartNumber} {s.Quantity} in {s.Orders.Count} for {s.Hours} h{(s.FirstIncomingOn is { } on ? $", {on.DayNumber - AsOf.DayNumber} days" : "")}")];

    [Fact]
    public void Each_order_counts_whole_for_every_part_it_waits_for_but_once_per_part() => Assert.Equal(
        ["A 4 in 2 for 11 h", "B 1 in 1 for 8 h"],
        RollUp([Short("A", 1, 1, 8), Short("A", 1, 2, 8), Short("B", 1, 1, 8), Short("A", 2, 1, 3)]));

    [Fact]
    public void The_worst_is_first_by_hours_then_quantity_then_part() => Assert.Equal(
        ["D 1 in 1 for 9 h", "C 5 in 1 for 8 h", "A 2 in 1 for 8 h", "B 2 in 1 for 8 h", "E 9 in 1 for 0 h"],
        RollUp([Short("B", 1, 2, 8), Short("A", 2, 2, 8), Short("C", 3, 5, 8), Short("D", 4, 1, 9), Short("E", 5, 9, null)]));

    [Fact]
    public void The_first_promised_delivery_is_shown_and_a_late_one_counts_from_now() => Assert.Equal(
        ["A 1 in 1 for 8 h, 3 days", "B 1 in 1 for 8 h, 7 days", "C 1 in 1 for 8 h"],
        RollUp(
            [Short("A", 1, 1, 8), Short("B", 1, 1, 8), Short("C", 1, 1, 8)],
            Coming("A", -4, "PO-1"), Coming("A", 3, "PO-2"), Coming("B", -4, "PO-3"), Coming("B", 30, "PO-4"), Coming("C", null, "PO-5")));

    [Fact]
    public void What_is_not_short_is_not_listed() => Assert.Empty(RollUp([Short("A", 1, 0, 8)]));
}
