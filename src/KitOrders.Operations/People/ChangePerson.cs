using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

public sealed record PersonChange(PersonId Person, Roles Roles, string? Crew, bool Active);

/// <summary>
/// Gives and takes roles, crew and standing. Whoever is put off the list is out at once: what they try next is refused,
/// their sessions end and their tokens are revoked.
/// </summary>
public sealed class ChangePerson(Desk desk)
{
    public Task<Outcome<Done>> Run(Call call, PersonChange command, CancellationToken ct) =>
        desk.Write<Done>(call, Roles.Administrator, nameof(ChangePerson), async work =>
        {
            var found = await work.Person(command.Person);
            if (!found.IsDone)
                return found.Refusal!;
            var person = found.Value;
            if (Bootstrap.Is(person.Name))
                return Bootstrap.Reserved;
            var roles = command.Roles & Roles.All;
            var crew = Blank.ToNone(command.Crew);
            if (crew is not null && crew != person.Crew && !await work.Db.Crews.AnyAsync(c => c.Name == crew, work.Ct))
                return UnknownCrew(crew);
            var stepsDown = person.Active && person.Roles.HasFlag(Roles.Administrator) && !(command.Active && roles.HasFlag(Roles.Administrator));
            if (stepsDown && !await work.AnotherAdministratorStands(person.Id))
                return Refusal.Conflict("last-administrator",
                    $"{person.Name} is the last administrator who can sign in. Give the role to somebody else who can sign in, then take it away here.");

            List<string> said = [];
            if (roles != person.Roles)
                said.Add($"roles {InWords(person.Roles)} became {InWords(roles)}");
            if (crew != person.Crew)
                said.Add($"crew {person.Crew ?? "none"} became {crew ?? "none"}");
            if (command.Active != person.Active)
                said.Add(command.Active ? "taken back onto the list" : "put off the list; sessions ended, tokens revoked");
            if (!command.Active && person.Active)
                await PutOff(work, person);
            (person.Roles, person.Crew, person.Active) = (roles, crew, command.Active);
            work.Audit($"person {person.Name}", said.Count == 0 ? "Saved without a change." : Sentence(string.Join("; ", said)));
            work.Changed("people");
            return Done.Value;
        }, ct);

    static async Task PutOff(Work work, Person person)
    {
        (await work.Account(person.Id))?.EndSessions();
        foreach (var token in await work.Db.ApiTokens.Where(t => t.PersonId == person.Id && t.RevokedAt == null).ToListAsync(work.Ct))
            token.Revoke(work.Now);
        foreach (var link in await work.Db.SignInLinks.Where(l => l.PersonId == person.Id && l.SpentAt == null).ToListAsync(work.Ct))
            link.Spend(work.Now);
    }

    internal static Refusal UnknownCrew(string crew) =>
        Refusal.Field("crew", "crew-unknown", $"There is no crew '{crew}'. Choose one of the list, or import the crew first.");

    internal static string InWords(Roles roles) => roles == Roles.None ? "no role" : RoleText.Of(roles);

    static string Sentence(string text) => char.ToUpperInvariant(text[0]) + text[1..] + ".";
}
