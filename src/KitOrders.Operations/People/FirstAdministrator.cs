using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

public sealed record NewAdministrator(string Name, string UserName, string Password);

/// <summary>
/// The way into a plant that has nobody yet: a link that works once, printed by the program at its start, lets one person
/// in as administrator. There is no password to begin with.
/// </summary>
public sealed class FirstAdministrator(Desk desk)
{
    /// <summary>The link is printed anew at every start, so it may live as long as a machine runs unattended.</summary>
    static readonly TimeSpan life = TimeSpan.FromDays(7);

    static readonly Refusal notNeeded = Refusal.Conflict("administrator-stands",
        "This plant has an administrator. Ask them for a first-use link.");

    public Task<bool> IsNeeded(CancellationToken ct) => desk.Read(async reading => !await reading.Administrators().AnyAsync(reading.Ct), ct);

    /// <summary>Makes the secret of a new link; earlier ones stop working. Refused while an administrator stands.</summary>
    public Task<Outcome<string>> MakeLink(CancellationToken ct) => desk.WriteUnsigned<string>(nameof(FirstAdministrator), async work =>
    {
        if (await work.Reading.Administrators().AnyAsync(work.Ct))
            return notNeeded;
        var house = await EnsureBootstrap.Ensure(work, active: null);
        var secret = await work.NewLink(null, life);
        work.ActAs(Bootstrap.Actor(house.Id));
        work.Audit("first administrator", "A set-up link was printed at the start.");
        return secret;
    }, ct);

    public Task<bool> IsGood(string secret, CancellationToken ct) => desk.Read(async reading =>
    {
        var hash = Secrets.Hash(secret);
        return await reading.Db.SignInLinks.AnyAsync(l => l.Hash == hash && l.PersonId == null && l.SpentAt == null && l.ExpiresAt > reading.Now, reading.Ct)
            && !await reading.Administrators().AnyAsync(reading.Ct);
    }, ct);

    /// <summary>Answers the account to sign in with.</summary>
    public Task<Outcome<int>> Run(string secret, NewAdministrator command, string? device, CancellationToken ct) =>
        desk.WriteUnsigned<int>(nameof(FirstAdministrator), async work =>
        {
            if (await work.GoodLink(secret) is not { PersonId: null } link)
                return PersonActions.LinkSpent;
            if (await work.AnotherAdministratorStands(default))
                return notNeeded;
            var (name, userName) = (command.Name.Trim(), command.UserName.Trim());
            if (name.Length is 0 or > Person.NameMaxLength || Bootstrap.Is(name))
                return Refusal.Field("name", "name-refused", $"Your name has 1 to {Person.NameMaxLength} characters and is not '{Bootstrap.Name}'.");
            if (UserNames.Refuse(userName) is { } no)
                return no;
            if (Passwords.Refuse(command.Password, userName, name, work.Plant.Name) is { } refused)
                return refused;

            var person = await work.Db.People.SingleOrDefaultAsync(p => p.Name == name, work.Ct);
            if (person is null)
                work.Db.People.Add(person = new Person { Name = name, Roles = Roles.Administrator });
            (person.Roles, person.Active) = (person.Roles | Roles.Administrator, true);
            await work.Db.SaveChangesAsync(work.Ct);
            if (await work.Db.Users.AnyAsync(a => a.NormalizedUserName == UserNames.Plain(userName) && a.PersonId != person.Id, work.Ct))
                return UserNames.Taken(userName);
            var account = await work.Account(person.Id);
            if (account is null)
                work.Db.Users.Add(account = UserNames.NewAccount(person.Id));
            UserNames.Give(account, userName);
            account.SetPassword(command.Password);
            link.Spend(work.Now);
            await work.Db.SaveChangesAsync(work.Ct);
            work.ActAs(PersonActions.ActorOf(person, device));
            work.Audit($"person {name}", "Came in as the first administrator through the set-up link.");
            work.Changed("people");
            return account.Id;
        }, ct);
}
