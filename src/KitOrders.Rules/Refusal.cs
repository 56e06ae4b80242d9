namespace KitOrders.Rules;

/// <summary>What kind of no it is. The HTTP API answers 404, 403, 409 and 422 in this order.</summary>
public enum RefusalKind
{
    NotFound,
    NotAllowed,

    /// <summary>The state of the thing does not allow it; the sentence says what would.</summary>
    Conflict,

    /// <summary>The values given cannot be taken.</summary>
    Invalid,
}

/// <summary>
/// A refusal is a value, not an exception: a stable code for programs, a sentence for people that says what is true now
/// and what to do, and, where fields are at fault, the sentences by field (camelCase names).
/// </summary>
public sealed record Refusal(RefusalKind Kind, string Code, string Sentence)
{
    public IReadOnlyDictionary<string, string[]> Errors { get; init; } = new Dictionary<string, string[]>();

    public static Refusal NotFound(string code, string sentence) => new(RefusalKind.NotFound, code, sentence);

    public static Refusal NotAllowed(string code, string sentence) => new(RefusalKind.NotAllowed, code, sentence);

    public static Refusal Conflict(string code, string sentence) => new(RefusalKind.Conflict, code, sentence);

    public static Refusal Invalid(string code, string sentence) => new(RefusalKind.Invalid, code, sentence);

    /// <summary>The same, said of the field that it is about.</summary>
    public Refusal At(string field) => this with { Errors = new Dictionary<string, string[]> { [field] = [Sentence] } };

    /// <summary>A value of one field that cannot be taken.</summary>
    public static Refusal Field(string field, string code, string sentence) =>
        new(RefusalKind.Invalid, code, sentence) { Errors = new Dictionary<string, string[]> { [field] = [sentence] } };
}

/// <summary>Either a value or a refusal. Bugs are exceptions; everything a person can cause is one of these two.</summary>
public readonly record struct Outcome<T>
{
    readonly T? value;

    Outcome(T? value, Refusal? refusal)
    {
        this.value = value;
        Refusal = refusal;
    }

    public Refusal? Refusal { get; }

    public bool IsDone => Refusal is null;

    /// <summary>The value; asking for it after a refusal is a bug.</summary>
    public T Value => Refusal is null ? value! : throw new InvalidOperationException($"Refused: {Refusal.Code}. {Refusal.Sentence}");

#pragma warning disable CA2225 // The two conversions are the point: "return value;" and "return Refusal.Conflict(…);".
    public static implicit operator Outcome<T>(T value) => new(value, null);

    public static implicit operator Outcome<T>(Refusal refusal) => new(default, refusal);
#pragma warning restore CA2225
}

/// <summary>The value of an operation that has nothing else to say.</summary>
public readonly record struct Done
{
    public static readonly Done Value;
}
