using Bunit;
using KitOrders.Web.Shared;
using Xunit;

namespace KitOrders.Web.Tests.Shared;

public sealed class CoverageTests : BunitContext
{
    [Fact]
    public void Twelve_pieces_have_a_cell_a_piece_the_surest_first()
    {
        var fills = Fills(picked: 5, reserved: 3, shortOf: 4, incoming: 1);
        Assert.Equal("p p p p p r r r i s s s", fills);
    }

    [Fact]
    public void Thirteen_pieces_have_a_cell_a_kind_by_quantity()
    {
        var bar = Bar(picked: 5, reserved: 3, shortOf: 5, incoming: 1);
        Assert.Equal(["p", "r", "i", "s"], bar.FindAll("i").Select(i => i.ClassName));
        Assert.Equal(["--n:5", "--n:3", null, "--n:4"], bar.FindAll("i").Select(i => i.GetAttribute("style")));
    }

    [Fact]
    public void Parts_of_a_piece_are_drawn_by_width_however_few_they_are()
    {
        var bar = Bar(picked: 0.5m, reserved: 0, shortOf: 1.25m, incoming: 0);
        Assert.Equal(["--n:0.5", "--n:1.25"], bar.FindAll("i").Select(i => i.GetAttribute("style")));
    }

    [Fact]
    public void What_is_promised_takes_its_cells_from_what_is_short_and_never_more()
    {
        Assert.Equal("r i", Fills(picked: 0, reserved: 1, shortOf: 1, incoming: 1));
        Assert.Equal("r i", Fills(picked: 0, reserved: 1, shortOf: 1, incoming: 8));
        Assert.Equal("r", Fills(picked: 0, reserved: 1, shortOf: 0, incoming: 8));
    }

    [Theory]
    [InlineData(1, 1, 2, 1, "4 needed: 1 picked, 1 reserved, 2 short, 1 of them promised")]
    [InlineData(0, 0, 2, 2, "2 needed: 2 short, promised")]
    [InlineData(0, 1, 1, 0, "2 needed: 1 reserved, 1 short")]
    [InlineData(0, 0, 0, 0, "0 needed: nothing")]
    public void The_numbers_are_said_as_well_as_drawn(int picked, int reserved, int shortOf, int incoming, string said) =>
        Assert.Equal(said, Bar(picked, reserved, shortOf, incoming).Find(".cov").GetAttribute("aria-label"));

    [Fact]
    public void The_unit_is_said_with_the_number() =>
        Assert.Equal("3 m needed: 3 reserved", new Coverage(0, 3, 0, 0).InWords("m"));

    string Fills(decimal picked, decimal reserved, decimal shortOf, decimal incoming) =>
        string.Join(' ', Bar(picked, reserved, shortOf, incoming).FindAll("i").Select(i => i.ClassName));

    IRenderedComponent<CoverageBar> Bar(decimal picked, decimal reserved, decimal shortOf, decimal incoming) =>
        Render<CoverageBar>(p => p.Add(b => b.Picked, picked).Add(b => b.Reserved, reserved).Add(b => b.Short, shortOf).Add(b => b.Incoming, incoming));
}
