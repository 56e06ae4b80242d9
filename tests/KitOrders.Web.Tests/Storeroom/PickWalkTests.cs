using KitOrders.Operations.Stock;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Web.Storeroom;
using Xunit;

namespace KitOrders.Web.Tests.Storeroom;

public sealed class PickWalkTests
{
    static RunLine Line(string bin, string part, string lot, decimal held, decimal picked = 0, int lotsHere = 1, Unit unit = Unit.Each, params string[] otherLots) =>
        new(bin, 1, part, $"The {part}", unit, $"BAR{part}", lot, new DateOnly(2031, 9, 30), 9, lotsHere, otherLots,
            [new RunPiece("10482", "A", 1, Math.Min(1, held), picked), .. held > 1 ? [new RunPiece("10486", "B", 2, held - 1, 0)] : Array.Empty<RunPiece>()]);

    static PickWalk Walk(params RunLine[] lines) => new(new PickRunView(
        [new RunOrder("10482", "A", "GP-204", OrderState.Open, default, [], null), new RunOrder("10486", "B", "GP-207", OrderState.Open, default, [], null)], lines, []));

    [Fact]
    public void A_run_opens_at_the_first_line_that_is_not_picked()
    {
        var walk = Walk(Line("01", "P-1", "L1", 0, picked: 1), Line("02", "P-2", "L2", 2));
        Assert.Equal((1, "P-2", 1), (walk.Index, walk.Line!.Part, walk.Done));
    }

    [Theory]
    [InlineData("P-1")]
    [InlineData("p-1")]
    [InlineData("BARP-1")]
    [InlineData("L1")]
    public void A_scan_of_number_barcode_or_lot_counts_one_piece_to_the_most_pressing_order(string code)
    {
        var walk = Walk(Line("01", "P-1", "L1", 2));
        var answer = walk.Scan(code + "\r\n");
        Assert.True(answer.Accepted, answer.Sentence);
        Assert.Equal("P-1, lot L1, to 10482, tote A", answer.Sentence);
        Assert.Equal((1m, "10486"), (walk.Scanned, walk.Next!.Order));
        Assert.False(walk.Full);
        Assert.True(walk.Scan(code).Accepted);
        Assert.True(walk.Full);
    }

    [Fact]
    public void Another_lot_of_the_part_is_refused_with_the_lot_that_is_reserved()
    {
        var walk = Walk(Line("01", "P-1", "L1", 2, otherLots: "L9"));
        var answer = walk.Scan("L9");
        Assert.Equal("wrong lot", answer.Reason);
        Assert.Equal("Scanned L9. Reserved is L1: it expires first. Nothing was counted.", answer.Sentence);
        Assert.Equal(0m, walk.Scanned);
    }

    [Fact]
    public void Another_part_is_refused_by_its_name()
    {
        var walk = Walk(Line("01", "P-1", "L1", 1), Line("02", "P-2", "L2", 1));
        Assert.Equal(("wrong part", "Scanned P-2, The P-2. Wanted here is P-1. Nothing was counted."), (walk.Scan("L2").Reason, walk.Scan("P-2").Sentence));
        Assert.Equal("wrong part", walk.Scan("4006381333931").Reason);
    }

    [Fact]
    public void The_bin_is_known_and_a_wrong_one_says_where_to_go()
    {
        var walk = Walk(Line("01", "P-1", "L1", 1), Line("02", "P-2", "L2", 1));
        Assert.True(walk.Scan("01").Accepted);
        Assert.Equal(("wrong bin", "Scanned bin 02. Go to bin 01."), (walk.Scan("02").Reason, walk.Scan("02").Sentence));
        Assert.Equal(0m, walk.Scanned);
    }

    [Fact]
    public void One_too_many_is_refused()
    {
        var walk = Walk(Line("01", "P-1", "L1", 1));
        walk.Scan("P-1");
        Assert.Equal("too many", walk.Scan("P-1").Reason);
        Assert.Equal(1m, walk.Scanned);
    }

    [Fact]
    public void Where_two_lots_lie_in_one_bin_the_lot_has_to_be_scanned_once()
    {
        var walk = Walk(Line("01", "P-1", "L1", 2, lotsHere: 2, otherLots: "L2"));
        Assert.Equal("which lot?", walk.Scan("P-1").Reason);
        Assert.True(walk.Scan("L1").Accepted);
        Assert.True(walk.Scan("P-1").Accepted);
    }

    [Fact]
    public void What_is_measured_is_taken_whole_by_one_scan()
    {
        var walk = Walk(Line("01", "HOSE", "L1", 6.5m, unit: Unit.M));
        Assert.True(walk.Scan("HOSE").Accepted);
        Assert.True(walk.Full);
    }

    [Fact]
    public void What_cannot_be_scanned_is_said_and_never_more_than_is_wanted()
    {
        var walk = Walk(Line("01", "P-1", "L1", 3));
        Assert.Equal("too many", walk.Say(4).Reason);
        Assert.Equal("no quantity", walk.Say(1.5m).Reason);
        Assert.Equal("no quantity", walk.Say(0).Reason);
        Assert.True(walk.Say(2).Accepted);
        Assert.Equal((2m, 1m), (walk.Scanned, walk.Left));
    }

    [Fact]
    public void The_last_piece_is_put_back_and_pieces_are_dealt_to_the_most_pressing_first()
    {
        var walk = Walk(Line("01", "P-1", "L1", 3));
        Assert.Equal("nothing to put back", walk.Undo().Reason);
        walk.Say(3);
        Assert.True(walk.Undo().Accepted);
        Assert.Equal([(1, 1m), (2, 1m)], walk.Dealt().Select(d => (d.Piece.Reservation, d.Quantity)));
        walk.Undo();
        Assert.Equal([(1, 1m), (2, 0m)], walk.Dealt().Select(d => (d.Piece.Reservation, d.Quantity)));
    }

    [Fact]
    public void A_run_that_is_picked_takes_no_more()
    {
        var walk = Walk(Line("01", "P-1", "L1", 0, picked: 1));
        Assert.Null(walk.Line);
        Assert.Equal("nothing to pick", walk.Scan("P-1").Reason);
    }
}
