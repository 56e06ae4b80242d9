using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class KitReleaseChecksTests
{
    static readonly PartId Kit = new(1);
    static readonly PartId Plug = new(2);
    static readonly PartId Tape = new(3);

    static readonly Dictionary<PartId, PartFact> Parts = new()
    {
        [Kit] = new PartFact(Kit, "CK-11", Unit.Each),
        [Plug] = new PartFact(Plug, "PL-14", Unit.Each),
        [Tape] = new PartFact(Tape, "TP-12", Unit.M),
    };

    static KitLine Line(int number, PartId part, decimal quantity, LineSource source = LineSource.InTheBox) =>
        new() { Number = number, PartId = part, Quantity = quantity, Source = source };

    static List<string> Codes(IEnumerable<KitLine> lines, bool buildable = false, params KitFit[] fits)
    {
        var revision = new KitRevision { PartId = Kit, Number = 1, Buildable = buildable };
        revision.Lines.AddRange(lines);
        revision.Fits.AddRange(fits);
        return [.. KitReleaseChecks.Of("CK-11", revision, Parts).Select(f => f.Code)];
    }

    static KitLine Carried(SparePolicy policy, decimal? rate, LineSource source = LineSource.CarriedOver) =>
        new() { Number = 2, PartId = Plug, Quantity = 2, Source = source, SparePolicy = policy, RejectRate = rate };

    static KitLine Wrapped(LineSource source, params int[] serves) =>
        new() { Number = 2, PartId = Tape, Quantity = 0.5m, Source = source, Wraps = 3, WrapsFor = [.. serves] };

    public static TheoryData<KitLine, string?> Lines => new()
    {
        { Line(2, Tape, 0.25m, LineSource.ShopSupply), null },
        { Line(2, Plug, 0m), "line-quantity" },
        { Line(2, Plug, -1m), "line-quantity" },
        { Line(2, Plug, 1.5m), "line-unit" },
        { Line(1, Plug, 1m), "line-twice" },
        { Line(2, Kit, 1m), "kit-in-itself" },
        { Carried(SparePolicy.None, null), null },
        { Carried(SparePolicy.All, null), null },
        { Carried(SparePolicy.ByRate, 0.1m), null },
        { Carried(SparePolicy.ByRate, null), "reject-rate-missing" },
        { Carried(SparePolicy.ByRate, 10m), "reject-rate-range" },
        { Carried(SparePolicy.All, null, LineSource.InTheBox), "spare-policy-unused" },
        { Wrapped(LineSource.ShopSupply, 1), null },
        { Wrapped(LineSource.InTheBox, 1), "wraps-source" },
        { Wrapped(LineSource.ShopSupply), "wraps-serve-nothing" },
        { Wrapped(LineSource.ShopSupply, 9), "wraps-serve-unknown" },
        { Wrapped(LineSource.ShopSupply, 2), "wraps-serve-unknown" },
    };

    [Theory]
    [MemberData(nameof(Lines))]
    public void A_line_makes_sense(KitLine line, string? code) =>
        Assert.Equal(code is null ? [] : [code], Codes([Line(1, Plug, 1m), line]));

    [Fact]
    public void A_kit_has_lines_and_a_buildable_one_has_them_in_the_box()
    {
        Assert.Equal(["kit-empty"], Codes([]));
        Assert.Equal(["kit-not-buildable"], Codes([Line(1, Plug, 1m, LineSource.BoughtSeparately)], buildable: true));
        Assert.Empty(Codes([Line(1, Plug, 1m)], buildable: true));
    }

    public static TheoryData<KitFit, string?> Fits => new()
    {
        { new KitFit { ModelId = new PumpModelId(1), ConvertsToId = new PumpModelId(2), Ports = "pilot=NPT 1/4 male", ExMarking = "Gb IIC T4" }, null },
        { new KitFit { ModelId = new PumpModelId(1), ConvertsToId = new PumpModelId(1) }, "fit-converts-to-itself" },
        { new KitFit { ModelId = new PumpModelId(1), Ports = "pilot" }, "port-list-unreadable" },
        { new KitFit { ModelId = new PumpModelId(1), ExMarking = "IP65" }, "ex-marking-unreadable" },
        { new KitFit { ModelId = new PumpModelId(1), RequiresKits = ["LK-20"], ExcludesKits = ["lk-20"] }, "fit-contradiction" },
        { new KitFit { ModelId = new PumpModelId(1), RequiresKits = ["CK-11"] }, "fit-requires-itself" },
    };

    [Theory]
    [MemberData(nameof(Fits))]
    public void An_entry_for_a_model_makes_sense(KitFit fit, string? code) =>
        Assert.Equal(code is null ? [] : [code], Codes([Line(1, Plug, 1m)], false, fit));

    [Fact]
    public void A_model_has_one_entry() =>
        Assert.Equal(["fit-twice"], Codes([Line(1, Plug, 1m)], false, new KitFit { ModelId = new PumpModelId(1) }, new KitFit { ModelId = new PumpModelId(1) }));
}
