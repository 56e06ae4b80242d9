using KitOrders.Rules.Procedures;
using Xunit;

namespace KitOrders.Rules.Tests.Procedures;

public sealed class StepDraftTests
{
    [Fact]
    public void A_new_procedure_begins_with_every_energy_step_in_its_order_and_none_of_them_written()
    {
        // 29 CFR 1910.147(d): preparation, shut-down, isolation and lockout, stored energy, verification; (e): inspect the area, remove the devices, notify.
        Assert.Equal(["Hazards:", "Stop:", "Isolate:", "Relieve:", "Verify:", "", "Clear:", "Unlock:", "Tell:", ""], StepDraft.Begun.Select(s => s.Text.Trim()));
        var findings = StepDraft.Findings(StepDraft.Begun);
        Assert.Equal(["energy-step-empty", "step-text-missing"], findings.Select(f => f.Code).Distinct().Order());
        Assert.Equal(8, findings.Count(f => f.Code == "energy-step-empty"));
    }

    [Fact]
    public void Findings_are_those_of_a_release_with_numbers_by_place()
    {
        var steps = StepDraft.Begun.Select(s => s with { Text = $"{s.Text} done at this pump" }).ToList();
        Assert.Empty(StepDraft.Findings(steps));
        steps[5] = steps[5] with { SignalWord = SignalWord.Warning, Hazard = "Stored air." };
        var finding = Assert.Single(StepDraft.Findings(steps));
        Assert.Equal(("caution-incomplete", "6", "The caution of step 6 lacks consequence, how to avoid it."), (finding.Code, finding.Where, finding.Sentence));
        steps[5] = steps[5] with { SignalWord = null, Hazard = null, Kind = StepKind.CarryOver, Part = "Q" };
        Assert.Empty(StepDraft.Findings(steps));
        steps[5] = steps[5] with { Part = null };
        Assert.Equal("carry-over-part-missing", Assert.Single(StepDraft.Findings(steps)).Code);
    }

    [Fact]
    public void Each_model_that_a_step_is_for_must_find_the_whole_sequence()
    {
        var steps = StepDraft.Begun.Select(s => s with { Text = $"{s.Text} done at this pump" }).ToList();
        steps[4] = steps[4] with { Model = "M30" };
        steps.Add(steps[5] with { Model = "M50" });
        var finding = Assert.Single(StepDraft.Findings(steps));
        Assert.Equal("energy-step-missing", finding.Code);
        Assert.Contains("for model M50", finding.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_step_goes_to_the_record_and_comes_back_as_it_was()
    {
        var step = new StepDraft
        {
            PartOf = PartOf.Main, Kind = StepKind.Torque, Text = "Tighten", Model = "M30", SignalWord = SignalWord.Notice, Hazard = "h", Consequence = "c", Avoid = "a",
            Joint = "cover", Bolts = 6, Sequence = BoltSequence.Star, Target = 8.5m, Low = 8, High = 9, Unit = "Nm", TolerancePct = 5, Passes = 2, HoldPoint = true,
            Witnessed = true, Part = "Q", Minutes = 4, Tool = "TQ-1", Document = "Manual", Edition = "4", Page = "12", DocumentId = 3,
            Pictures = [new StepPicture(new string('a', 64), "The cover, seen from above")],
        };
        var back = StepDraft.Of(step.At(7, new ProcedureRevisionId(2), new(1), new(5)), "M30", "Q");
        Assert.Equal(step.Pictures, back.Pictures);
        Assert.Equal(step, back with { Pictures = step.Pictures });
    }

    [Theory]
    [InlineData("text", 2000)]
    [InlineData("hazard", 500)]
    [InlineData("consequence", 500)]
    [InlineData("avoid", 500)]
    [InlineData("joint", 200)]
    [InlineData("unit", 20)]
    [InlineData("tool", 100)]
    [InlineData("document", 200)]
    [InlineData("edition", 60)]
    [InlineData("page", 60)]
    public void A_text_is_kept_up_to_its_length_and_refused_beyond_it(string field, int most)
    {
        Assert.Empty(StepFaults.Of(With(field, new string('x', most))));
        Assert.Equal(field, Assert.Single(StepFaults.Of(With(field, new string('x', most + 1)))).Field);
    }

    [Fact]
    public void Numbers_that_cannot_be_are_said_at_their_field()
    {
        var faults = StepFaults.Of(new StepDraft { Bolts = 0, Passes = 21, TolerancePct = 100, Minutes = -1, Target = 1e14m, Low = -1e14m });
        Assert.Equal(["bolts", "low", "minutes", "passes", "target", "tolerancePct"], faults.Select(f => f.Field).Order());
        Assert.Empty(StepFaults.Of(new StepDraft { Bolts = 200, Passes = 20, TolerancePct = 0, Minutes = 0, Target = -3 }));
    }

    [Fact]
    public void Pictures_need_a_file_and_a_caption_and_are_few()
    {
        var picture = new StepPicture(new string('0', 64), "Seen from above");
        Assert.Empty(StepFaults.Of(new StepDraft { Pictures = [picture] }));
        Assert.Single(StepFaults.Of(new StepDraft { Pictures = [picture with { Caption = " " }] }));
        Assert.Single(StepFaults.Of(new StepDraft { Pictures = [picture with { Caption = new string('x', 201) }] }));
        Assert.Single(StepFaults.Of(new StepDraft { Pictures = [picture with { Sha256 = "../../etc" }] }));
        Assert.Single(StepFaults.Of(new StepDraft { Pictures = [.. Enumerable.Repeat(picture, 7)] }));
    }

    static StepDraft With(string field, string text) => field switch
    {
        "text" => new StepDraft { Text = text },
        "hazard" => new StepDraft { Hazard = text },
        "consequence" => new StepDraft { Consequence = text },
        "avoid" => new StepDraft { Avoid = text },
        "joint" => new StepDraft { Joint = text },
        "unit" => new StepDraft { Unit = text },
        "tool" => new StepDraft { Tool = text },
        "document" => new StepDraft { Document = text },
        "edition" => new StepDraft { Edition = text },
        _ => new StepDraft { Page = text },
    };
}
