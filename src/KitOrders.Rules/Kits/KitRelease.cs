using System.Globalization;
using System.Text.RegularExpressions;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.Stock;

namespace KitOrders.Rules.Kits;

/// <summary>
/// All that is looked at before a kit revision is released, topic by topic. What stands against the release is a fact of the
/// record; what is only likely (a name that speaks of a seal) is advice and hinders nobody.
/// </summary>
public static partial class KitRelease
{
    static readonly ReleaseTopic[] topics = Enum.GetValues<ReleaseTopic>();

    /// <summary>One result for every topic, in their order.</summary>
    public static IReadOnlyList<ReleaseCheck> Judge(ReleaseFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var own = KitReleaseChecks.Of(facts.Kit, facts.Revision, facts.Parts.ToDictionary(p => p.Key, p => p.Value.Fact));
        return [.. topics.Select(topic => topic switch
        {
            ReleaseTopic.Lines => Check(topic, [.. own.Where(f => !IsOfFits(f)), .. Wraps(facts)], [], Counted(facts.Revision.Lines.Count, "line")),
            ReleaseTopic.Circle => Circle(facts),
            ReleaseTopic.Parts => Check(topic, [.. Assemblies(facts)], [.. Superseded(facts), .. LeadTimes(facts)], "every assembly in it has a released revision"),
            ReleaseTopic.Materials => Check(topic, [.. Materials(facts)], [.. SealsByName(facts)], Ageing(facts)),
            ReleaseTopic.Spares => Check(topic, [.. Spares(facts)], [], SparesLooked(facts.Revision)),
            ReleaseTopic.Threads => KitThreads.Judge(facts),
            ReleaseTopic.Fits => Check(topic, [.. own.Where(IsOfFits), .. Fits(facts)], [], facts.Revision.Fits.Count == 0 ? "it names no model: an assembly inside other kits" : Counted(facts.Revision.Fits.Count, "model")),
            _ => throw new ArgumentOutOfRangeException(nameof(facts), topic, "Not a topic of a release."),
        })];
    }

    internal static ReleaseCheck Check(ReleaseTopic topic, IReadOnlyList<ReleaseFinding> against, IReadOnlyList<ReleaseFinding> advice, string looked) =>
        new(topic, against, advice, looked);

    /// <summary>"Line 3, E-17", and for a line further down "Line 1, V-2, in it line 3, E-17".</summary>
    internal static IEnumerable<(string Where, string Named, PartAtRelease Part, LineSource Source)> BoxedLines(ReleaseFacts facts)
    {
        var seen = new HashSet<PartId> { facts.Revision.PartId };
        var waiting = new Queue<(PartId Kit, string Where, string Above)>([(facts.Revision.PartId, "", "")]);
        while (waiting.TryDequeue(out var at))
        {
            if (!facts.Structures.TryGetValue(at.Kit, out var structure))
            {
                continue;
            }

            foreach (var line in structure.Lines.Where(l => l.Source is LineSource.InTheBox or LineSource.BoughtSeparately && seen.Add(l.Part)))
            {
                var part = facts.Parts[line.Part];
                var where = at.Where.Length == 0 ? line.Line.ToString(CultureInfo.InvariantCulture) : at.Where;
                var named = $"{at.Above}{(at.Above.Length == 0 ? "Line" : "line")} {line.Line}, {part.Fact.Number}";
                yield return (where, named, part, line.Source);
                waiting.Enqueue((line.Part, where, $"{named}, in it "));
            }
        }
    }

    static bool IsOfFits(ReleaseFinding finding) => finding.Where is null && finding.Code is not ("kit-empty" or "kit-not-buildable");

    static IEnumerable<ReleaseFinding> Wraps(ReleaseFacts facts)
    {
        var parts = facts.Parts.ToDictionary(p => p.Key, p => p.Value.Fact);
        var structure = facts.Structures[facts.Revision.PartId];
        foreach (var line in structure.Lines.Where(l => l.Wraps is not null && l.WrapsFor.Count > 0 && l.WrapsFor.All(n => structure.Lines.Any(o => o.Line == n))))
        {
            if (ShopSupply.PerParent(structure, line, parts).Refusal is { } refusal)
            {
                yield return new ReleaseFinding(refusal.Code, line.Line.ToString(CultureInfo.InvariantCulture), refusal.Sentence);
            }
        }
    }

    static ReleaseCheck Circle(ReleaseFacts facts)
    {
        string NumberOf(PartId part) => facts.Parts[part].Fact.Number;
        var walked = KitTree.LowLevelCodes([facts.Revision.PartId], facts.Structures, NumberOf);
        if (walked.Refusal is not { } cycle)
        {
            return Check(ReleaseTopic.Circle, [], [], $"{Counted(walked.Value.Count - 1, "item")} walked, {Counted(walked.Value.Values.Max(), "level")}, none contains itself");
        }

        var at = facts.Structures[facts.Revision.PartId].Lines.FirstOrDefault(l => cycle.Sentence.Contains($" {NumberOf(l.Part)}", StringComparison.Ordinal));
        return Check(ReleaseTopic.Circle, [new ReleaseFinding(cycle.Code, at?.Line.ToString(CultureInfo.InvariantCulture), cycle.Sentence)], [], "");
    }

    static IEnumerable<ReleaseFinding> Assemblies(ReleaseFacts facts) =>
        from line in BoxedLines(facts)
        where line.Part.HasRevisions && !facts.Structures.ContainsKey(line.Part.Fact.Part)
        select new ReleaseFinding("assembly-not-released", line.Where,
            $"{line.Named} is an assembly, and no revision of it is released: nobody could know what is in it. Release one first, or take the line out.");

    static IEnumerable<ReleaseFinding> Superseded(ReleaseFacts facts) =>
        from line in facts.Revision.Lines
        let part = facts.Parts[line.PartId]
        where part.SupersededBy is not null
        select new ReleaseFinding("part-superseded", line.Number.ToString(CultureInfo.InvariantCulture),
            $"Line {line.Number}, {part.Fact.Number} has been superseded by {part.SupersededBy}. Take that part, unless the old one is meant.");

    static IEnumerable<ReleaseFinding> LeadTimes(ReleaseFacts facts) =>
        from line in facts.Revision.Lines
        let part = facts.Parts[line.PartId]
        where line.Source == LineSource.BoughtSeparately && part.LeadTimeDays is null
        select new ReleaseFinding("lead-time-missing", line.Number.ToString(CultureInfo.InvariantCulture),
            $"Line {line.Number}, {part.Fact.Number} has no lead time on record: an order short of it cannot say when it could start.");

    static IEnumerable<ReleaseFinding> Materials(ReleaseFacts facts) =>
        from line in BoxedLines(facts)
        // A boxed assembly has a cure date for the seals inside it; they are looked at themselves.
        where line.Part.Elastomers.Count == 0 && !facts.Structures.ContainsKey(line.Part.Fact.Part) && (line.Part.HasCureDates || CodeIn(line.Part.Description) is not null)
        select new ReleaseFinding("elastomer-without-material", line.Where,
            $"{line.Named} {(line.Part.HasCureDates ? "was received with a cure date" : $"is called {CodeIn(line.Part.Description)}")}, and its elastomer is not recorded: its shelf life would not be watched. Record the elastomer of the part.");

    static IEnumerable<ReleaseFinding> SealsByName(ReleaseFacts facts) =>
        from line in BoxedLines(facts)
        where line.Part.Elastomers.Count == 0 && !line.Part.HasCureDates && CodeIn(line.Part.Description) is null && !facts.Structures.ContainsKey(line.Part.Fact.Part)
            && SealWord().IsMatch(line.Part.Description) && !NoSeal().IsMatch(line.Part.Description)
        select new ReleaseFinding("seal-by-name", line.Where,
            $"{line.Named}, {line.Part.Description}: it sounds like a seal and no material is recorded. If there is rubber in it, record which; PTFE is recorded too.");

    /// <summary>The code of an ageing elastomer that stands in the words; two letters are too few to be sure.</summary>
    static string? CodeIn(string description) => Words().Matches(description).Select(m => m.Value)
        .FirstOrDefault(word => word.Length > 2 && Elastomer.All.Any(e => e.Ages && e.Code == word));

    static string Ageing(ReleaseFacts facts)
    {
        var ageing = BoxedLines(facts).Where(l => l.Part.Elastomers.Any(e => e.Ages)).ToList();
        return ageing.Count == 0 ? "nothing recorded in it ages"
            : $"{string.Join(", ", ageing.SelectMany(l => l.Part.Elastomers.Where(e => e.Ages).Select(e => e.Code)).Distinct().Order(StringComparer.Ordinal))} in {Counted(ageing.Count, "part")}, each with a storage period";
    }

    static IEnumerable<ReleaseFinding> Spares(ReleaseFacts facts) =>
        from line in facts.Revision.Lines
        let part = facts.Parts[line.PartId]
        where line.Source == LineSource.CarriedOver && !part.CanBeHad && facts.Structures.GetValueOrDefault(line.PartId) is not { Buildable: true }
        select new ReleaseFinding("spare-not-to-be-had", line.Number.ToString(CultureInfo.InvariantCulture),
            $"Line {line.Number}, {part.Fact.Number} is kept from the pump, and no spare can be had if it is rejected: it was never received, is not incoming and has no supplier, lead time or alternate. Record one of them for the part.");

    static string SparesLooked(KitRevision revision)
    {
        var kept = revision.Lines.Where(l => l.Source == LineSource.CarriedOver).ToList();
        var without = kept.Where(l => l.SparePolicy == SparePolicy.None).Select(l => l.Number).Order().ToList();
        return kept.Count == 0 ? "nothing is carried over"
            : $"{Counted(kept.Count, "carried-over line")}, a spare of each can be had{(without.Count == 0 ? "" : $"; none is held for line {string.Join(", ", without)}")}";
    }

    static IEnumerable<ReleaseFinding> Fits(ReleaseFacts facts)
    {
        foreach (var fit in facts.Revision.Fits)
        {
            var model = facts.Models[fit.ModelId];
            if (fit.ConvertsToId is { } to && to != fit.ModelId && facts.Models[to].Control == model.Control)
            {
                yield return new ReleaseFinding("fit-control-same", null, $"{model.Code} would be converted to {facts.Models[to].Code}, and both are on {(model.Control == Control.PilotAir ? "pilot air" : "a solenoid")}: nothing would change, and every order would be refused. Name another model.");
            }

            foreach (var unknown in fit.RequiresKits.Concat(fit.ExcludesKits).Where(k => !facts.KnownKits.Contains(k)).Distinct())
            {
                yield return new ReleaseFinding("fit-kit-unknown", null, $"{model.Code} names the kit {unknown}, which is not in the catalogue. Correct its number.");
            }

            if (fit is { Volts: not null, SupplyKind: null } or { Volts: null, SupplyKind: not null } or { Volts: null, Amps: not null })
            {
                yield return new ReleaseFinding("fit-supply-incomplete", null, $"{model.Code}: the kit needs electricity, and {(fit.Volts is null ? "its volts are" : "the kind of supply is")} missing: no order could be judged. Give both.");
            }
        }
    }

    internal static string Counted(int count, string what) => $"{count} {what}{(count == 1 ? "" : "s")}";

    [GeneratedRegex(@"\p{L}+")]
    private static partial Regex Words();

    [GeneratedRegex(@"\b(o-?rings?|seals?|gaskets?|diaphragms?|lip ring|packing)\b", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex SealWord();

    [GeneratedRegex(@"\b(rods?|plates?|tools?|bolts?|screws?|tape|kit|housing)\b", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex NoSeal();
}
