using System.Globalization;

namespace KitOrders.Rules.Procedures;

public sealed record NumberedStep(int Number, StepDraft Step);

/// <summary>One thing that differs between two revisions.</summary>
/// <param name="Before">The step's number in the first revision; null where it is new.</param>
/// <param name="After">Its number in the second; null where it is gone.</param>
/// <param name="What">"new step", "step taken out", "place", or the name of what it says.</param>
public sealed record StepDifference(int? Before, int? After, string What, string? Was, string? Is);

/// <summary>
/// What changed from one revision of a procedure to another. Steps carry no name of their own, so they are paired by what they
/// say: first those that read the same for the same model, then those of the same joint, then the most alike by their words.
/// </summary>
public static class StepDifferences
{
    /// <summary>Share of words two texts have in common for them to be the same step, reworded.</summary>
    const decimal Alike = 0.5m;

    public static IReadOnlyList<StepDifference> Between(IReadOnlyList<NumberedStep> before, IReadOnlyList<NumberedStep> after)
    {
        var pairs = Pair(before, after);
        var stay = Unmoved([.. pairs.OrderBy(p => p.Key).Select(p => p.Value)]);
        var from = pairs.ToDictionary(p => p.Value, p => p.Key);
        return
        [
            .. Enumerable.Range(0, after.Count).SelectMany(a => from.TryGetValue(a, out var b)
                ? Changes(before[b], after[a], moved: !stay.Contains(a))
                : [new StepDifference(null, after[a].Number, "new step", null, Said(after[a].Step))]),
            .. Enumerable.Range(0, before.Count).Where(b => !pairs.ContainsKey(b)).Select(b => new StepDifference(before[b].Number, null, "step taken out", Said(before[b].Step), null)),
        ];
    }

    static Dictionary<int, int> Pair(IReadOnlyList<NumberedStep> before, IReadOnlyList<NumberedStep> after)
    {
        var pairs = new Dictionary<int, int>();
        var free = Enumerable.Range(0, after.Count).ToHashSet();
        void ByKey(Func<StepDraft, object?> key)
        {
            var waiting = free.Order().GroupBy(a => key(after[a].Step) ?? free).Where(g => !ReferenceEquals(g.Key, free)).ToDictionary(g => g.Key, g => new Queue<int>(g));
            foreach (var b in Enumerable.Range(0, before.Count).Where(b => !pairs.ContainsKey(b)))
                if (key(before[b].Step) is { } of && waiting.TryGetValue(of, out var same) && same.TryDequeue(out var a) && free.Remove(a))
                    pairs.Add(b, a);
        }

        ByKey(s => (s.PartOf, s.Kind, s.Model, Normal(s.Text)));
        ByKey(s => (s.Model, Normal(s.Text)));
        ByKey(s => s.Joint is { } joint ? (s.Model, Normal(joint)) : null);
        var alike = from b in Enumerable.Range(0, before.Count)
                    where !pairs.ContainsKey(b)
                    from a in free
                    let share = Share(before[b].Step, after[a].Step)
                    where share >= Alike
                    orderby share descending, b, a
                    select (b, a);
        foreach (var (b, a) in alike.ToList())
            if (!pairs.ContainsKey(b) && free.Remove(a))
                pairs.Add(b, a);
        return pairs;
    }

    /// <summary>The longest run that kept its order; what is not in it was moved.</summary>
    static HashSet<int> Unmoved(List<int> places)
    {
        var best = new int[places.Count];
        var link = new int[places.Count];
        for (var i = 0; i < places.Count; i++)
        {
            (best[i], link[i]) = (1, -1);
            for (var j = 0; j < i; j++)
                if (places[j] < places[i] && best[j] + 1 > best[i])
                    (best[i], link[i]) = (best[j] + 1, j);
        }

        var kept = new HashSet<int>();
        for (var i = places.Count == 0 ? -1 : Array.IndexOf(best, best.Max()); i >= 0; i = link[i])
            kept.Add(places[i]);
        return kept;
    }

    static IEnumerable<StepDifference> Changes(NumberedStep before, NumberedStep after, bool moved)
    {
        if (moved || before.Step.PartOf != after.Step.PartOf)
            yield return new StepDifference(before.Number, after.Number, "place", Place(before), Place(after));
        foreach (var ((what, was), (_, now)) in Words(before.Step).Zip(Words(after.Step)))
            if (was != now)
                yield return new StepDifference(before.Number, after.Number, what, was, now);
    }

    static string Place(NumberedStep step) => $"step {step.Number}, {(step.Step.PartOf == PartOf.CloseUp ? "close-up" : Word.Of(step.Step.PartOf))}";

    static string Said(StepDraft step) => step.Model is { } model ? $"{step.Text} ({model})" : step.Text;

    static IEnumerable<(string What, string? Value)> Words(StepDraft s) =>
    [
        ("text", s.Text.Trim()), ("kind", Word.Of(s.Kind)), ("model", s.Model), ("signal word", s.SignalWord is { } word ? Word.Of(word).ToUpperInvariant() : null),
        ("hazard", s.Hazard), ("consequence", s.Consequence), ("how to avoid it", s.Avoid), ("joint", s.Joint), ("bolts", Of(s.Bolts)),
        ("sequence", s.Sequence is { } order ? Word.Of(order) : null), ("target", Of(s.Target)), ("low limit", Of(s.Low)), ("high limit", Of(s.High)), ("unit", s.Unit),
        ("tolerance, %", Of(s.TolerancePct)), ("passes", Of(s.Passes)), ("hold point", s.HoldPoint ? "yes" : "no"), ("witnessed", s.Witnessed ? "yes" : "no"),
        ("part", s.Part), ("minutes", Of(s.Minutes)), ("tool", s.Tool), ("document", s.Document), ("edition", s.Edition), ("page", s.Page),
        ("pictures", s.Pictures.Count == 0 ? null : string.Join("; ", s.Pictures.Select(p => $"{p.Caption} (file {p.Sha256[..Math.Min(8, p.Sha256.Length)]})"))),
    ];

    static string? Of(decimal? value) => value?.ToString("0.####", CultureInfo.InvariantCulture);

    static string Normal(string text) => string.Join(' ', WordsOf(text));

    static string[] WordsOf(string text) => text.ToLowerInvariant().Split([' ', '\n', '\r', '\t', '.', ',', ';', ':', '(', ')'], StringSplitOptions.RemoveEmptyEntries);

    static decimal Share(StepDraft a, StepDraft b)
    {
        if (a.Model != b.Model)
            return 0;
        var (one, other) = (WordsOf(a.Text).ToHashSet(), WordsOf(b.Text).ToHashSet());
        var all = one.Union(other).Count();
        return all == 0 ? 0 : one.Intersect(other).Count() / (decimal)all;
    }
}
