using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Storage.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

public sealed record NewSignIn(PersonId Person, string UserName);

/// <param name="Secret">What makes the link; shown once, kept only as a hash.</param>
public sealed record FirstUse(string Secret, DateTimeOffset Until);

/// <summary>
/// Gives a person a user name and a link that works once, with which they set a password of their own. Done again, it gives
/// a new link for a forgotten password; the old password holds until the link is used.
/// </summary>
public sealed class MakeSignIn(Desk desk)
{
    public Task<Outcome<FirstUse>> Run(Call call, NewSignIn command, CancellationToken ct) =>
        // The answer holds a secret, so it is never kept for a repeated call.
        desk.Write<FirstUse>(call with { Key = null }, Roles.Administrator, nameof(MakeSignIn), async work =>
        {
            var found = await work.Person(command.Person);
            if (!found.IsDone)
                return found.Refusal!;
            var person = found.Value;
            if (Bootstrap.Is(person.Name))
                return Bootstrap.Reserved;
            if (!person.Active)
                return Refusal.Conflict("person-inactive", $"{person.Name} is off the list. Take them back onto it first.");
            var userName = command.UserName.Trim();
            if (UserNames.Refuse(userName) is { } refused)
                return refused;
            if (await work.Db.Users.AnyAsync(a => a.NormalizedUserName == UserNames.Plain(userName) && a.PersonId != person.Id, work.Ct))
                return UserNames.Taken(userName);

            var account = await work.Account(person.Id);
            if (account is null)
                work.Db.Users.Add(account = UserNames.NewAccount(person.Id));
            UserNames.Give(account, userName);
            var secret = await work.NewLink(person.Id, SignInLink.Life);
            work.Audit($"person {person.Name}", $"Given the user name {userName} and a first-use link.");
            work.Changed("people");
            return new FirstUse(secret, work.Now + SignInLink.Life);
        }, ct);
}

/// <summary>The names by which people sign in.</summary>
static class UserNames
{
    public const int MaxLength = 50;

    public static Refusal? Refuse(string name) =>
        name.Length is >= 2 and <= MaxLength && name.All(c => char.IsLetterOrDigit(c) || c is '.' or '-' or '_' or '@' or '+')
            ? null
            : Refusal.Field("userName", "user-name-refused", $"A user name has 2 to {MaxLength} letters, digits or . - _ @ + and no space, such as i.valdorf.");

    public static Refusal Taken(string name) => Refusal.Field("userName", "user-name-taken", $"The user name {name} belongs to somebody else. Choose another.");

    /// <summary>As sign-in compares names: without regard to case.</summary>
    public static string Plain(string name) => name.Normalize().ToUpperInvariant();

    public static Account NewAccount(PersonId person) => new() { PersonId = person, LockoutEnabled = true, SecurityStamp = Secrets.Stamp() };

    public static void Give(Account account, string name)
    {
        account.UserName = name;
        account.NormalizedUserName = Plain(name);
        account.ConcurrencyStamp = Secrets.Stamp();
    }
}
