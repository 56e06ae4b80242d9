namespace KitOrders.Rules.People;

/// <summary>
/// A link that works once and not for long, with which a person sets their own password, or with which the first
/// administrator of an empty plant comes in. Only the hash of its secret is kept.
/// </summary>
public sealed class SignInLink
{
    /// <summary>How long a person has to use the link that an administrator handed over.</summary>
    public static readonly TimeSpan Life = TimeSpan.FromHours(72);

    public int Id { get; private set; }

    /// <summary>Whose password it sets; none for the first administrator, who is nobody yet.</summary>
    public PersonId? PersonId { get; init; }

    public required string Hash { get; init; }

    public required DateTimeOffset MadeAt { get; init; }

    public required DateTimeOffset ExpiresAt { get; init; }

    /// <summary>When it was used, or when a newer link took its place.</summary>
    public DateTimeOffset? SpentAt { get; private set; }

    public bool IsGood(DateTimeOffset now) => SpentAt is null && now < ExpiresAt;

    public void Spend(DateTimeOffset at) => SpentAt ??= at;
}
