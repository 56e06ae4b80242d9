using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <param name="LinkUntil">Until when a first-use link waits to be used.</param>
public sealed record PersonRow(
    PersonId Id, string Name, Roles Roles, string? Crew, bool Active, bool Demo, bool HasPin, string? UserName, bool HasPassword,
    DateTimeOffset? LinkUntil, int Tokens);

public sealed record PeopleOfThePlant(IReadOnlyList<PersonRow> People, IReadOnlyList<string> Crews);

/// <summary>Everybody on the list by name, those off it last. The person of the configuration's token is not among them.</summary>
public sealed class PeopleList(Desk desk)
{
    public Task<Outcome<PeopleOfThePlant>> Read(Actor actor, CancellationToken ct) =>
        desk.Read<PeopleOfThePlant>(actor, Roles.Administrator, async reading =>
        {
            var db = reading.Db;
            var people = await (
                from person in db.People
                where person.Name != Bootstrap.Name
                from account in db.Users.Where(a => a.PersonId == person.Id).DefaultIfEmpty()
                orderby !person.Active, person.Name
                select new PersonRow(
                    person.Id, person.Name, person.Roles, person.Crew, person.Active, person.Demo, person.PinHash != null,
                    account!.UserName, account!.PasswordHash != null,
                    db.SignInLinks.Where(l => l.PersonId == person.Id && l.SpentAt == null && l.ExpiresAt > reading.Now).Max(l => (DateTimeOffset?)l.ExpiresAt),
                    db.ApiTokens.Count(t => t.PersonId == person.Id && t.RevokedAt == null))).ToListAsync(reading.Ct);
            return new PeopleOfThePlant(people, await db.Crews.Select(c => c.Name).Order().ToListAsync(reading.Ct));
        }, ct);
}
