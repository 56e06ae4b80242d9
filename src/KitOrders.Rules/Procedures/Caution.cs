namespace KitOrders.Rules.Procedures;

/// <summary>
/// A caution, shown before the step it belongs to: signal word (ANSI Z535), hazard, consequence, how to avoid it.
/// Null or blank is not written.
/// </summary>
public sealed record Caution(SignalWord? SignalWord, string? Hazard, string? Consequence, string? Avoid)
{
    /// <summary>NOTICE is not about injury and carries no alert triangle (ANSI Z535.4).</summary>
    public bool ShowsTriangle => SignalWord is { } word && word != Procedures.SignalWord.Notice;

    public bool IsWritten => SignalWord is not null || Written(Hazard) || Written(Consequence) || Written(Avoid);

    /// <summary>What is still to be written, in words; empty when the caution is complete or there is none.</summary>
    public IReadOnlyList<string> Missing => !IsWritten ? [] :
    [
        .. new[]
        {
            (SignalWord is not null, "signal word"), (Written(Hazard), "hazard"), (Written(Consequence), "consequence"), (Written(Avoid), "how to avoid it"),
        }.Where(f => !f.Item1).Select(f => f.Item2),
    ];

    /// <summary>The gravest first: DANGER, WARNING, CAUTION, NOTICE; otherwise as written.</summary>
    public static IReadOnlyList<Caution> InOrder(IEnumerable<Caution> cautions) =>
        [.. cautions.OrderBy(c => c.SignalWord ?? Procedures.SignalWord.Notice)];

    static bool Written(string? text) => !string.IsNullOrWhiteSpace(text);
}
