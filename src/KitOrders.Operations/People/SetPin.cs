using KitOrders.Rules;
using KitOrders.Rules.People;

namespace KitOrders.Operations.People;

/// <summary>A person sets the pin with which they witness a step or release a hold point on somebody else's tablet.</summary>
public sealed class SetPin(Desk desk)
{
    public const int MinLength = 4;

    public const int MaxLength = 8;

    public Task<Outcome<Done>> Run(Call call, string pin, CancellationToken ct) => desk.Write<Done>(call, Roles.All, nameof(SetPin), async work =>
    {
        if (Refuse(pin) is { } refused)
            return refused;
        var person = (await work.Person(work.Actor.Person)).Value;
        if (Bootstrap.Is(person.Name))
            return Bootstrap.Reserved;
        person.SetPin(Passwords.Hash(pin));
        work.Audit($"person {person.Name}", "Set a pin of their own.");
        work.Changed("people");
        return Done.Value;
    }, ct);

    static Refusal? Refuse(string pin)
    {
        if (pin.Length is < MinLength or > MaxLength || !pin.All(char.IsAsciiDigit))
            return No($"A pin has {MinLength} to {MaxLength} digits.");
        if (pin.Distinct().Count() == 1 || "0123456789".Contains(pin, StringComparison.Ordinal) || "9876543210".Contains(pin, StringComparison.Ordinal))
            return No("This pin is among the first that anybody would try. Choose one that is neither one digit again and again nor digits in a row.");
        return null;
    }

    static Refusal No(string sentence) => Refusal.Field("pin", "pin-refused", sentence);
}

/// <summary>An administrator takes a forgotten pin away. The person sets the next one; nobody sets it for them.</summary>
public sealed class ResetPin(Desk desk)
{
    public Task<Outcome<Done>> Run(Call call, PersonId id, CancellationToken ct) =>
        desk.Write<Done>(call, Roles.Administrator, nameof(ResetPin), async work =>
        {
            var found = await work.Person(id);
            if (!found.IsDone)
                return found.Refusal!;
            found.Value.SetPin(null);
            work.Audit($"person {found.Value.Name}", "The pin was taken away; the person sets a new one.");
            work.Changed("people");
            return Done.Value;
        }, ct);
}
