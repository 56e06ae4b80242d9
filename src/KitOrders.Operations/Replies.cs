using KitOrders.Rules;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations;

/// <summary>
/// The replies that were sent to commands, so that the same command again hears the very same words. The effect of a command
/// stands in its own transaction whether or not its reply was kept; a reply that was lost is read anew.
/// </summary>
public sealed class Replies(Desk desk)
{
    /// <summary>How long a key is known, in days.</summary>
    public const int KeptDays = 90;

    /// <summary>The reply kept under the key; null when there is none; refused when the key named another command.</summary>
    public Task<Outcome<string?>> Find(Actor actor, CommandKey key, CancellationToken ct) => desk.Read<Outcome<string?>>(async reading =>
    {
        var kept = await reading.Db.Commands.Where(c => c.PersonId == actor.Person && c.Key == key.Key)
            .Select(c => new { c.BodyHash, c.Reply }).SingleOrDefaultAsync(ct);
        return kept is not null && kept.BodyHash != key.BodyHash ? Desk.KeyReused(key.Key) : kept?.Reply;
    }, ct);

    /// <summary>Keeps the reply with the command it answers; a command that is not known any more keeps none.</summary>
    public Task Keep(Actor actor, CommandKey key, string reply, CancellationToken ct) => desk.Read(reading =>
        reading.Db.Commands.Where(c => c.PersonId == actor.Person && c.Key == key.Key && c.BodyHash == key.BodyHash)
            .ExecuteUpdateAsync(set => set.SetProperty(c => c.Reply, c => c.Reply ?? reply), ct), ct);
}
