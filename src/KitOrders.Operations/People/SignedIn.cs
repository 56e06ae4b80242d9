using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <param name="Stamp">Changes when the person's sessions are ended.</param>
public sealed record SignInPerson(Actor Actor, bool Active, bool Demo, bool HasPin, string? UserName, bool HasPassword, string? Stamp);

/// <summary>The person behind an account, as the record has them now.</summary>
public sealed class SignedIn(Desk desk)
{
    public Task<SignInPerson?> Read(int account, CancellationToken ct) => desk.Read(async reading => await (
        from kept in reading.Db.Users
        join person in reading.Db.People on kept.PersonId equals person.Id
        where kept.Id == account
        select new SignInPerson(
            new Actor(person.Id, person.Name, person.Roles, null), person.Active, person.Demo, person.PinHash != null,
            kept.UserName, kept.PasswordHash != null, kept.SecurityStamp)).SingleOrDefaultAsync(reading.Ct), ct);
}
