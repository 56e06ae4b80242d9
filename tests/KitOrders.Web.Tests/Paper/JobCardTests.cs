using KitOrders.Operations.Orders;
using KitOrders.Rules.Procedures;
using KitOrders.Web.Paper;
using Xunit;

namespace KitOrders.Web.Tests.Paper;

public sealed class JobCardTests
{
    static PrintedPaper Print(OrderView order, PaperSize size) => PrintedPaper.Read(JobCard.Print(order, size, PaperPlant.Head("Job card", order.Number)));

    [Theory]
    [InlineData("a4", 595.28, 841.89)] // ISO 216: 210 × 297 mm
    [InlineData("letter", 612, 792)] // ANSI/ASME Y14.1: 8.5 × 11 in
    public void It_is_printed_on_both_sheets_with_every_step_and_the_disclaimer(string size, double width, double height)
    {
        var printed = Print(PaperPlant.Order, PaperSize.Read(size, PaperSize.A4).Value);
        Assert.Equal((width, height), (Math.Round(printed.Width, 2), Math.Round(printed.Height, 2)));
        Assert.All(PaperPlant.Steps, step => Assert.Contains(step.Text, printed.All));
        var whole = string.Join(' ', printed.All);
        Assert.Contains("Compares recorded data only; the installation is judged by qualified people under local codes.", whole, StringComparison.Ordinal);
        Assert.Contains("Manufacturers' instructions, local codes and licensed practice decide.", whole, StringComparison.Ordinal);
        Assert.Equal(["10482"], printed.Codes);
        Assert.All(printed.Texts, (sheet, n) => Assert.Contains($"{n + 1} of {printed.Texts.Count}", sheet));
    }

    [Fact]
    public void What_stands_in_for_another_part_is_said_at_the_head_and_at_the_step_that_still_names_it()
    {
        var order = PaperPlant.Order with
        {
            Demand = [PaperPlant.Order.Demand[0] with { InPlaceOf = [new("Q-1", "Quick-exhaust valve", 2, "it is late", "I. Valdorf", default)] }],
            Steps = [.. PaperPlant.Steps.Select(s => s.Part == "Q-1" ? s with { InItsPlace = ["V-1"] } : s)],
        };
        var whole = string.Join(' ', Print(order, PaperSize.A4).All);
        Assert.Contains("2 × V-1, The V-1, in place of Q-1.", whole, StringComparison.Ordinal);
        Assert.Contains("Part Q-1, Quick-exhaust valve; in its place on this order: V-1", whole, StringComparison.Ordinal);
    }

    [Fact]
    public void A_caution_is_printed_whole_before_the_step_it_belongs_to_and_after_the_step_before()
    {
        var texts = Print(PaperPlant.Order, PaperSize.A4).All.ToList();
        string[] wanted = ["WARNING", "Before the work", "Read the fluid card", "DANGER", "Stored air. It can kill.", "Lock it.", "Isolate the air", "Read both gauges",
            "The work", "Judge the valves", "NOTICE", "One-sided pull. The cover cracks.", "Go across.", "Tighten the cover", "Close up and hand back", "Run it"];
        Assert.DoesNotContain(-1, wanted.Select(w => texts.IndexOf(w)));
        Assert.Equal(wanted, wanted.OrderBy(w => texts.IndexOf(w)));
    }

    [Fact]
    public void No_sheet_ends_between_a_caution_and_its_step()
    {
        var steps = Enumerable.Range(1, 60).Select(n => PaperPlant.Step(n, PartOf.Main, StepKind.Instruction, $"Do thing {n}") with
        {
            SignalWord = SignalWord.Warning, Hazard = $"Hazard {n}.", Consequence = string.Concat(Enumerable.Repeat("It hurts. ", n % 7 * 9)), Avoid = "Do not.",
        }).ToList();
        foreach (var size in new[] { PaperSize.A4, PaperSize.Letter })
        {
            var printed = Print(PaperPlant.Order with { Steps = steps }, size);
            Assert.True(printed.Texts.Count > 5, $"{printed.Texts.Count} sheets");
            Assert.All(steps, step =>
            {
                var sheet = Assert.Single(printed.Texts, t => t.Contains(step.Text));
                Assert.Contains($"before step {step.Step}", sheet);
            });
        }
    }

    [Fact]
    public void Cautions_of_the_whole_job_come_first_and_a_hazard_that_was_not_graded_is_not_lost()
    {
        var order = PaperPlant.Order with { Steps = [PaperPlant.Step(1, PartOf.Main, StepKind.Instruction, "Cut it") with { Hazard = "Sharp edge." }] };
        var blocks = JobCard.Blocks(order);
        Assert.Equal(new CautionBlockOf(SignalWord.Warning, "Flammable fluid.", "", "Bond and ground the pump, hoses and containers before running.", null), blocks[0]);
        Assert.Equal(new CautionBlockOf(null, "Sharp edge.", "", "", 1), blocks[2]);
        Assert.Contains("Hazard", Print(order, PaperSize.A4).All);
    }

    [Fact]
    public void A_torque_step_gives_each_pass_its_target_and_each_bolt_its_cell()
    {
        var texts = Print(PaperPlant.Order with { Steps = [.. PaperPlant.Steps.Where(s => s.Kind == StepKind.Torque)] }, PaperSize.A4).All;
        // 30, 60, 100 % of the target: hswhite.com, flange bolt torque sequence.
        Assert.Equal(["Pass 1: 3 N·m", "Pass 2: 6 N·m", "Pass 3: 10 N·m"], texts.Where(t => t.StartsWith("Pass ", StringComparison.Ordinal)));
        Assert.Contains("9 to 11 N·m", texts);
        // Six cells in each of three passes, and once where the bolt lies on the drawing; beside them the count of steps, 1, and the step's own number, 5.
        Assert.Equal([5, 4, 4, 4, 5, 4], Enumerable.Range(1, 6).Select(bolt => texts.Count(t => t == $"{bolt}")));
    }

    [Fact]
    public void A_hold_point_and_a_witness_have_their_lines()
    {
        var texts = Print(PaperPlant.Order, PaperSize.A4).All;
        Assert.Single(texts, "Hold point: stop until it is released.");
        Assert.Single(texts, "Witness, what they read");
        Assert.Equal(2, texts.Count(t => t == "replace by the spare"));
    }

    [Fact]
    public void Pictures_are_named_by_their_captions_and_the_document_by_edition_and_page()
    {
        var step = PaperPlant.Step(1, PartOf.Main, StepKind.Instruction, "Cut it") with
        {
            Document = "Air valve manual", Edition = "4", Page = "12", Pictures = [new(new string('a', 64), "The cover from above"), new(new string('b', 64), "The gasket")],
        };
        var texts = Print(PaperPlant.Order with { Steps = [step] }, PaperSize.A4).All;
        Assert.Contains("Pictures at the bench: The cover from above; The gasket", texts);
        Assert.Contains("See Air valve manual, edition 4, page 12 · 5 min", texts);
    }

    [Fact]
    public void An_order_without_steps_says_when_there_will_be_some() =>
        Assert.Contains("There are no steps yet.", Print(PaperPlant.Order with { Steps = [] }, PaperSize.A4).All);

    [Fact]
    public void Another_sheet_than_these_two_is_refused() => Assert.Equal("paper-size", PaperSize.Read("a5", PaperSize.A4).Refusal!.Code);
}
