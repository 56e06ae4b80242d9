using CsCheck;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Rules.Tests.Orders;

public class ReplacingTests
{
    static Part New(string number, Unit unit = Unit.Each) => new() { Number = number, Description = number, Unit = unit };

    static readonly StandIn[] Anything = [new(default, 1)];

    static Refusal? MayUse(decimal quantity, decimal lacks, Unit unit = Unit.Each, Unit other = Unit.Each, bool approved = true) =>
        Replacing.MayUse("10482", New("71-0348", unit), New("71-0351", other), quantity, lacks, approved ? Anything : [], _ => "71-0351");

    [Theory]
    [InlineData(1, 2, null)]
    [InlineData(2, 2, null)]
    [InlineData(3, 2, "alternate-not-needed")]
    [InlineData(1, 0, "alternate-not-needed")]
    [InlineData(0, 2, "quantity-not-positive")]
    [InlineData(0.5, 2, "quantity-not-whole")]
    public void An_alternate_is_used_for_at_most_what_is_short(decimal quantity, decimal lacks, string? code) => Assert.Equal(code, MayUse(quantity, lacks)?.Code);

    [Fact]
    public void Another_unit_or_no_approval_is_refused()
    {
        Assert.Equal("alternate-unit", MayUse(1, 2, Unit.Each, Unit.Set)?.Code);
        Assert.Equal("alternate-not-approved", MayUse(1, 2, approved: false)?.Code);
    }

    static DemandLine Line(decimal required) => new()
    {
        OrderId = new(1), PartId = new(1), Source = LineSource.InTheBox, Gross = required, Built = 0, Required = required, Short = required, Spare = false,
    };

    [Fact]
    public void What_stands_in_is_taken_back_whole_unless_something_stands_in_for_it_in_turn()
    {
        Assert.Null(Replacing.MayTakeBack("1", "A", "B", 2, Line(2)));
        Assert.Equal("alternate-replaced", Replacing.MayTakeBack("1", "A", "B", 2, Line(1))?.Code);
    }

    [Fact]
    public void A_replacement_comes_from_the_last_kit_lines_that_no_other_took()
    {
        DemandOrigin[] asked = [new("K", 1, 2), new("L", 3, 1), new("L", 4, 3)];
        Assert.Equal([new("L", 4, 3)], Replacing.OriginsOf(asked, 0, 3));
        Assert.Equal([new("K", 1, 1), new("L", 3, 1), new("L", 4, 2)], Replacing.OriginsOf(asked, 1, 4));
        Assert.Equal([new("K", 1, 1)], Replacing.OriginsOf(asked, 5, 4));
        Assert.Empty(Replacing.OriginsOf([], 0, 4));
    }

    [Fact]
    public void Replacements_share_the_kit_lines_and_take_nothing_twice() => Gen.Select(Gen.Int[1, 5].Array[1, 6], Gen.Int[0, 10], Gen.Int[0, 10]).Sample((quantities, first, second) =>
    {
        var asked = quantities.Select((q, n) => new DemandOrigin("K", n, q)).ToList();
        var all = (decimal)quantities.Sum();
        var one = Replacing.OriginsOf(asked, 0, first);
        var other = Replacing.OriginsOf(asked, first, second);
        Assert.Equal(Math.Min(first, all), one.Sum(o => o.Quantity));
        Assert.Equal(Math.Min(second, Math.Max(0, all - first)), other.Sum(o => o.Quantity));
        Assert.All(one.Concat(other).GroupBy(o => o.Line), g => Assert.True(g.Sum(o => o.Quantity) <= asked[g.Key].Quantity));
    });

    [Fact]
    public void What_would_have_left_the_shelf_last_is_given_up_first()
    {
        static LotBalance Lot(string number, int goodFor) => new(new(1), new(goodFor), number, new(1), 1, new(2026, 1, 1), new DateOnly(2026, 3, 1).AddDays(goodFor), false, 5, 5);
        var holds = new[] { (Lot: Lot("A", 10), Held: 2m), (Lot: Lot("B", 90), Held: 1m), (Lot: Lot("C", 40), Held: 3m) };
        Assert.Equal([("B", 1m), ("C", 3m), ("A", 0.5m)], Replacing.GiveUp(holds, h => h.Lot, h => h.Held, 4.5m).Select(g => (g.Hold.Lot.LotNumber, g.Quantity)));
        Assert.Empty(Replacing.GiveUp(holds, h => h.Lot, h => h.Held, 0));
    }
}
