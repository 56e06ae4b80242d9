using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Storage.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>What several operations on people do in the same way.</summary>
static class PersonActions
{
    public static async Task<Outcome<Person>> Person(this Work work, PersonId id)
    {
        var person = await work.Db.People.SingleOrDefaultAsync(p => p.Id == id, work.Ct);
        if (person is null)
            return Unknown(id.ToString());
        return person;
    }

    public static Task<Account?> Account(this Work work, PersonId id) =>
        work.Db.Users.SingleOrDefaultAsync(a => a.PersonId == id, work.Ct);

    /// <summary>Ends every session of the person: at the next look of each page, a minute later at the latest.</summary>
    public static void EndSessions(this Account account)
    {
        account.SecurityStamp = Secrets.Stamp();
        account.ConcurrencyStamp = Secrets.Stamp();
    }

    public static void SetPassword(this Account account, string password)
    {
        account.PasswordHash = Passwords.Hash(password);
        account.AccessFailedCount = 0;
        account.LockoutEnd = null;
        account.EndSessions();
    }

    /// <summary>Takes the place of every earlier link of the same person that still stands.</summary>
    public static async Task<string> NewLink(this Work work, PersonId? person, TimeSpan life)
    {
        foreach (var earlier in await work.Db.SignInLinks.Where(l => l.PersonId == person && l.SpentAt == null).ToListAsync(work.Ct))
            earlier.Spend(work.Now);
        var secret = Secrets.New();
        work.Db.SignInLinks.Add(new SignInLink
        {
            PersonId = person, Hash = Secrets.Hash(secret), MadeAt = work.Now, ExpiresAt = work.Now + life,
        });
        return secret;
    }

    /// <summary>The link to this secret if it can be used now; locked, so that two uses at once cannot both succeed.</summary>
    public static async Task<SignInLink?> GoodLink(this Work work, string secret)
    {
        var hash = Secrets.Hash(secret);
        var link = await work.Db.SignInLinks.FromSql($"select * from sign_in_link where hash = {hash} for update").SingleOrDefaultAsync(work.Ct);
        return link?.IsGood(work.Now) == true ? link : null;
    }

    /// <summary>Whether somebody else who can sign in looks after people and roles.</summary>
    public static async Task<bool> AnotherAdministratorStands(this Work work, PersonId without)
    {
        // Held against a second administrator who steps down in the same moment.
        await work.Db.Database.ExecuteSqlAsync($"select pg_advisory_xact_lock(hashtext('administrators'))", work.Ct);
        return await Administrators(work.Reading).AnyAsync(p => p.Id != without, work.Ct);
    }

    /// <summary>The people who are in place to administer: active, with the role, and with a way to sign in.</summary>
    public static IQueryable<Person> Administrators(this Reading reading) =>
        from person in reading.Db.People.FromSql($"select * from person where '+' || roles || '+' like '%+administrator+%'")
        where person.Active && person.Name != Bootstrap.Name
            && (person.Demo || reading.Db.Users.Any(a => a.PersonId == person.Id && a.PasswordHash != null))
        select person;

    public static Actor ActorOf(Person person, string? device = null) => new(person.Id, person.Name, person.Roles, device);

    public static Refusal Unknown(string who) => Refusal.NotFound("person-unknown", $"There is no person {who}. Look at the list of people again.");

    public static readonly Refusal LinkSpent = Refusal.NotFound("link-spent",
        "This link was used before, is too old, or a newer one took its place. Ask your administrator for a new one.");
}
