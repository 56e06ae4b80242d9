using KitOrders.Rules.People;

namespace KitOrders.Operations;

/// <summary>The person who does something, and the device it is done from.</summary>
public sealed record Actor(PersonId Person, string Name, Roles Roles, string? Device = null)
{
    public bool Holds(Roles anyOf) => (Roles & anyOf) != 0;
}

/// <summary>
/// The sender's own name for one command, with a hash of what it asks: the same again answers the same once more, the same
/// name with another body is refused.
/// </summary>
public sealed record CommandKey(string Key, string BodyHash)
{
    public const int MaxLength = 100;
}

/// <summary>One call of an operation: who, under which key, and which version of the thing they were looking at.</summary>
public sealed record Call(Actor Actor, CommandKey? Key = null, long? SeenVersion = null);
