using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>File <c>people</c>: who works here, with which roles. Roles are power over the plant, so administrators only.</summary>
static class ImportPeople
{
    public static readonly ImportSpec Spec = new("people", Roles.Administrator, "name* roles* crew", "name", Run, Export: ExportPeople.People)
    {
        Readers = Roles.Administrator,
    };

    static async Task Run(ImportRun run)
    {
        // Names differ by more than capitals, so that nobody signs for somebody else.
        var recorded = await run.Db.People.ToDictionaryAsync(p => p.Name, StringComparer.OrdinalIgnoreCase, run.Ct);
        var crews = await run.Db.Crews.Select(c => c.Name).ToHashSetAsync(run.Ct);
        var administrators = await run.Work.Reading.Administrators().Select(p => p.Name).ToListAsync(run.Ct);
        foreach (var row in run.Rows())
        {
            var name = row.NeedText("name", Person.NameMaxLength);
            var roles = RolesOf(row);
            if (Bootstrap.Is(name))
                row.Refuse("name", Bootstrap.Reserved.Sentence);
            if (recorded.TryGetValue(name, out var person))
            {
                if (person.Name != name)
                    row.Refuse("name", $"There is a person named {person.Name} already. Write the name the same way, or tell the two apart.");
                person.Roles = roles;
            }
            else
            {
                run.Db.Add(person = new Person { Name = name, Roles = roles });
                recorded.TryAdd(name, person);
            }
            person.Crew = ImportCrews.Named(run, row, crews, person.Crew);
        }
        if (administrators.Count > 0 && administrators.TrueForAll(a => !recorded[a].Roles.HasFlag(Roles.Administrator)))
            run.Table.Errors.Add(0, "roles", "Nobody who can sign in would be administrator any more. Leave the role with one of them.");
    }

    static Roles RolesOf(CsvRow row)
    {
        var text = row.NeedText("roles", 200);
        if (text.Length > 0 && (!RoleText.TryRead(text, out var roles) || roles == Roles.None))
        {
            row.Refuse("roles", $"\"{text}\" names no roles. Join them by \"+\": {string.Join("+", RoleText.Each(Roles.All).Select(r => Rules.Word.Of(r)))}.");
            return Roles.None;
        }
        return text.Length == 0 ? Roles.None : RoleText.Read(text);
    }
}
