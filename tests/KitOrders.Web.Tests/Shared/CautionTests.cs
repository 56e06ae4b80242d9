using Bunit;
using KitOrders.Rules.Procedures;
using KitOrders.Web.Shared;
using Xunit;

namespace KitOrders.Web.Tests.Shared;

/// <summary>
/// ANSI Z535 order and form of the signal words: DANGER, WARNING and CAUTION carry the safety alert symbol, NOTICE, which
/// is about damage and not about people, does not.
/// </summary>
public sealed class CautionTests : BunitContext
{
    [Fact]
    public void Cautions_stand_in_the_order_of_their_gravity()
    {
        CautionText[] given = [Of(SignalWord.Notice), Of(SignalWord.Warning), Of(SignalWord.Caution), Of(SignalWord.Danger)];
        var shown = Render<Cautions>(p => p.Add(c => c.Of, given));
        Assert.Equal(["DANGER", "WARNING", "CAUTION", "NOTICE"], shown.FindAll(".caut>b").Select(b => b.TextContent.Trim()));
    }

    [Fact]
    public void Cautions_of_the_same_gravity_keep_the_order_in_which_they_were_written()
    {
        CautionText[] given = [Of(SignalWord.Warning, "First."), Of(SignalWord.Danger), Of(SignalWord.Warning, "Second.")];
        var shown = Render<Cautions>(p => p.Add(c => c.Of, given));
        Assert.Equal(["Hazard.", "First.", "Second."], shown.FindAll(".caut strong").Select(b => b.TextContent));
    }

    [Theory]
    [InlineData(SignalWord.Danger, 1)]
    [InlineData(SignalWord.Warning, 1)]
    [InlineData(SignalWord.Caution, 1)]
    [InlineData(SignalWord.Notice, 0)]
    public void Only_words_about_people_carry_the_triangle(SignalWord word, int triangles) =>
        Assert.Equal(triangles, Block(word).FindAll(".mk.alert").Count);

    [Fact]
    public void A_caution_says_the_hazard_then_what_it_does_then_how_to_avoid_it()
    {
        var said = Block(SignalWord.Danger).FindAll(".caut>div p").Select(p => p.TextContent);
        Assert.Equal(["Hazard. Consequence.", "Avoid."], said);
    }

    static CautionText Of(SignalWord word, string hazard = "Hazard.") => new(word, hazard, "Consequence.", "Avoid.");

    IRenderedComponent<CautionBlock> Block(SignalWord word) => Render<CautionBlock>(p => p
        .Add(c => c.Word, word).Add(c => c.Hazard, "Hazard.").Add(c => c.Consequence, "Consequence.").Add(c => c.Avoid, "Avoid."));
}
