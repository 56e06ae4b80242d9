using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

public sealed record TokenRow(int Id, string Label, string Person, DateTimeOffset MadeAt, DateTimeOffset? RevokedAt);

/// <summary>The tokens that work first, then those revoked, newest first in each.</summary>
public sealed class TokensList(Desk desk)
{
    public Task<Outcome<IReadOnlyList<TokenRow>>> Read(Actor actor, CancellationToken ct) =>
        desk.Read<IReadOnlyList<TokenRow>>(actor, Roles.Administrator, async reading => await (
            from token in reading.Db.ApiTokens
            join person in reading.Db.People on token.PersonId equals person.Id
            orderby token.RevokedAt != null, token.Id descending
            select new TokenRow(token.Id, token.Label, person.Name, token.MadeAt, token.RevokedAt)).ToListAsync(reading.Ct), ct);
}
