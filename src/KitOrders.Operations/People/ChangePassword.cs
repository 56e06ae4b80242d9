using KitOrders.Rules;
using KitOrders.Rules.People;

namespace KitOrders.Operations.People;

/// <summary>A person changes their own password, knowing the old one. Every other session of theirs ends.</summary>
public sealed class ChangePassword(Desk desk)
{
    public Task<Outcome<Done>> Run(Call call, string current, string wanted, CancellationToken ct) =>
        desk.Write<Done>(call, Roles.All, nameof(ChangePassword), async work =>
        {
            if (await work.Account(work.Actor.Person) is not { PasswordHash: not null } account)
                return Refusal.Conflict("no-password", "You have no password here to change. Ask an administrator for a first-use link.");
            if (!Passwords.Matches(account.PasswordHash, current))
                return Refusal.Field("current", "password-wrong", "This is not your present password. Nothing was changed.");
            if (Passwords.Refuse(wanted, account.UserName, work.Actor.Name, work.Plant.Name) is { } refused)
                return refused;
            account.SetPassword(wanted);
            work.Audit($"person {work.Actor.Name}", "Changed their password; other sessions ended.");
            return Done.Value;
        }, ct);
}
