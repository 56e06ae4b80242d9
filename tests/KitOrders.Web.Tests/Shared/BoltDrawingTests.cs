using Bunit;
using KitOrders.Rules.Procedures;
using KitOrders.Web.Shared;
using Xunit;

namespace KitOrders.Web.Tests.Shared;

public sealed class BoltDrawingTests : BunitContext
{
    static readonly int[] SixInStar = [0, 3, 2, 5, 1, 4];

    [Fact]
    public void Bolts_are_numbered_in_the_order_in_which_they_are_tightened()
    {
        var spots = BoltCircle.Spots(SixInStar);
        // The first at the top, the second opposite, as places run clockwise from the top.
        Assert.Equal(new BoltCircle.Spot(1, 170, 52), spots[0]);
        Assert.Equal(new BoltCircle.Spot(2, 170, 288), spots[1]);
        Assert.Equal(new BoltCircle.Spot(3, 272.2, 229), spots[2]);
        Assert.Equal(new BoltCircle.Spot(4, 67.8, 111), spots[3]);
    }

    [Fact]
    public void Done_is_ink_the_next_one_is_lit_and_the_rest_are_open()
    {
        var drawn = Render<BoltDrawing>(p => p.Add(b => b.Positions, SixInStar).Add(b => b.Done, 3));
        Assert.Equal(["1", "2", "3"], drawn.FindAll(".bn.d text").Select(t => t.TextContent));
        Assert.Equal("4", drawn.Find(".bnx").TextContent);
        Assert.Equal(["5", "6"], drawn.FindAll(".bn:not(.d) text").Select(t => t.TextContent));
        Assert.Equal("6 bolts: 3 tightened in this pass, next is bolt 4, at 10 o'clock", drawn.Find("svg").GetAttribute("aria-label"));
    }

    [Fact]
    public void After_the_last_bolt_nothing_is_lit()
    {
        var drawn = Render<BoltDrawing>(p => p.Add(b => b.Positions, SixInStar).Add(b => b.Done, 6));
        Assert.Empty(drawn.FindAll(".bnx, .nx, .ring"));
        Assert.Equal(6, drawn.FindAll(".bo.d").Count);
    }

    [Theory]
    [InlineData(8, BoltSequence.Star)]
    [InlineData(7, BoltSequence.Alternate)]
    [InlineData(6, BoltSequence.Round)]
    public void Bolts_lie_where_the_rule_of_the_pattern_puts_them(int bolts, BoltSequence sequence)
    {
        var spots = BoltCircle.Spots(BoltPattern.Positions(bolts, sequence));
        foreach (var spot in spots)
        {
            var degrees = Math.Atan2(spot.X - 170, 170 - spot.Y) * 180 / Math.PI;
            Assert.Equal((double)BoltPattern.Angle(spot.Turn, bolts, sequence), (degrees + 360.1) % 360 - 0.1, 0.1);
        }
    }

    [Theory]
    [InlineData(2)]
    [InlineData(8)]
    [InlineData(20)]
    public void Bolts_never_touch(int count)
    {
        var spots = BoltCircle.Spots([.. Enumerable.Range(0, count)]);
        var apart = Math.Sqrt(Math.Pow(spots[1].X - spots[0].X, 2) + Math.Pow(spots[1].Y - spots[0].Y, 2));
        Assert.True(apart > 2 * BoltCircle.BoltRadius(count), $"{count} bolts lie {apart} apart with radius {BoltCircle.BoltRadius(count)}");
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(0, 2)]
    [InlineData(1, 2)]
    public void An_order_that_does_not_name_every_position_once_is_a_bug(int first, int second) =>
        Assert.Throws<ArgumentException>(() => BoltCircle.Spots([first, second]));
}
