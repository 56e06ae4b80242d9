using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class KitReleaseTests
{
    /// <summary>A kit of a valve assembly V (body B, seal S), an elbow E and a spool Q kept from the pump, on the model M.</summary>
    sealed class Bench
    {
        readonly Dictionary<PartId, PartAtRelease> parts = [];
        readonly Dictionary<PartId, KitStructure> structures = [];
        readonly Dictionary<PumpModelId, ModelAtRelease> models = [];

        public Bench()
        {
            foreach (var number in new[] { "K", "V", "B", "S", "E", "Q" })
            {
                With(number, p => p with { CanBeHad = true, LeadTimeDays = 5 });
            }

            With("S", p => p with { Elastomers = Elastomer.Read("NBR").Value, Description = "Seal set" });
            With("V", p => p with { HasRevisions = true });
            With("E", p => p with { Thread = Thread("NPT 1/2 male") });
            Released("V", Line(1, "B"), Line(2, "S"));
            Model("M", Control.PilotAir, "exhaust=NPT 1/2 female");
            Model("M-S", Control.Solenoid, "exhaust=NPT 1/2 female");
            Draft(Line(1, "V"), Line(2, "E", LineSource.BoughtSeparately), Line(3, "Q", LineSource.CarriedOver));
            Revision.Fits.Add(new KitFit { ModelId = Id("M"), ConvertsToId = Id("M-S"), Ports = "exhaust=NPT 1/2 male" });
        }

        public KitRevision Revision { get; private set; } = new() { PartId = new PartId(1), Number = 2, Buildable = true };

        public PartId this[string number] => parts.Values.Single(p => p.Fact.Number == number).Fact.Part;

        public PumpModelId Id(string model) => models.Values.Single(m => m.Code == model).Id;

        public static PipeThread Thread(string text) => PipeThread.Parse(text).Value;

        public KitLine Line(int number, string part, LineSource source = LineSource.InTheBox, decimal quantity = 1) =>
            new() { Number = number, PartId = this[part], Quantity = quantity, Source = source };

        public Bench With(string number, Func<PartAtRelease, PartAtRelease> change)
        {
            var known = parts.Values.FirstOrDefault(p => p.Fact.Number == number);
            var id = known?.Fact.Part ?? new PartId(parts.Count + 1);
            parts[id] = change(known ?? new PartAtRelease(new PartFact(id, number, Unit.Each), $"Part {number}"));
            return this;
        }

        public Bench Released(string kit, params KitLine[] lines)
        {
            structures[this[kit]] = Structure(this[kit], lines);
            return this;
        }

        public Bench Model(string code, Control control, string? ports)
        {
            var id = new PumpModelId(models.Count + 1);
            models[id] = new ModelAtRelease(id, code, control, ports is null ? null : PortList.Parse(ports).Value);
            return this;
        }

        public Bench Draft(params KitLine[] lines)
        {
            var fits = Revision.Fits.ToList();
            Revision = new KitRevision { PartId = this["K"], Number = 2, Buildable = true };
            Revision.Lines.AddRange(lines);
            Revision.Fits.AddRange(fits);
            return this;
        }

        public Bench Fit(KitFit fit)
        {
            Revision.Fits.Clear();
            Revision.Fits.Add(fit);
            return this;
        }

        public ReleaseCheck Of(ReleaseTopic topic) => Judge().Single(c => c.Topic == topic);

        public IReadOnlyList<ReleaseCheck> Judge() => KitRelease.Judge(new ReleaseFacts("K", Revision, parts,
            new Dictionary<PartId, KitStructure>(structures) { [this["K"]] = Structure(this["K"], Revision.Lines) },
            models.Values.Where(m => Revision.Fits.Exists(f => f.ModelId == m.Id || f.ConvertsToId == m.Id)).ToDictionary(m => m.Id), new HashSet<string> { "K", "V" }));

        static KitStructure Structure(PartId kit, IEnumerable<KitLine> lines) => new(kit, true,
            [.. lines.Select(l => new KitLineFact(l.Number, l.PartId, l.Quantity, l.Source) { Wraps = l.Wraps, WrapsFor = l.WrapsFor })]);
    }

    static ReleaseFinding Only(ReleaseCheck check, string code)
    {
        var finding = Assert.Single(check.Against);
        Assert.Equal(code, finding.Code);
        return finding;
    }

    [Fact]
    public void A_kit_in_order_passes_every_topic_and_says_what_was_looked_at()
    {
        var checks = new Bench().Judge();
        Assert.Equal(Enum.GetValues<ReleaseTopic>(), checks.Select(c => c.Topic));
        Assert.All(checks, c => Assert.True(c.Passed, $"{c.Topic}: {string.Join(" ", c.Against.Select(f => f.Sentence))}"));
        Assert.All(checks, c => Assert.NotEmpty(c.Looked));
        Assert.Equal("5 items walked, 2 levels, none contains itself", checks[1].Looked);
        Assert.Equal("1 carried-over line, a spare of each can be had; none is held for line 3", checks[4].Looked);
    }

    [Fact]
    public void A_circle_through_three_levels_names_its_path_and_the_line_that_leads_into_it()
    {
        var bench = new Bench().With("W", p => p with { HasRevisions = true });
        bench.Released("V", bench.Line(1, "W")).Released("W", bench.Line(1, "K")).Draft(bench.Line(4, "V"));
        var finding = Only(bench.Of(ReleaseTopic.Circle), "kit-cycle");
        Assert.Contains("K → V → W → K", finding.Sentence, StringComparison.Ordinal);
        Assert.Equal("4", finding.Where);
    }

    [Fact]
    public void An_assembly_of_which_nothing_is_released_is_missing_at_every_level()
    {
        var bench = new Bench().With("W", p => p with { HasRevisions = true });
        bench.Draft(bench.Line(1, "V"), bench.Line(2, "W"));
        Assert.Equal("2", Only(bench.Of(ReleaseTopic.Parts), "assembly-not-released").Where);
        bench.Released("V", bench.Line(3, "W")).Draft(bench.Line(1, "V"));
        var deep = Only(bench.Of(ReleaseTopic.Parts), "assembly-not-released");
        Assert.Equal("1", deep.Where);
        Assert.StartsWith("Line 1, V, in it line 3, W is an assembly", deep.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_part_that_was_cured_or_is_called_by_its_rubber_needs_its_elastomer_recorded()
    {
        var bench = new Bench().With("S", p => p with { Elastomers = [], HasCureDates = true });
        Assert.Contains("was received with a cure date", Only(bench.Of(ReleaseTopic.Materials), "elastomer-without-material").Sentence, StringComparison.Ordinal);
        bench.With("S", p => p with { HasCureDates = false, Description = "O-ring, NBR, 12 mm" });
        Assert.Contains("in it line 2, S is called NBR", Only(bench.Of(ReleaseTopic.Materials), "elastomer-without-material").Sentence, StringComparison.Ordinal);
        bench.With("S", p => p with { Elastomers = Elastomer.Read("PTFE").Value });
        Assert.Empty(bench.Of(ReleaseTopic.Materials).Against);
        bench.With("V", p => p with { HasCureDates = true });
        Assert.Empty(bench.Of(ReleaseTopic.Materials).Against);
    }

    [Theory]
    [InlineData("Seal set, air valve", true)]
    [InlineData("Back-up diaphragm", true)]
    [InlineData("Diaphragm rod", false)]
    [InlineData("Outer diaphragm plate", false)]
    [InlineData("Seat PP", false)]
    public void A_name_that_only_sounds_like_a_seal_is_advice_and_hinders_nobody(string description, bool advised)
    {
        var check = new Bench().With("S", p => p with { Elastomers = [], Description = description }).Of(ReleaseTopic.Materials);
        Assert.True(check.Passed);
        Assert.Equal(advised ? ["seal-by-name"] : [], check.Advice.Select(a => a.Code));
    }

    [Fact]
    public void A_kept_part_whose_spare_cannot_be_had_is_named_whatever_is_held_for_it()
    {
        var bench = new Bench().With("Q", p => p with { CanBeHad = false });
        Assert.Equal("3", Only(bench.Of(ReleaseTopic.Spares), "spare-not-to-be-had").Where);
        bench.Released("Q", bench.Line(1, "B"));
        Assert.True(bench.Of(ReleaseTopic.Spares).Passed);
    }

    [Fact]
    public void A_fitting_that_meets_no_port_and_no_other_part_is_named()
    {
        var bench = new Bench().With("E", p => p with { Thread = Bench.Thread("BSPP 3/8 male") });
        var finding = Only(bench.Of(ReleaseTopic.Threads), "thread-meets-no-port");
        Assert.Equal("2", finding.Where);
        Assert.Contains("BSPP 3/8 male, which meets no port of M, M-S", finding.Sentence, StringComparison.Ordinal);
        bench.With("B", p => p with { Thread = Bench.Thread("BSPP 3/8 female") });
        Assert.True(bench.Of(ReleaseTopic.Threads).Passed);
    }

    [Fact]
    public void A_named_port_must_be_there_and_take_the_fitting()
    {
        var bench = new Bench();
        bench.Fit(new KitFit { ModelId = bench.Id("M"), Ports = "pilot=NPT 1/8 male" });
        Assert.Contains("M has no port pilot. It has exhaust.", Only(bench.Of(ReleaseTopic.Threads), "port-unknown").Sentence, StringComparison.Ordinal);
        bench.Fit(new KitFit { ModelId = bench.Id("M"), Ports = "exhaust=BSPP 1/2 male" });
        Only(bench.Of(ReleaseTopic.Threads), "fit-thread");
    }

    [Fact]
    public void Where_nothing_is_recorded_to_compare_with_a_thread_is_advice()
    {
        var bench = new Bench().Model("N", Control.PilotAir, null);
        bench.Fit(new KitFit { ModelId = bench.Id("N") });
        Assert.Equal(["ports-not-recorded"], bench.Of(ReleaseTopic.Threads).Advice.Select(a => a.Code));
        Assert.Empty(bench.Of(ReleaseTopic.Threads).Against);
        bench.Fit(new KitFit { ModelId = bench.Id("M") }).With("E", p => p with { Thread = Bench.Thread("NPT 1/2") });
        Assert.Equal(["thread-unproven"], bench.Of(ReleaseTopic.Threads).Advice.Select(a => a.Code));
    }

    [Fact]
    public void A_model_needs_another_control_to_be_converted_to_and_a_whole_supply()
    {
        var bench = new Bench().Model("M2", Control.PilotAir, null);
        bench.Fit(new KitFit { ModelId = bench.Id("M"), ConvertsToId = bench.Id("M2") });
        Only(bench.Of(ReleaseTopic.Fits), "fit-control-same");
        bench.Fit(new KitFit { ModelId = bench.Id("M"), Volts = 24 });
        Assert.Contains("the kind of supply is missing", Only(bench.Of(ReleaseTopic.Fits), "fit-supply-incomplete").Sentence, StringComparison.Ordinal);
        bench.Fit(new KitFit { ModelId = bench.Id("M"), RequiresKits = ["NONE"] });
        Only(bench.Of(ReleaseTopic.Fits), "fit-kit-unknown");
    }

    [Fact]
    public void Tape_that_is_kept_by_the_piece_or_serves_what_has_no_thread_cannot_be_metered()
    {
        var bench = new Bench().With("T", p => p);
        KitLine Tape(params int[] serves) => new() { Number = 4, PartId = bench["T"], Quantity = 1, Source = LineSource.ShopSupply, Wraps = 3, WrapsFor = [.. serves] };
        bench.Draft(bench.Line(2, "E"), Tape(2));
        Only(bench.Of(ReleaseTopic.Lines), "wraps-need-length");
        bench.With("T", p => p with { Fact = p.Fact with { Unit = Unit.M } });
        Assert.Equal("4", Only(bench.Of(ReleaseTopic.Lines), "thread-not-recorded").Where);
    }

    [Fact]
    public void A_line_of_zero_and_a_fraction_of_a_piece_stand_against_it()
    {
        var bench = new Bench();
        bench.Draft(bench.Line(1, "B", quantity: 0), bench.Line(2, "S", quantity: 0.5m));
        Assert.Equal(["line-quantity", "line-unit"], bench.Of(ReleaseTopic.Lines).Against.Select(f => f.Code));
    }

    [Fact]
    public void A_part_that_another_has_taken_the_place_of_is_advice()
    {
        var advice = Assert.Single(new Bench().With("E", p => p with { SupersededBy = "E2" }).Of(ReleaseTopic.Parts).Advice);
        Assert.Equal(("part-superseded", "2"), (advice.Code, advice.Where));
        Assert.Contains("E has been superseded by E2", advice.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_bought_without_a_lead_time_is_advice() =>
        Assert.Equal(["lead-time-missing"], new Bench().With("E", p => p with { LeadTimeDays = null }).Of(ReleaseTopic.Parts).Advice.Select(a => a.Code));
}
