using KitOrders.Rules.Procedures;
using Xunit;

namespace KitOrders.Rules.Tests.Procedures;

/// <summary>The order of the preliminary steps is that of 29 CFR 1910.147(d), of the close-up steps that of 1910.147(e).</summary>
public class StepOrderTests
{
    static StepFacts Step(string step, PartOf part, bool recorded = false) =>
        new(step, part, StepKind.Instruction, false, false, recorded, recorded, false);

    /// <summary>Steps P1 P2, M1 M2 M3, C1 C2; those named are recorded.</summary>
    static List<StepFacts> Steps(string recorded = "") =>
    [
        .. new[] { ("P1", PartOf.Preliminary), ("P2", PartOf.Preliminary), ("M1", PartOf.Main), ("M2", PartOf.Main), ("M3", PartOf.Main), ("C1", PartOf.CloseUp), ("C2", PartOf.CloseUp) }
            .Select(s => Step(s.Item1, s.Item2, recorded.Split(' ').Contains(s.Item1))),
    ];

    static List<StepFacts> With(List<StepFacts> steps, string step, Func<StepFacts, StepFacts> change) =>
        [.. steps.Select(s => s.Step == step ? change(s) : s)];

    static string? Code(List<StepFacts> steps, string step) =>
        StepOrder.MayRecord(steps, new RecordAttempt(step, StepOutcome.AsSpecified, null, "Ada"))?.Code;

    [Theory]
    [InlineData("", "P1", null)]
    [InlineData("", "P2", "preliminary-order")]
    [InlineData("", "M1", "preliminary-first")]
    [InlineData("P1", "M1", "preliminary-first")]
    [InlineData("P1 P2", "M1", null)]
    [InlineData("P1 P2", "M3", null)]
    [InlineData("P1 P2", "C1", "main-first")]
    [InlineData("", "C1", "main-first")]
    [InlineData("P1 P2 M1 M2", "C1", "main-first")]
    [InlineData("P1 P2 M1 M2 M3", "C1", null)]
    [InlineData("P1 P2 M1 M2 M3", "C2", "close-up-order")]
    [InlineData("P1 P2 M1 M2 M3 C1", "C2", null)]
    [InlineData("P1 P2 M1", "P1", null)]
    [InlineData("P1 P2 M1", "M1", null)]
    [InlineData("P1", "X", "step-unknown")]
    public void Steps_are_recorded_in_the_order_of_safe_work(string recorded, string step, string? code) =>
        Assert.Equal(code, Code(Steps(recorded), step));

    [Fact]
    public void A_preliminary_step_not_as_specified_keeps_the_pump_closed()
    {
        var steps = With(Steps("P1 P2"), "P2", s => s with { Resolved = false });
        Assert.Equal("preliminary-first", Code(steps, "M1"));
        Assert.Null(Code(With(steps, "P2", s => s with { Resolved = true }), "M1"));
    }

    [Fact]
    public void A_main_step_not_as_specified_keeps_the_close_up_waiting() =>
        Assert.Equal("main-first", Code(With(Steps("P1 P2 M1 M2 M3"), "M2", s => s with { Resolved = false }), "C1"));

    [Theory]
    [InlineData("P1 P2", "M1", null)]
    [InlineData("P1 P2", "M2", null)]
    [InlineData("P1 P2", "M3", "hold-point-not-released")]
    [InlineData("P1 P2 M2", "M3", "hold-point-not-released")]
    [InlineData("P1 P2 M2", "M1", null)]
    [InlineData("P1 P2 M1 M2 M3", "C1", "hold-point-not-released")]
    public void Nothing_passes_a_hold_point_that_is_not_released(string recorded, string step, string? code)
    {
        var steps = With(Steps(recorded), "M2", s => s with { HoldPoint = true });
        Assert.Equal(code, Code(steps, step));
        Assert.NotEqual("hold-point-not-released", Code(With(steps, "M2", s => s with { Released = true }), step));
    }

    [Fact]
    public void A_hold_point_among_the_preliminaries_stops_the_next_one() =>
        Assert.Equal("hold-point-not-released", Code(With(Steps("P1"), "P1", s => s with { HoldPoint = true }), "P2"));

    [Theory]
    [InlineData("", "P1")]
    [InlineData("P1", "P2")]
    [InlineData("P1 P2", "M1 M2 M3")]
    [InlineData("P1 P2 M2", "M1 M3")]
    [InlineData("P1 P2 M1 M2 M3", "C1")]
    [InlineData("P1 P2 M1 M2 M3 C1 C2", "")]
    public void Whose_turn_it_is_is_known(string recorded, string turn) =>
        Assert.Equal(turn, string.Join(' ', StepOrder.WhoseTurn(Steps(recorded)).Select(s => s.Step)));

    [Theory]
    [InlineData(false, "no valve here", null)]
    [InlineData(false, " ", "note-missing")]
    [InlineData(false, null, "note-missing")]
    [InlineData(true, "no valve here", "not-applicable-hold-point")]
    public void Not_applicable_needs_a_note_and_is_never_said_of_a_hold_point(bool holdPoint, string? note, string? code) =>
        Assert.Equal(code, StepOrder.MayRecord(With(Steps(), "P1", s => s with { HoldPoint = holdPoint }), new RecordAttempt("P1", StepOutcome.NotApplicable, note, "Ada"))?.Code);

    [Theory]
    [InlineData(StepKind.Check, null, false, "witness-missing")]
    [InlineData(StepKind.Check, "ada", false, "witness-same-person")]
    [InlineData(StepKind.Check, "Ben", false, null)]
    [InlineData(StepKind.Reading, "Ben", false, "witness-reading-missing")]
    [InlineData(StepKind.Reading, "Ben", true, null)]
    public void A_witnessed_step_needs_a_second_person_with_a_reading_of_their_own(StepKind kind, string? witness, bool reading, string? code) =>
        Assert.Equal(code, StepOrder.MayRecord(With(Steps(), "P1", s => s with { Witnessed = true, Kind = kind }), new RecordAttempt("P1", StepOutcome.AsSpecified, null, "Ada", witness, reading))?.Code);

    [Theory]
    [InlineData(true, true, true, false, null)]
    [InlineData(false, true, true, false, "not-a-hold-point")]
    [InlineData(true, false, false, false, "hold-point-not-recorded")]
    [InlineData(true, true, false, false, "hold-point-not-recorded")]
    [InlineData(true, true, true, true, "hold-point-released")]
    public void A_hold_point_is_released_once_it_is_recorded_and_resolved(bool holdPoint, bool recorded, bool resolved, bool released, string? code) =>
        Assert.Equal(code, StepOrder.MayRelease(
            [new StepFacts("P1", PartOf.Preliminary, StepKind.Check, holdPoint, false, recorded, resolved, released)], "P1")?.Code);

    [Theory]
    [InlineData(4.0, StepOutcome.AsSpecified, null)]
    [InlineData(6.0, StepOutcome.AsSpecified, null)]
    [InlineData(6.1, StepOutcome.AsSpecified, "value-outside-limits")]
    [InlineData(3.9, StepOutcome.AsSpecified, "value-outside-limits")]
    [InlineData(3.9, StepOutcome.NotAsSpecified, null)]
    [InlineData(null, StepOutcome.AsSpecified, "value-missing")]
    [InlineData(null, StepOutcome.NotApplicable, null)]
    public void A_reading_as_specified_lies_within_its_limits(double? value, StepOutcome outcome, string? code) =>
        Assert.Equal(code, new ReadingLimits(4m, 6m, "bar").Agrees(outcome, (decimal?)value)?.Code);
}
