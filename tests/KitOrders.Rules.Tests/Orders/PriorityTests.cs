using KitOrders.Rules.Orders;
using Xunit;

namespace KitOrders.Rules.Tests.Orders;

public class PriorityTests
{
    static readonly DateTimeOffset Morning = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);

    static Priority Order(string number, int criticality = 5, int workClass = 5, int neededIn = 0, int? openedAt = 0) =>
        new(number, criticality, workClass, new DateOnly(2026, 3, 9).AddDays(neededIn), openedAt is { } h ? Morning.AddHours(h) : null);

    static readonly (string Why, Priority First, Priority Second)[] Pairs =
    [
        ("higher score", Order("2", 10, 3, 9, 9), Order("1", 5, 5)),
        ("score is the product, not the sum", Order("2", 5, 5), Order("1", 10, 2)),
        ("earlier needed", Order("2", neededIn: 0, openedAt: 9), Order("1", neededIn: 1)),
        ("earlier opened", Order("2", openedAt: 0), Order("1", openedAt: 1)),
        ("opened before drafts", Order("2"), Order("1", openedAt: null)),
        ("lower number", Order("WO-0001"), Order("WO-0002")),
        ("digits count as a number", Order("WO-9"), Order("WO-10")),
        ("letters ordinally", Order("AB-10"), Order("B-9")),
        ("shorter first", Order("WO-1"), Order("WO-1a")),
        ("leading zeros only if nothing else differs", Order("WO-01"), Order("WO-1")),
        ("long digit runs do not overflow", Order("99999999999999999999998"), Order("99999999999999999999999")),
    ];

    [Fact]
    public void The_more_pressing_order_comes_first() => Assert.All(Pairs, pair =>
    {
        Assert.True(pair.First < pair.Second, pair.Why);
        Assert.True(pair.Second > pair.First, pair.Why);
        Assert.Equal([pair.First, pair.Second], new[] { pair.Second, pair.First }.Order(Priority.MostPressingFirst));
    });

    [Theory]
    [InlineData(1, 1, 1)]
    [InlineData(10, 10, 100)]
    [InlineData(7, 8, 56)]
    public void The_score_is_criticality_times_work_class(int criticality, int workClass, int score) =>
        Assert.Equal(score, Order("1", criticality, workClass).Score);

    [Theory]
    [InlineData(0, 5)]
    [InlineData(11, 5)]
    [InlineData(5, 0)]
    [InlineData(5, 11)]
    public void Factors_outside_one_to_ten_are_a_bug(int criticality, int workClass) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Priority.ScoreOf(criticality, workClass));
}
