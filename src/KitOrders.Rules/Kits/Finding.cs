namespace KitOrders.Rules.Kits;

/// <summary>What one check found: the result, the reason in words and the numbers the reason was made from (units in their names).</summary>
/// <remarks>
/// Thousands of pumps are judged for each whose reasons anybody reads: the words are put together when they are asked for, from
/// the facts the result was found with, and then kept.
/// </remarks>
public sealed record Finding
{
    static readonly Dictionary<string, decimal> NoNumbers = [];

    readonly Func<string>? words;
    string? reason;

    public Finding(CheckResult result, string reason, IReadOnlyDictionary<string, decimal> numbers) => (Result, this.reason, Numbers) = (result, reason, numbers);

    Finding(CheckResult result, Func<string> words, IReadOnlyDictionary<string, decimal>? numbers) => (Result, this.words, Numbers) = (result, words, numbers ?? NoNumbers);

    public CheckResult Result { get; }

    public string Reason => reason ??= words!();

    public IReadOnlyDictionary<string, decimal> Numbers { get; }

    /// <summary>Passed only while an open order stays ahead of this one; judged again at start.</summary>
    public bool OnCondition { get; init; }

    /// <summary>An unknown that a named person may answer with a note; otherwise only recording what is missing helps.</summary>
    public bool Answerable { get; init; }

    /// <summary>A caution to be shown beside the result, such as bonding for a flammable fluid.</summary>
    public string? Caution { get; init; }

    public static Finding DoesNotApply(string why) => Passed(() => $"Does not apply: {why}");

    public static Finding Passed(string reason, IReadOnlyDictionary<string, decimal>? numbers = null) =>
        new(CheckResult.Passed, reason, numbers ?? NoNumbers);

    public static Finding Passed(Func<string> words, IReadOnlyDictionary<string, decimal>? numbers = null) => new(CheckResult.Passed, words, numbers);

    public static Finding Failed(string reason, IReadOnlyDictionary<string, decimal>? numbers = null) =>
        new(CheckResult.Failed, reason, numbers ?? NoNumbers);

    public static Finding Failed(Func<string> words, IReadOnlyDictionary<string, decimal>? numbers = null) => new(CheckResult.Failed, words, numbers);

    public static Finding Unknown(string reason, IReadOnlyDictionary<string, decimal>? numbers = null) =>
        new(CheckResult.Unknown, reason, numbers ?? NoNumbers) { Answerable = true };

    public static Finding Unknown(Func<string> words, IReadOnlyDictionary<string, decimal>? numbers = null) =>
        new(CheckResult.Unknown, words, numbers) { Answerable = true };

    /// <summary>A result that was found as the worst of several.</summary>
    public static Finding Of(CheckResult result, Func<string> words, IReadOnlyDictionary<string, decimal>? numbers = null) => new(result, words, numbers);
}
