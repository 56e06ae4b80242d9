using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>Sees to it at start-up that the person exists for whom the token of the configuration acts.</summary>
public sealed class EnsureBootstrap(Desk desk)
{
    public Task<Outcome<PersonId>> Run(CancellationToken ct) => desk.WriteUnsigned<PersonId>(nameof(EnsureBootstrap), async work =>
    {
        var person = await Ensure(work, active: true);
        work.ActAs(Bootstrap.Actor(person.Id));
        work.Audit($"person {person.Name}", "The configuration sets a bootstrap token; it acts as this person.");
        return person.Id;
    }, ct);

    /// <param name="active">Null leaves an existing person as it is and makes a new one inactive.</param>
    internal static async Task<Person> Ensure(Work work, bool? active)
    {
        await work.Db.Database.ExecuteSqlAsync($"select pg_advisory_xact_lock(hashtext('bootstrap'))", work.Ct);
        var person = await work.Db.People.SingleOrDefaultAsync(p => p.Name == Bootstrap.Name, work.Ct);
        if (person is null)
            work.Db.People.Add(person = new Person { Name = Bootstrap.Name, Roles = Roles.All, Active = active ?? false });
        person.Roles = Roles.All;
        person.Active = active ?? person.Active;
        await work.Db.SaveChangesAsync(work.Ct);
        return person;
    }
}
