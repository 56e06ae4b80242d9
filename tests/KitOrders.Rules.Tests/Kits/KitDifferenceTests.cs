using CsCheck;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class KitDifferenceTests
{
    static readonly Gen<KitLine> Line =
        from part in Gen.Int[1, 6]
        from quantity in Gen.Int[1, 3]
        from source in Gen.Enum<LineSource>()
        from policy in Gen.Enum<SparePolicy>()
        from rate in Gen.Int[0, 3]
        from wraps in Gen.Int[0, 2]
        from serves in Gen.Int[1, 9].List[0, 2]
        select new KitLine
        {
            Number = 0, PartId = new PartId(part), Quantity = quantity, Source = source, SparePolicy = policy,
            RejectRate = rate == 0 ? null : rate / 10m, Wraps = wraps == 0 ? null : wraps, WrapsFor = serves,
        };

    static readonly Gen<KitFit> Fit =
        from model in Gen.Int[1, 5]
        from to in Gen.Int[0, 2]
        from rod in Gen.Bool
        from volts in Gen.Int[0, 2]
        from ports in Gen.Int[0, 2]
        from material in Gen.Int[0, 2]
        select new KitFit
        {
            ModelId = new PumpModelId(model), ConvertsToId = to == 0 ? null : new PumpModelId(to), NeedsSensingRod = rod, Volts = volts == 0 ? null : volts,
            Ports = ports == 0 ? null : $"exhaust=NPT 1/{ports * 2} male", Materials = [.. Enumerable.Repeat("PP", material)],
        };

    static readonly Gen<KitRevision> Any =
        from lines in Line.List[0, 7]
        from numbers in Gen.Shuffle(Enumerable.Range(1, 9).ToArray())
        from fits in Fit.List[0, 4]
        from buildable in Gen.Bool
        select Make(lines, numbers, fits, buildable);

    static KitRevision Make(List<KitLine> lines, int[] numbers, List<KitFit> fits, bool buildable)
    {
        var revision = new KitRevision { PartId = new PartId(99), Number = 1, Buildable = buildable };
        revision.Lines.AddRange(lines.Select((l, i) => Copy(l, numbers[i])));
        revision.Fits.AddRange(fits.DistinctBy(f => f.ModelId));
        return revision;
    }

    static KitLine Copy(KitLine l, int number) => new()
    {
        Number = number, PartId = l.PartId, Quantity = l.Quantity, Source = l.Source, SparePolicy = l.SparePolicy, RejectRate = l.RejectRate, Wraps = l.Wraps, WrapsFor = l.WrapsFor,
    };

    static string Said(KitLine l) => $"{l.Number} {l.PartId.Value} {l.Quantity} {l.Source} {l.SparePolicy} {l.RejectRate} {l.Wraps} {string.Join('+', l.WrapsFor.Order())}";

    static string Said(KitFit f) => $"{f.ModelId.Value} {f.ConvertsToId?.Value} {f.NeedsSensingRod} {f.Volts} {f.Ports} {string.Join('+', f.Materials)}";

    [Fact]
    public void A_revision_does_not_differ_from_itself() => Any.Sample(revision =>
    {
        var difference = KitDifference.Between(revision, revision);
        Assert.True(difference.IsNone);
        Assert.Equal(revision.Lines.Count, difference.Same);
    });

    [Fact]
    public void What_the_difference_says_makes_the_newer_revision_of_the_older() => Any.Select(Any).Sample((was, now) =>
    {
        var difference = KitDifference.Between(was, now);
        var lines = was.Lines.Select(Said).ToList();
        foreach (var line in difference.Lines)
        {
            Assert.True(line.Was is null || lines.Remove(Said(line.Was)), "a line is said to have been there and was not");
        }

        lines.AddRange(difference.Lines.Where(l => l.Now is not null).Select(l => Said(l.Now!)));
        Assert.Equal(now.Lines.Select(Said).Order(StringComparer.Ordinal), lines.Order(StringComparer.Ordinal));

        var fits = was.Fits.ToDictionary(f => f.ModelId, Said);
        foreach (var fit in difference.Fits)
        {
            Assert.Equal(fits.GetValueOrDefault(fit.Model), fit.Was is null ? null : Said(fit.Was));
            _ = fit.Now is null ? fits.Remove(fit.Model) : (fits[fit.Model] = Said(fit.Now)) is not null;
        }

        Assert.Equal(now.Fits.Select(Said).Order(StringComparer.Ordinal), fits.Values.Order(StringComparer.Ordinal));
        Assert.Equal(was.Buildable != now.Buildable, difference.BuildableChanged);
        Assert.Equal(now.Lines.Count, difference.Same + difference.Lines.Count(l => l.Now is not null));
    });

    [Fact]
    public void Looked_at_the_other_way_round_new_and_taken_out_change_places() => Any.Select(Any).Sample((was, now) =>
    {
        var (there, back) = (KitDifference.Between(was, now), KitDifference.Between(now, was));
        Assert.Equal(there.Same, back.Same);
        Assert.Equal(there.Lines.Count(l => l.Was is null), back.Lines.Count(l => l.Now is null));
        Assert.Equal(there.Fits.Count, back.Fits.Count);
    });

    static KitRevision Of(params (int Number, int Part, decimal Quantity)[] lines)
    {
        var revision = new KitRevision { PartId = new PartId(99), Number = 1 };
        revision.Lines.AddRange(lines.Select(l => new KitLine { Number = l.Number, PartId = new PartId(l.Part), Quantity = l.Quantity, Source = LineSource.InTheBox }));
        return revision;
    }

    [Fact]
    public void A_line_that_moves_down_because_another_is_put_before_it_is_the_same_line_under_another_number()
    {
        var difference = KitDifference.Between(Of((1, 10, 1), (2, 20, 1)), Of((1, 10, 1), (2, 30, 1), (3, 20, 1)));
        Assert.Equal([(30, true), (20, false)], difference.Lines.Select(l => (l.Now!.PartId.Value, l.Was is null)));
        Assert.Equal([LineField.Number], difference.Lines[1].Fields);
        Assert.Equal(1, difference.Same);
    }

    [Fact]
    public void Another_part_under_the_same_number_is_that_line_with_another_part()
    {
        var difference = KitDifference.Between(Of((1, 10, 1), (2, 20, 1)), Of((1, 10, 4), (2, 30, 1)));
        Assert.Equal([LineField.Quantity], difference.Lines[0].Fields);
        Assert.Equal([LineField.Part], difference.Lines[1].Fields);
    }

    [Fact]
    public void Every_field_of_a_model_is_compared()
    {
        KitFit From(Func<KitFit> fit) => fit();
        var plain = From(() => new KitFit { ModelId = new PumpModelId(1) });
        var full = From(() => new KitFit
        {
            ModelId = new PumpModelId(1), ConvertsToId = new PumpModelId(2), NeedsSensingRod = true, Ports = "a=NPT 1/2 male", SupplyKind = SupplyKind.Dc, Volts = 24,
            VoltsTolerancePct = 10, Amps = 0.2m, ExMarking = "Gb IIC T4", Materials = ["PP"], Once = true, RequiresKits = ["A"], ExcludesKits = ["B"],
        });
        var (was, now) = (Of(), Of());
        was.Fits.Add(plain);
        now.Fits.Add(full);
        Assert.Equal(Enum.GetValues<FitField>(), Assert.Single(KitDifference.Between(was, now).Fits).Fields);
    }
}
