using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>Who a token acts for: one look-up by its hash, each call anew, so that a revoked token stops at once.</summary>
public sealed class TokenHolder(Desk desk)
{
    /// <summary>The person, or null for a token that is unknown, revoked, or of somebody off the list.</summary>
    public Task<Actor?> Read(string token, CancellationToken ct) => desk.Read(async reading =>
    {
        var hash = Secrets.Hash(token);
        var person = await (
            from kept in reading.Db.ApiTokens
            join holder in reading.Db.People on kept.PersonId equals holder.Id
            where kept.Hash == hash && kept.RevokedAt == null && holder.Active
            select holder).SingleOrDefaultAsync(reading.Ct);
        return person is null ? null : PersonActions.ActorOf(person, "token");
    }, ct);

    /// <summary>The person of the configuration's token.</summary>
    public Task<Actor?> ReadBootstrap(CancellationToken ct) => desk.Read(async reading =>
        await reading.Db.People.SingleOrDefaultAsync(p => p.Name == Bootstrap.Name && p.Active, reading.Ct) is { } person
            ? Bootstrap.Actor(person.Id, "token")
            : null, ct);
}
