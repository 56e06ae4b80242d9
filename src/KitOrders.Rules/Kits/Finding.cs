namespace KitOrders.Rules.Kits;

/// <summary>What one check found: the result, the reason in words and the numbers the reason was made from (units in their names).</summary>
public sealed record Finding(CheckResult Result, string Reason, IReadOnlyDictionary<string, decimal> Numbers)
{
    static readonly Dictionary<string, decimal> NoNumbers = [];

    /// <summary>Passed only while an open order stays ahead of this one; judged again at start.</summary>
    public bool OnCondition { get; init; }

    /// <summary>An unknown that a named person may answer with a note; otherwise only recording what is missing helps.</summary>
    public bool Answerable { get; init; }

    /// <summary>A caution to be shown beside the result, such as bonding for a flammable fluid.</summary>
    public string? Caution { get; init; }

    public static Finding DoesNotApply(string why) => Passed($"Does not apply: {why}");

    public static Finding Passed(string reason, IReadOnlyDictionary<string, decimal>? numbers = null) =>
        new(CheckResult.Passed, reason, numbers ?? NoNumbers);

    public static Finding Failed(string reason, IReadOnlyDictionary<string, decimal>? numbers = null) =>
        new(CheckResult.Failed, reason, numbers ?? NoNumbers);

    public static Finding Unknown(string reason, IReadOnlyDictionary<string, decimal>? numbers = null) =>
        new(CheckResult.Unknown, reason, numbers ?? NoNumbers) { Answerable = true };
}
