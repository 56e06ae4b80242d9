using KitOrders.Rules.Procedures;
using Xunit;

namespace KitOrders.Rules.Tests.Procedures;

public sealed class StepDifferencesTests
{
    static readonly StepDraft stop = new() { Text = "Stop: stop the pump and wait until the rod stands still" };
    static readonly StepDraft isolate = new() { Text = "Isolate: close the air cock, lock it and hang your tag" };
    static readonly StepDraft cover = new() { PartOf = PartOf.Main, Kind = StepKind.Torque, Text = "Tighten the cover", Joint = "cover", Bolts = 6, Target = 8.5m };
    static readonly StepDraft test = new() { PartOf = PartOf.CloseUp, Kind = StepKind.FunctionTest, Text = "Run it for ten minutes" };

    [Fact]
    public void The_same_steps_differ_in_nothing_however_they_are_numbered() =>
        Assert.Empty(StepDifferences.Between([new(10, stop), new(20, isolate), new(30, cover)], [new(1, stop), new(2, isolate), new(3, cover)]));

    [Fact]
    public void A_step_put_in_between_is_one_new_step_and_moves_nobody()
    {
        var difference = Assert.Single(Between([stop, isolate, test], [stop, isolate, cover, test]));
        Assert.Equal((null, 3, "new step", "Tighten the cover"), (difference.Before, difference.After, difference.What, difference.Is));
    }

    [Fact]
    public void A_step_taken_out_is_said_with_what_it_said()
    {
        var difference = Assert.Single(Between([stop, isolate, test], [stop, test]));
        Assert.Equal((2, null, "step taken out", isolate.Text), (difference.Before, difference.After, difference.What, difference.Was));
    }

    [Fact]
    public void A_reworded_step_is_the_same_step()
    {
        var difference = Assert.Single(Between([stop, isolate], [stop, isolate with { Text = "Isolate: close the air cock, lock it and hang your numbered tag" }]));
        Assert.Equal((2, 2, "text"), (difference.Before, difference.After, difference.What));
    }

    [Fact]
    public void A_joint_is_known_by_its_name_even_when_every_word_of_its_text_is_new()
    {
        var differences = Between([cover], [cover with { Text = "Pull down all six", Target = 9, TolerancePct = 5 }]);
        Assert.Equal([("text", "Tighten the cover", "Pull down all six"), ("target", "8.5", "9"), ("tolerance, %", null, "5")], differences.Select(d => (d.What, d.Was, d.Is)));
    }

    [Fact]
    public void Of_two_that_changed_places_one_has_moved()
    {
        var difference = Assert.Single(Between([stop, isolate, test], [isolate, stop, test]));
        Assert.Equal("place", difference.What);
        Assert.NotEqual(difference.Was, difference.Is);
    }

    [Fact]
    public void A_step_that_went_into_another_part_has_moved()
    {
        var difference = Assert.Single(Between([stop, cover], [stop, cover with { PartOf = PartOf.Preliminary }]));
        Assert.Equal(("place", "step 2, main", "step 2, preliminary"), (difference.What, difference.Was, difference.Is));
    }

    [Fact]
    public void The_values_of_one_model_are_held_against_those_of_the_same_model()
    {
        var (small, large) = (cover with { Model = "M30" }, cover with { Model = "M50", Target = 12 });
        var difference = Assert.Single(Between([small, large], [small, large with { Target = 13 }]));
        Assert.Equal((2, 2, "target", "12", "13"), (difference.Before, difference.After, difference.What, difference.Was, difference.Is));
    }

    [Fact]
    public void Another_picture_under_the_same_words_is_a_difference()
    {
        StepPicture one = new(new string('a', 64), "Seen from above"), other = one with { Sha256 = new string('b', 64) };
        Assert.Equal("pictures", Assert.Single(Between([cover with { Pictures = [one] }], [cover with { Pictures = [other] }])).What);
    }

    [Fact]
    public void Steps_without_any_words_are_not_taken_for_each_other_across_models() =>
        Assert.Equal(2, Between([new StepDraft { Model = "M30" }], [new StepDraft { Model = "M50" }]).Count);

    static IReadOnlyList<StepDifference> Between(StepDraft[] before, StepDraft[] after) =>
        StepDifferences.Between([.. before.Select((s, n) => new NumberedStep(n + 1, s))], [.. after.Select((s, n) => new NumberedStep(n + 1, s))]);
}
