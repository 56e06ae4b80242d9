namespace KitOrders.Rules.Stock;

/// <summary>How long elastomers may be stored before they are fitted.</summary>
public static class ShelfLife
{
    /// <summary>
    /// Storage period and the one extension after an inspection, in years: ISO 2230:2002 as printed at
    /// epidor.com/en/blog/storage-of-elastomers-according-to-din-7716-and-iso-2230.
    /// </summary>
    public static (int Period, int Extension) Years(ElastomerGroup group) => group switch
    {
        ElastomerGroup.A => (5, 2),
        ElastomerGroup.B => (7, 3),
        ElastomerGroup.C => (10, 5),
        _ => throw new ArgumentOutOfRangeException(nameof(group)),
    };

    /// <summary>
    /// The last good day of a lot: cure date + storage period, plus the extension once an inspection is recorded; of several
    /// elastomers the shortest. 29 February becomes the 28th. Null: no elastomer that ages, so no expiry.
    /// </summary>
    /// <param name="curedOn">The day of cure, or the last day of its quarter.</param>
    public static DateOnly? ExpiresOn(DateOnly curedOn, IEnumerable<Elastomer> elastomers, bool extended = false)
    {
        DateOnly? first = null;
        foreach (var elastomer in elastomers)
        {
            if (elastomer.Group is { } group)
            {
                var (period, extension) = Years(group);
                var last = curedOn.AddYears(extended ? period + extension : period);
                first = first < last ? first : last;
            }
        }

        return first;
    }

    /// <summary>Whether a lot received without a cure date has to be quarantined: it holds an elastomer that ages.</summary>
    public static bool NeedsCureDate(IEnumerable<Elastomer> elastomers) => elastomers.Any(e => e.Ages);

    /// <summary>A lot may be fitted up to and on its last good day.</summary>
    public static bool IsUsable(DateOnly? expiresOn, bool quarantined, DateOnly fitOn) =>
        !quarantined && (expiresOn is not { } last || last >= fitOn);
}
