using KitOrders.Rules.Parts;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Procedures;

public class ReleaseChecksTests
{
    static readonly PumpModelId Small = new(1);
    static readonly PumpModelId Large = new(2);
    static readonly Dictionary<PumpModelId, string> Models = new() { [Small] = "AP-25", [Large] = "AP-50" };

    static ProcedureStep Step(int number, PartOf part, StepKind kind, string text, PumpModelId? model = null) =>
        new() { Number = number, PartOf = part, Kind = kind, Text = text, ModelId = model };

    /// <summary>The sequence of 29 CFR 1910.147(d), one main step, the sequence of 1910.147(e) and a function test.</summary>
    static List<ProcedureStep> Safe() =>
    [
        Step(1, PartOf.Preliminary, StepKind.Check, "Hazards: read the fluid card and put on what it asks for."),
        Step(2, PartOf.Preliminary, StepKind.Instruction, "Stop: tell the control room and stop the pump."),
        Step(3, PartOf.Preliminary, StepKind.Instruction, "Isolate: close, lock and tag the air cock."),
        Step(4, PartOf.Preliminary, StepKind.Instruction, "isolate: switch off 24 V, lock and tag."),
        Step(5, PartOf.Preliminary, StepKind.Instruction, "Relieve: vent the air, drain both fluid sides."),
        Step(6, PartOf.Preliminary, StepKind.Check, "Verify: try to start the pump."),
        Step(7, PartOf.Main, StepKind.Instruction, "Change the air valve."),
        Step(8, PartOf.CloseUp, StepKind.Check, "Clear: count the tools, refit every guard."),
        Step(9, PartOf.CloseUp, StepKind.Instruction, "Unlock: each person removes their own lock."),
        Step(10, PartOf.CloseUp, StepKind.Instruction, "Tell: the people in the area."),
        Step(11, PartOf.CloseUp, StepKind.FunctionTest, "Run for one minute."),
    ];

    static List<string> Codes(IEnumerable<ProcedureStep> steps) => [.. ReleaseChecks.Of([.. steps], Models).Select(f => f.Code)];

    static List<ProcedureStep> Without(int number) => [.. Safe().Where(s => s.Number != number)];

    static List<ProcedureStep> And(ProcedureStep step) => [.. Safe(), step];

    [Fact]
    public void A_safe_and_complete_procedure_may_be_released() => Assert.Empty(Codes(Safe()));

    [Theory]
    [InlineData(1, "Hazards")]
    [InlineData(2, "Stop")]
    [InlineData(5, "Relieve")]
    [InlineData(6, "Verify")]
    [InlineData(8, "Clear")]
    [InlineData(9, "Unlock")]
    [InlineData(10, "Tell")]
    public void Each_missing_energy_step_is_named(int number, string word)
    {
        var finding = Assert.Single(ReleaseChecks.Of(Without(number), Models));
        Assert.Equal("energy-step-missing", finding.Code);
        Assert.Contains($"\"{word}:\"", finding.Sentence);
        Assert.True(finding.WarningOnImport);
    }

    [Fact]
    public void Text_that_only_mentions_a_word_is_no_energy_step()
    {
        var steps = Without(6).Append(Step(6, PartOf.Preliminary, StepKind.Check, "Do not verify anything yet."));
        Assert.Equal(["energy-step-missing"], Codes(steps));
    }

    [Fact]
    public void A_lead_word_counts_only_in_its_own_part()
    {
        Assert.Null(EnergyPoints.Read(PartOf.Main, "Verify: no pressure."));
        Assert.Null(EnergyPoints.Read(PartOf.CloseUp, "Verify: no pressure."));
        Assert.Equal(EnergyPoint.Verified, EnergyPoints.Read(PartOf.Preliminary, " verify : no pressure."));
    }

    // Verification of isolation comes after stored energy is relieved, 29 CFR 1910.147(d)(5) and (6).
    [Fact]
    public void Energy_steps_out_of_order_are_found()
    {
        var swapped = Safe().Where(s => s.Number is not 5 and not 6)
            .Append(Step(5, PartOf.Preliminary, StepKind.Check, "Verify: try to start."))
            .Append(Step(6, PartOf.Preliminary, StepKind.Check, "Relieve: vent the air."));
        Assert.Equal(["energy-steps-order", "energy-not-verified-again"], Codes(swapped));
    }

    // Verification continues where stored energy can build up again, 29 CFR 1910.147(d)(5)(ii).
    [Fact]
    public void Energy_relieved_again_is_verified_again()
    {
        var again = Safe().Where(s => s.Number < 7).Append(new ProcedureStep { Number = 7, PartOf = PartOf.Preliminary, Kind = StepKind.Check, Text = "Relieve: open the bleed cock once more." })
            .Append(Step(12, PartOf.Main, StepKind.Instruction, "Work.")).Concat(Safe().Where(s => s.Number > 7)).ToList();
        Assert.Equal(["energy-not-verified-again"], Codes(again));
    }

    [Fact]
    public void A_model_that_misses_an_energy_step_is_named()
    {
        var steps = Without(6).Append(Step(6, PartOf.Preliminary, StepKind.Check, "Verify: the small pump's gauge.", Small)).Append(Step(12, PartOf.CloseUp, StepKind.Check, "Look.", Large));
        var finding = Assert.Single(ReleaseChecks.Of([.. steps], Models));
        Assert.Contains("for model AP-50", finding.Sentence);
    }

    [Fact]
    public void A_function_test_belongs_to_the_close_up()
    {
        Assert.Equal(["function-test-missing"], Codes(Without(11)));
        Assert.Equal(["function-test-place"], Codes(Without(11).Append(Step(11, PartOf.Main, StepKind.FunctionTest, "Run."))));
    }

    [Theory]
    [InlineData(PartOf.Main)]
    [InlineData(PartOf.CloseUp)]
    [InlineData(PartOf.Preliminary)]
    public void Every_part_has_a_step(PartOf part) => Assert.Contains("part-empty", Codes(Safe().Where(s => s.PartOf != part)));

    [Fact]
    public void A_step_number_stands_once() => Assert.Equal(["step-twice"], Codes(And(Step(7, PartOf.Main, StepKind.Check, "Look."))));

    [Fact]
    public void A_step_says_something() => Assert.Equal(["step-text-missing"], Codes(And(Step(12, PartOf.Main, StepKind.Check, " "))));

    // Signal words of ANSI Z535.4: what is the hazard, what may happen, how to avoid it.
    [Theory]
    [InlineData(SignalWord.Danger, "air", "crushes", "keep clear", null)]
    [InlineData(SignalWord.Notice, "tape", null, "keep off", "consequence")]
    [InlineData(SignalWord.Warning, null, null, null, "hazard, consequence, how to avoid it")]
    [InlineData(null, "air", "crushes", "keep clear", "signal word")]
    public void A_caution_is_complete_or_absent(SignalWord? word, string? hazard, string? consequence, string? avoid, string? missing)
    {
        var step = new ProcedureStep { Number = 12, PartOf = PartOf.Main, Kind = StepKind.Check, Text = "Look.", SignalWord = word, Hazard = hazard, Consequence = consequence, Avoid = avoid };
        var findings = ReleaseChecks.Of(And(step), Models);
        Assert.Equal(missing is null ? [] : [$"The caution of step 12 lacks {missing}."], findings.Select(f => f.Sentence));
    }

    [Fact]
    public void Cautions_stand_gravest_first_and_a_notice_shows_no_triangle()
    {
        var words = new SignalWord[] { SignalWord.Notice, SignalWord.Danger, SignalWord.Caution, SignalWord.Warning };
        var ordered = Caution.InOrder(words.Select(w => new Caution(w, "h", "c", "a")));
        Assert.Equal([SignalWord.Danger, SignalWord.Warning, SignalWord.Caution, SignalWord.Notice], ordered.Select(c => c.SignalWord!.Value));
        Assert.Equal([true, true, true, false], ordered.Select(c => c.ShowsTriangle));
    }

    static ProcedureStep Joint(int? bolts, BoltSequence? sequence, int? passes, decimal? target = 8.5m, string? unit = "N·m", decimal? tolerance = 10m, decimal? high = null) => new()
    {
        Number = 12, PartOf = PartOf.Main, Kind = StepKind.Torque, Text = "Tighten.", Bolts = bolts, Sequence = sequence, Passes = passes, Target = target, Unit = unit, TolerancePct = tolerance, High = high,
    };

    public static TheoryData<ProcedureStep, string?> Torques => new()
    {
        { Joint(6, BoltSequence.Alternate, 2), null },
        { Joint(1, null, 1), null },
        { Joint(1, null, 1, tolerance: null, high: 10m), null },
        { Joint(6, BoltSequence.Alternate, 1), "joint-passes" },
        { Joint(6, BoltSequence.Round, 2), "joint-sequence" },
        { Joint(6, null, 2), "joint-sequence" },
        { Joint(6, BoltSequence.Star, 2, target: null), "torque-incomplete" },
        { Joint(6, BoltSequence.Star, 2, unit: "bar"), "torque-incomplete" },
        { Joint(6, BoltSequence.Star, 2, tolerance: null), "torque-incomplete" },
        { Joint(1, null, 1, tolerance: null, high: 8m), "joint-limits" },
    };

    [Theory]
    [MemberData(nameof(Torques))]
    public void A_torque_step_is_complete(ProcedureStep step, string? code) => Assert.Equal(code is null ? [] : [code], Codes(And(step)));

    [Theory]
    [InlineData(4.0, 6.0, "bar", null)]
    [InlineData(null, 6.0, "bar", null)]
    [InlineData(null, null, "bar", "reading-incomplete")]
    [InlineData(4.0, 6.0, null, "reading-incomplete")]
    [InlineData(7.0, 6.0, "bar", "limits-crossed")]
    public void A_reading_has_a_unit_and_a_limit(double? low, double? high, string? unit, string? code)
    {
        var step = new ProcedureStep { Number = 12, PartOf = PartOf.Main, Kind = StepKind.Reading, Text = "Read.", Low = (decimal?)low, High = (decimal?)high, Unit = unit };
        Assert.Equal(code is null ? [] : [code], Codes(And(step)));
    }

    [Fact]
    public void A_carry_over_step_names_its_part()
    {
        Assert.Equal(["carry-over-part-missing"], Codes(And(Step(12, PartOf.Main, StepKind.CarryOver, "Judge."))));
        Assert.Empty(Codes(And(new ProcedureStep { Number = 12, PartOf = PartOf.Main, Kind = StepKind.CarryOver, Text = "Judge.", PartId = new PartId(3) })));
    }
}
