using KitOrders.Rules.Procedures;
using Xunit;

namespace KitOrders.Rules.Tests.Procedures;

public class StepProgressTests
{
    static readonly StepShape Joint = new(StepKind.Torque, Bolts: 2, Passes: 2);
    static readonly StepShape Kept = new(StepKind.CarryOver, Pieces: 2);
    static readonly StepShape Simple = new(StepKind.Check);

    static RecordedResult Result(string id, StepOutcome outcome = StepOutcome.AsSpecified) => new(id, outcome);

    static RecordedResult Tightened(string id, int pass, int? bolt) => Result(id) with { Pass = pass, Bolt = bolt };

    static RecordedResult Decided(string id, CarryOverDecision decision) => Result(id) with { Decision = decision };

    [Fact]
    public void A_joint_is_recorded_when_every_bolt_has_had_every_pass()
    {
        var half = StepProgress.Of(Joint, [Tightened("a", 1, 1), Tightened("b", 1, 2), Tightened("c", 2, 1)]);
        Assert.Equal((4, 3, false), (half.Needed, half.Done, half.Recorded));
        Assert.Equal((2, 2), half.Next);

        var full = StepProgress.Of(Joint, [.. half.Standing, Tightened("d", 2, 2)]);
        Assert.True(full.Recorded);
        Assert.Null(full.Next);
    }

    [Fact]
    public void A_pass_recorded_at_once_stands_for_all_its_bolts() =>
        Assert.Equal((2, 1), StepProgress.Of(Joint, [Tightened("a", 1, null)]).Next);

    [Theory]
    [InlineData(1, 2, null)]
    [InlineData(2, 1, "torque-pass-order")]
    [InlineData(2, null, "torque-pass-order")]
    [InlineData(3, 1, "torque-pass-unknown")]
    [InlineData(1, 3, "torque-bolt-unknown")]
    [InlineData(null, 1, "torque-pass-missing")]
    [InlineData(null, null, "torque-pass-missing")]
    public void The_next_pass_begins_only_after_the_one_before(int? pass, int? bolt, string? code)
    {
        var begun = StepProgress.Of(Joint, [Tightened("a", 1, 1)]);
        Assert.Equal(code, begun.MayAppend(Joint, Result("b") with { Pass = pass, Bolt = bolt })?.Code);
    }

    [Fact]
    public void The_second_pass_may_begin_when_the_first_is_complete() =>
        Assert.Null(StepProgress.Of(Joint, [Tightened("a", 1, null)]).MayAppend(Joint, Tightened("b", 2, 1)));

    [Fact]
    public void A_joint_of_one_bolt_and_pass_needs_no_numbers()
    {
        var sensor = new StepShape(StepKind.Torque);
        Assert.Null(StepProgress.Of(sensor, []).MayAppend(sensor, Result("a")));
        Assert.True(StepProgress.Of(sensor, [Result("a")]).Recorded);
    }

    [Fact]
    public void A_whole_joint_may_be_not_applicable()
    {
        var none = Result("a", StepOutcome.NotApplicable);
        Assert.Null(StepProgress.Of(Joint, []).MayAppend(Joint, none));
        Assert.True(StepProgress.Of(Joint, [none]).Resolved);
    }

    [Fact]
    public void A_retry_is_one_result()
    {
        var once = Decided("a", CarryOverDecision.Reuse) with { RetryKey = "k1" };
        var progress = StepProgress.Of(Kept, [once, once with { Id = "b" }]);
        Assert.Equal((1, false), (progress.Done, progress.Recorded));
        Assert.Equal("a", Assert.Single(progress.Standing).Id);
    }

    [Fact]
    public void Each_kept_piece_is_decided()
    {
        var progress = StepProgress.Of(Kept, [Decided("a", CarryOverDecision.Reuse), Decided("b", CarryOverDecision.Replace)]);
        Assert.True(progress.Recorded);
        Assert.Equal([1, 2], progress.Standing.Select(r => r.Piece));
        Assert.Equal("carry-over-too-many", progress.MayAppend(Kept, Decided("c", CarryOverDecision.Reuse))?.Code);
        Assert.Null(progress.MayAppend(Kept, Decided("c", CarryOverDecision.Reuse) with { Corrects = "b" }));
    }

    [Fact]
    public void A_decision_says_reuse_or_replace() =>
        Assert.Equal("decision-missing", StepProgress.Of(Kept, []).MayAppend(Kept, Result("a"))?.Code);

    [Fact]
    public void A_correction_replaces_what_it_points_at()
    {
        var progress = StepProgress.Of(Kept,
            [Decided("a", CarryOverDecision.Reuse), Decided("b", CarryOverDecision.Reuse), Decided("c", CarryOverDecision.Replace) with { Corrects = "a" }]);

        Assert.Equal(2, progress.Done);
        Assert.Equal(["b", "c"], progress.Standing.Select(r => r.Id));
        Assert.Equal(1, progress.Standing[1].Piece);
    }

    [Fact]
    public void A_corrected_bolt_keeps_its_place()
    {
        var progress = StepProgress.Of(Joint, [Tightened("a", 1, 2), Result("b", StepOutcome.NotAsSpecified) with { Corrects = "a" }]);
        var standing = Assert.Single(progress.Standing);
        Assert.Equal((1, 2, StepOutcome.NotAsSpecified), (standing.Pass, standing.Bolt, standing.Outcome));
    }

    [Fact]
    public void Only_a_result_that_stands_can_be_corrected()
    {
        var progress = StepProgress.Of(Simple, [Result("a"), Result("b") with { Corrects = "a" }]);
        Assert.Equal("corrects-unknown", progress.MayAppend(Simple, Result("c") with { Corrects = "a" })?.Code);
        Assert.Null(progress.MayAppend(Simple, Result("c") with { Corrects = "b" }));
    }

    [Fact]
    public void A_later_result_for_the_same_place_stands_in_its_stead()
    {
        Assert.Equal("b", Assert.Single(StepProgress.Of(Simple, [Result("a"), Result("b")]).Standing).Id);
        Assert.Equal("b", Assert.Single(StepProgress.Of(Joint, [Tightened("a", 1, 1), Tightened("b", 1, 1)]).Standing).Id);
    }

    [Fact]
    public void Not_as_specified_is_recorded_and_resolved_only_by_correction_or_acceptance()
    {
        var bad = Result("a", StepOutcome.NotAsSpecified);
        Assert.True(StepProgress.Of(Simple, [bad]).Recorded);
        Assert.False(StepProgress.Of(Simple, [bad]).Resolved);
        Assert.True(StepProgress.Of(Simple, [bad with { Accepted = true }]).Resolved);
        Assert.True(StepProgress.Of(Simple, [bad, Result("b") with { Corrects = "a" }]).Resolved);
    }

    [Fact]
    public void One_bolt_not_as_specified_leaves_the_joint_unresolved() =>
        Assert.False(StepProgress.Of(Joint, [Tightened("a", 1, null), Tightened("b", 2, 1), Tightened("c", 2, 2) with { Outcome = StepOutcome.NotAsSpecified }]).Resolved);

    [Fact]
    public void A_pass_done_over_at_once_stands_in_the_stead_of_its_bolts()
    {
        var loose = Tightened("a", 1, 1) with { Outcome = StepOutcome.NotAsSpecified };
        var progress = StepProgress.Of(Joint, [loose, Tightened("b", 1, 2), Tightened("c", 1, null), Tightened("d", 2, null)]);
        Assert.Equal(["c", "d"], progress.Standing.Select(r => r.Id));
        Assert.True(progress.Resolved);
    }

    [Fact]
    public void Nothing_recorded_is_nothing_done()
    {
        var progress = StepProgress.Of(Simple, []);
        Assert.Equal((1, 0, false, false), (progress.Needed, progress.Done, progress.Recorded, progress.Resolved));
    }
}
