using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>For whom a link stands, for the page that it opens.</summary>
public sealed record LinkHolder(string Name, string UserName);

/// <summary>The person at a first-use link sets a password of their own. The link works once; earlier sessions end.</summary>
public sealed class UseSignInLink(Desk desk)
{
    /// <summary>Whose link it is, or the refusal that also the use would get.</summary>
    public Task<Outcome<LinkHolder>> Holder(string secret, CancellationToken ct) => desk.Read<Outcome<LinkHolder>>(async reading =>
    {
        var hash = Secrets.Hash(secret);
        var holder = await (
            from link in reading.Db.SignInLinks
            join person in reading.Db.People on link.PersonId equals person.Id
            join account in reading.Db.Users on person.Id equals account.PersonId
            where link.Hash == hash && link.SpentAt == null && link.ExpiresAt > reading.Now && person.Active
            select new LinkHolder(person.Name, account.UserName!)).SingleOrDefaultAsync(reading.Ct);
        return holder is null ? PersonActions.LinkSpent : holder;
    }, ct);

    /// <summary>Answers the account to sign in with.</summary>
    public Task<Outcome<int>> Run(string secret, string password, string? device, CancellationToken ct) =>
        desk.WriteUnsigned<int>(nameof(UseSignInLink), async work =>
        {
            if (await work.GoodLink(secret) is not { PersonId: { } id } link || await work.Account(id) is not { } account)
                return PersonActions.LinkSpent;
            var person = (await work.Person(id)).Value;
            if (!person.Active)
                return PersonActions.LinkSpent;
            if (Passwords.Refuse(password, account.UserName, person.Name, work.Plant.Name) is { } refused)
                return refused;
            link.Spend(work.Now);
            account.SetPassword(password);
            work.ActAs(PersonActions.ActorOf(person, device));
            work.Audit($"person {person.Name}", "Set a password of their own through a first-use link.");
            work.Changed("people");
            return account.Id;
        }, ct);
}
