using KitOrders.Rules.Kits;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class SuitabilityGateTests
{
    static readonly HashSet<(Check, string)> Nobody = [];

    static readonly Judgement Passed = new(Check.Model, "CK-11", Finding.Passed("Fits."));
    static readonly Judgement Failed = new(Check.Ports, "CK-11", Finding.Failed("Too big."));
    static readonly Judgement Unknown = new(Check.Materials, "CK-11", Finding.Unknown("Not approved."));
    static readonly Judgement UnknownArea = new(Check.Area, "CK-11", Finding.Unknown("No zone.") with { Answerable = false });

    [Fact]
    public void All_passed_goes_on() => Assert.Null(SuitabilityGate.MayGoOn([Passed], Nobody));

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_failed_check_blocks_whatever_is_answered(bool breakdown) =>
        Assert.Equal("suitability-failed", SuitabilityGate.MayGoOn([Passed, Failed, UnknownArea], new HashSet<(Check, string)> { (Check.Ports, "CK-11") }, breakdown)?.Code);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void An_unknown_area_blocks_whatever_is_answered(bool breakdown) =>
        Assert.Equal("suitability-not-recorded", SuitabilityGate.MayGoOn([UnknownArea], new HashSet<(Check, string)> { (Check.Area, "CK-11") }, breakdown)?.Code);

    [Fact]
    public void An_unknown_goes_on_once_a_person_has_answered_for_that_kit()
    {
        Assert.Equal("suitability-unanswered", SuitabilityGate.MayGoOn([Unknown], Nobody)?.Code);
        Assert.Equal("suitability-unanswered", SuitabilityGate.MayGoOn([Unknown], new HashSet<(Check, string)> { (Check.Materials, "LK-20") })?.Code);
        Assert.Null(SuitabilityGate.MayGoOn([Unknown], new HashSet<(Check, string)> { (Check.Materials, "CK-11") }));
    }

    [Fact]
    public void A_breakdown_opens_with_unknowns_pending() => Assert.Null(SuitabilityGate.MayGoOn([Unknown], Nobody, breakdown: true));

    [Fact]
    public void Only_an_unknown_can_be_answered_and_only_with_a_note()
    {
        Assert.Null(SuitabilityGate.MayAnswer(Unknown, "Maker's table of 2025 allows it."));
        Assert.Equal("note-missing", SuitabilityGate.MayAnswer(Unknown, " ")?.Code);
        Assert.Equal("suitability-not-unknown", SuitabilityGate.MayAnswer(Passed, "x")?.Code);
        Assert.Equal("suitability-failed", SuitabilityGate.MayAnswer(Failed, "x")?.Code);
        Assert.Equal("suitability-not-recorded", SuitabilityGate.MayAnswer(UnknownArea, "x")?.Code);
    }
}
