using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>
/// While the demo plant is loaded anybody may go on as one of its invented people, without a password. Nobody else can be
/// reached this way.
/// </summary>
public sealed class ContinueAs(Desk desk)
{
    /// <summary>Answers the account to sign in with.</summary>
    public Task<Outcome<int>> Run(PersonId id, string? device, CancellationToken ct) => desk.WriteUnsigned<int>(nameof(ContinueAs), async work =>
    {
        var person = await work.Db.People.FromSql($"select * from person where id = {id.Value} for update").SingleOrDefaultAsync(work.Ct);
        if (person is not { Demo: true, Active: true })
            return Refusal.NotAllowed("not-a-demo-person", "Only the invented people of the demo plant can be continued as. Sign in with your own name.");
        var account = await work.Account(id);
        if (account is null)
        {
            work.Db.Users.Add(account = UserNames.NewAccount(id));
            UserNames.Give(account, $"demo-{id.Value}");
            await work.Db.SaveChangesAsync(work.Ct);
        }
        work.ActAs(PersonActions.ActorOf(person, device));
        work.Audit($"person {person.Name}", "Somebody continued as this invented person of the demo plant.");
        return account.Id;
    }, ct);
}
