namespace KitOrders.Rules.Kits;

/// <summary>
/// What the judgements allow. Failed always blocks; an unknown needs the answer of a named person, an unknown area the
/// missing data; nothing is waived.
/// </summary>
public static class SuitabilityGate
{
    /// <summary>May the order be opened, or started? Null when it may.</summary>
    /// <param name="answered">Checks of kits whose unknown a named person has answered with a note.</param>
    /// <param name="breakdown">A breakdown is opened with unknowns pending, never with a failed check or an unknown area. At start it is judged like any order.</param>
    public static Refusal? MayGoOn(IEnumerable<Judgement> judgements, IReadOnlySet<(Check Check, string Kit)> answered, bool breakdown = false)
    {
        var all = judgements.ToList();
        if (all.Where(j => j.Result == CheckResult.Failed).ToList() is { Count: > 0 } failed)
        {
            return Refusal.Conflict("suitability-failed", $"{Sentences(failed)} Correct the record or choose another kit.");
        }

        var unknown = all.Where(j => j.Result == CheckResult.Unknown).ToList();
        if (unknown.Where(j => !j.Finding.Answerable).ToList() is { Count: > 0 } unrecorded)
        {
            return Refusal.Conflict("suitability-not-recorded", $"{Sentences(unrecorded)} Only recording the missing data answers this.");
        }

        return !breakdown && unknown.Where(j => !answered.Contains((j.Check, j.Kit))).ToList() is { Count: > 0 } unanswered
            ? Refusal.Conflict("suitability-unanswered", $"{Sentences(unanswered)} A named person must answer with a note, or the record be completed.")
            : null;
    }

    /// <summary>May a person answer this check in words? Null when so.</summary>
    public static Refusal? MayAnswer(Judgement judgement, string? note) => judgement switch
    {
        { Result: CheckResult.Failed } => Refusal.Conflict("suitability-failed", $"{Sentences([judgement])} A failed check cannot be answered; correct the record or choose another kit."),
        { Result: CheckResult.Passed } => Refusal.Conflict("suitability-not-unknown", $"{Sentences([judgement])} It has passed; there is nothing to answer."),
        { Finding.Answerable: false } => Refusal.Conflict("suitability-not-recorded", $"{Sentences([judgement])} Only recording the missing data answers this."),
        _ when string.IsNullOrWhiteSpace(note) => Refusal.Field("note", "note-missing", "Say in a note what was found and how."),
        _ => null,
    };

    static string Sentences(IEnumerable<Judgement> judgements) =>
        string.Join(" ", judgements.Select(j => $"{j.Kit}, {Word.Of(j.Check)}: {j.Reason}"));
}
