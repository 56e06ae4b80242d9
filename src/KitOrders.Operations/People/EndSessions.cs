using KitOrders.Rules;
using KitOrders.Rules.People;

namespace KitOrders.Operations.People;

/// <summary>Signs a person out everywhere: their own doing, or an administrator's for a lost tablet.</summary>
public sealed class EndSessions(Desk desk)
{
    public Task<Outcome<Done>> Run(Call call, PersonId id, CancellationToken ct) =>
        desk.Write<Done>(call, call.Actor.Person == id ? Roles.All : Roles.Administrator, nameof(EndSessions), async work =>
        {
            var found = await work.Person(id);
            if (!found.IsDone)
                return found.Refusal!;
            (await work.Account(id))?.EndSessions();
            work.Audit($"person {found.Value.Name}", "Signed out everywhere.");
            return Done.Value;
        }, ct);
}
