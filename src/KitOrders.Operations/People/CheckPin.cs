using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>
/// Says that the named person stands at the tablet, by their pin. Asked before the operation that needs a witness or a
/// release, in a transaction of its own, so that a wrong pin counts even though the operation is refused.
/// </summary>
public sealed class CheckPin(Desk desk)
{
    /// <summary>
    /// Answers the person as an actor. Refused for an unknown or inactive person, without a pin, with a wrong one, and while
    /// the pin is blocked. The person of the configuration's token needs no pin for itself.
    /// </summary>
    internal async Task<Outcome<Actor>> Run(Call call, string name, string? pin, CancellationToken ct)
    {
        var answer = await desk.Write<Answer>(call with { Key = null, SeenVersion = null }, Roles.All, nameof(CheckPin), async work =>
        {
            var person = await work.Db.People.FromSql($"select * from person where name = {name.Trim()} for update").SingleOrDefaultAsync(work.Ct);
            if (person is not { Active: true })
                return PersonActions.Unknown($"named {name.Trim()} on the list");
            if (Bootstrap.Is(person.Name) && work.Actor.Person == person.Id)
            {
                work.Audit($"person {person.Name}", "Vouched for itself by the token.");
                return new Answer(PersonActions.ActorOf(person), null);
            }
            if (person.PinHash is null)
                return Refusal.Conflict("pin-missing", $"{person.Name} has no pin yet. They set one on their profile page, then it can be used here.");
            if (person.IsPinBlocked(work.Now))
                return Blocked(person.Name);
            var right = Passwords.Matches(person.PinHash, pin ?? "");
            person.Tried(right, work.Now);
            work.Audit($"person {person.Name}", right ? "The pin was right." : "A wrong pin was given.");
            return right ? new Answer(PersonActions.ActorOf(person), null)
                : new Answer(null, person.IsPinBlocked(work.Now) ? Blocked(person.Name) : Wrong(person.Name));
        }, ct);
        if (!answer.IsDone)
            return answer.Refusal!;
        return answer.Value.Person is { } actor ? actor : answer.Value.Refusal!;
    }

    sealed record Answer(Actor? Person, Refusal? Refusal);

    static Refusal Wrong(string name) => Refusal.Field("pin", "pin-wrong", $"This is not the pin of {name}. Nothing was recorded; let them type it again.");

    static Refusal Blocked(string name) => Refusal.Conflict("pin-blocked",
        $"Too many wrong pins were given for {name}. Wait {Person.PinBlock.TotalMinutes:0} minutes, or let {name} set a new pin on their profile page.");
}
