using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

public sealed record NewPerson(string Name, Roles Roles, string? Crew = null);

/// <summary>Puts a person on the list. To sign in, the person needs a first-use link as well.</summary>
public sealed class AddPerson(Desk desk)
{
    public Task<Outcome<PersonId>> Run(Call call, NewPerson command, CancellationToken ct) =>
        desk.Write<PersonId>(call, Roles.Administrator, nameof(AddPerson), async work =>
        {
            var name = command.Name.Trim();
            if (name.Length is 0 or > Person.NameMaxLength)
                return Refusal.Field("name", "name-refused", $"A name has 1 to {Person.NameMaxLength} characters.");
            if (Bootstrap.Is(name))
                return Bootstrap.Reserved;
            if (await work.Db.People.AnyAsync(p => EF.Functions.ILike(p.Name, Pattern.Exactly(name), Pattern.Escape), work.Ct))
                return Refusal.Conflict("name-taken", $"There is a person named {name} already. Tell the two apart, such as by a second name.");
            var crew = Blank.ToNone(command.Crew);
            if (crew is not null && !await work.Db.Crews.AnyAsync(c => c.Name == crew, work.Ct))
                return ChangePerson.UnknownCrew(crew);
            var person = new Person { Name = name, Roles = command.Roles & Roles.All, Crew = crew };
            work.Db.People.Add(person);
            await work.Db.SaveChangesAsync(work.Ct);
            work.Audit($"person {name}", $"Added with {ChangePerson.InWords(person.Roles)}.");
            work.Changed("people");
            return person.Id;
        }, ct);
}
