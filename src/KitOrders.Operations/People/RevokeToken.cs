using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>A revoked token is refused from the next call on, and stays on the list. Doing it twice changes nothing.</summary>
public sealed class RevokeToken(Desk desk)
{
    public Task<Outcome<Done>> Run(Call call, int id, CancellationToken ct) =>
        desk.Write<Done>(call, Roles.Administrator, nameof(RevokeToken), async work =>
        {
            var token = await work.Db.ApiTokens.SingleOrDefaultAsync(t => t.Id == id, work.Ct);
            if (token is null)
                return Refusal.NotFound("token-unknown", "There is no such token. Look at the list again.");
            var person = (await work.Person(token.PersonId)).Value;
            token.Revoke(work.Now);
            work.Audit($"token '{token.Label}' of {person.Name}", "Revoked.");
            work.Changed("tokens");
            return Done.Value;
        }, ct);
}
