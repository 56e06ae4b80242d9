using KitOrders.Rules.People;
using Microsoft.AspNetCore.Identity;

namespace KitOrders.Storage.People;

/// <summary>How a person signs in. What the person may do stands on the person, not here.</summary>
public sealed class Account : IdentityUser<int>
{
    public PersonId PersonId { get; set; }
}

/// <summary>
/// A command that has had its effect, kept in the same transaction: the same key again answers the same, another body under
/// the key is refused.
/// </summary>
internal sealed class CommandRecord
{
    public required PersonId PersonId { get; init; }

    public required string Key { get; init; }

    public required string Operation { get; init; }

    public required string BodyHash { get; init; }

    public required DateTimeOffset At { get; init; }

    /// <summary>The operation's answer as JSON.</summary>
    public string? Answer { get; set; }

    /// <summary>The reply as it was sent, once it was; null when the answer never reached the sender's side.</summary>
    public string? Reply { get; set; }
}
