namespace KitOrders.Rules.Pumps;

/// <summary>A reading that stands on record; without a day where a count came with an import.</summary>
public readonly record struct MeterReading(DateOnly? On, long Strokes);

/// <summary>
/// A pump's stroke meter counts up. A reading below the last one is a slip of the pen or another meter, and only the person at the
/// pump can tell which.
/// </summary>
public static class StrokeMeter
{
    public const int NoteMaxLength = 1_000;

    /// <summary>More strokes than a pump makes in its life (common practice, no source): beyond it a figure was mistyped.</summary>
    public const long Most = 100_000_000_000;

    /// <summary>
    /// May this be recorded as the newest reading? Null when it may; refused as <c>strokes-out-of-range</c>, <c>reading-in-future</c>,
    /// <c>reading-before-last</c>, <c>strokes-below-last</c> or <c>note-missing</c>.
    /// </summary>
    public static Refusal? MayRead(MeterReading? last, long strokes, DateOnly on, DateOnly today, bool meterReplaced, string? note)
    {
        if (strokes is < 0 or > Most)
        {
            return Refusal.Field("strokes", "strokes-out-of-range", "A stroke count is a whole number from 0 to 100,000,000,000.");
        }

        if (on > today)
        {
            return Refusal.Field("on", "reading-in-future", $"A meter cannot have been read on {on:yyyy-MM-dd}: today is {today:yyyy-MM-dd}.");
        }

        if (note?.Length > NoteMaxLength)
        {
            return Refusal.Field("note", "note-too-long", $"A note has at most {NoteMaxLength} characters.");
        }

        if (meterReplaced && string.IsNullOrWhiteSpace(note))
        {
            return Refusal.Field("note", "note-missing", "Say in a note why the meter was replaced or set back, and what the old one showed.");
        }

        return last switch
        {
            { On: { } read } when on < read => Refusal.Field("on", "reading-before-last", $"The meter was read last on {read:yyyy-MM-dd}. Readings are recorded one after the other; record one of that day or later."),
            { } before when strokes < before.Strokes && !meterReplaced => Refusal.Field("strokes", "strokes-below-last",
                FormattableString.Invariant($"The meter showed {before.Strokes:N0}{(before.On is { } day ? FormattableString.Invariant($" on {day:yyyy-MM-dd}") : "")} and counts up. Read it again; if it was replaced or set back, say so with a note.")),
            _ => null,
        };
    }
}
