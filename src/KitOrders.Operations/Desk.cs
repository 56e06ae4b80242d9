using System.Text.Json;
using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Storage;
using KitOrders.Storage.People;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace KitOrders.Operations;

/// <summary>
/// What every operation calls, and the only thing: permission, transaction, idempotency, audit and the sentence for a
/// conflict, in one place that can be read from top to bottom. An operation reads, asks a rule and writes inside
/// <see cref="Write{T}"/>; a read goes through <see cref="Read{T}"/>.
/// </summary>
public sealed class Desk
{
    const int Tries = 4;

    readonly IDbContextFactory<KitOrdersDb>? factory;
    readonly Work? outer;
    readonly TimeProvider clock;

    internal Desk(IDbContextFactory<KitOrdersDb> factory, TimeProvider clock)
    {
        this.factory = factory;
        this.clock = clock;
    }

    Desk(Work outer, TimeProvider clock)
    {
        this.outer = outer;
        this.clock = clock;
    }

    /// <summary>
    /// A desk whose writes run inside the caller's transaction, at the caller's time: for files whose rows each run an
    /// operation and which are written as a whole or not at all.
    /// </summary>
    internal static Desk Inside(Work outer, TimeProvider clock) => new(outer, clock);

    /// <summary>Runs one write. It either happens as a whole, with its audit entry, or not at all.</summary>
    internal async Task<Outcome<T>> Write<T>(Call call, Roles allowed, string operation, Func<Work, Task<Outcome<T>>> body, CancellationToken ct)
    {
        if (!call.Actor.Holds(allowed))
            return NotAllowed(call.Actor, allowed);
        if (outer is not null)
            return await WriteInside(outer, call, allowed, operation, body, ct);
        return await Tried(() => WriteOnce(call, allowed, operation, body, ct));
    }

    /// <summary>
    /// A write before anybody is signed in: the house's own first steps, and a person at a link of theirs. The body finds
    /// out who it is and says so with <see cref="Work.ActAs"/>.
    /// </summary>
    internal Task<Outcome<T>> WriteUnsigned<T>(string operation, Func<Work, Task<Outcome<T>>> body, CancellationToken ct) =>
        Tried<T>(async () =>
        {
            await using var db = await factory!.CreateDbContextAsync(ct);
            await using var transaction = await db.Database.BeginTransactionAsync(ct);
            var work = new Work(db, await Plant(db, ct), new Call(Nobody), operation, clock.GetUtcNow(), ct);
            var outcome = await body(work);
            if (!outcome.IsDone)
                return outcome;
            await work.Complete();
            await transaction.CommitAsync(ct);
            return outcome;
        });

    static readonly Actor Nobody = new(default, "nobody", Roles.None);

    static async Task<Outcome<T>> Tried<T>(Func<Task<Outcome<T>>> write)
    {
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                return await write();
            }
            catch (Exception e) when (IsPassing(e) && attempt < Tries)
            {
                // Serialisation, deadlock or lock time-out: nothing was written, so the whole operation may run again.
            }
            catch (Exception e) when (Conflict(e) is { } refusal)
            {
                return refusal;
            }
        }
    }

    /// <summary>Runs one read with a context of its own.</summary>
    internal async Task<T> Read<T>(Func<Reading, Task<T>> body, CancellationToken ct)
    {
        if (outer is not null)
            return await body(outer.Reading with { Now = clock.GetUtcNow(), Today = outer.Plant.DayOf(clock.GetUtcNow()), Ct = ct });
        await using var db = await factory!.CreateDbContextAsync(ct);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        return await body(await ReadingOf(db, ct));
    }

    /// <summary>As <see cref="Read{T}"/>, for what not everybody may see.</summary>
    internal async Task<Outcome<T>> Read<T>(Actor actor, Roles allowed, Func<Reading, Task<Outcome<T>>> body, CancellationToken ct) =>
        actor.Holds(allowed) ? await Read(body, ct) : NotAllowed(actor, allowed);

    async Task<Reading> ReadingOf(KitOrdersDb db, CancellationToken ct)
    {
        var plant = await Plant(db, ct);
        var now = clock.GetUtcNow();
        return new Reading(db, plant, now, plant.DayOf(now), ct);
    }

    async Task<Outcome<T>> WriteOnce<T>(Call call, Roles allowed, string operation, Func<Work, Task<Outcome<T>>> body, CancellationToken ct)
    {
        await using var db = await factory!.CreateDbContextAsync(ct);
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        if (await StillAllowed(db, call.Actor, allowed, ct) is { } refused)
            return refused;
        var command = call.Key is { } key ? await Claim(db, call.Actor, key, operation, ct) : null;
        if (command is { Replayed: true })
            return Replay<T>(command.Value.Record, call.Key!);
        var plant = await Plant(db, ct);
        var work = new Work(db, plant, call, operation, clock.GetUtcNow(), ct);
        var outcome = await body(work);
        if (!outcome.IsDone)
            return outcome;
        if (command is { } claimed)
        {
            db.Attach(claimed.Record);
            claimed.Record.Answer = JsonSerializer.Serialize(outcome.Value, Json.Options);
        }
        await work.Complete();
        await transaction.CommitAsync(ct);
        return outcome;
    }

    async Task<Outcome<T>> WriteInside<T>(Work around, Call call, Roles allowed, string operation, Func<Work, Task<Outcome<T>>> body, CancellationToken ct)
    {
        if (!call.Actor.Holds(allowed))
            return NotAllowed(call.Actor, allowed);
        var work = new Work(around.Db, around.Plant, call, operation, clock.GetUtcNow(), ct, around);
        var outcome = await body(work);
        if (outcome.IsDone)
            await work.Complete();
        around.Db.ChangeTracker.Clear();
        return outcome;
    }

    /// <summary>The role is asked of the record, not only of the sign-in: whoever was put off the list stops at once.</summary>
    static async Task<Refusal?> StillAllowed(KitOrdersDb db, Actor actor, Roles allowed, CancellationToken ct)
    {
        var person = await db.People.AsNoTracking().Where(p => p.Id == actor.Person)
            .Select(p => new { p.Active, p.Roles }).SingleOrDefaultAsync(ct);
        return person is { Active: true } && (person.Roles & allowed) != 0 ? null : NotAllowed(actor, allowed);
    }

    async Task<(CommandRecord Record, bool Replayed)?> Claim(KitOrdersDb db, Actor actor, CommandKey key, string operation, CancellationToken ct)
    {
        var record = new CommandRecord
        {
            PersonId = actor.Person, Key = key.Key, Operation = operation, BodyHash = key.BodyHash, At = clock.GetUtcNow(),
        };
        // Waits for another call under the same key to end; then either it stands, or this one goes first.
        var claimed = await db.Database.ExecuteSqlAsync($"""
            insert into command (person_id, key, operation, body_hash, at)
            values ({record.PersonId.Value}, {record.Key}, {record.Operation}, {record.BodyHash}, {record.At})
            on conflict do nothing
            """, ct);
        if (claimed == 1)
            return (record, false);
        return (await db.Commands.AsNoTracking().SingleAsync(c => c.PersonId == actor.Person && c.Key == key.Key, ct), true);
    }

    static Outcome<T> Replay<T>(CommandRecord record, CommandKey key) => record.BodyHash == key.BodyHash
        ? JsonSerializer.Deserialize<T>(record.Answer!, Json.Options)!
        : KeyReused(key.Key);

    internal static Refusal KeyReused(string key) => Refusal.Invalid("idempotency-key-reused",
        $"The key '{key}' was used for another command before. Nothing was done; send this one under a new key.");

    static async Task<PlantSettings> Plant(KitOrdersDb db, CancellationToken ct) =>
        PlantSettings.From(await db.PlantSettings.AsNoTracking().ToDictionaryAsync(s => s.Key, s => s.Value, ct));

    static Refusal NotAllowed(Actor actor, Roles allowed) => Refusal.NotAllowed("not-allowed",
        $"{actor.Name} may not do this. It needs the role {string.Join(" or ", RoleText.Each(allowed).Select(r => Word.Of(r)))}; an administrator can give it.");

    static bool IsPassing(Exception e) => Postgres(e)?.SqlState is
        PostgresErrorCodes.SerializationFailure or PostgresErrorCodes.DeadlockDetected or PostgresErrorCodes.LockNotAvailable;

    static Refusal? Conflict(Exception e)
    {
        if (e is DbUpdateConcurrencyException)
            return ChangedMeanwhile;
        return Postgres(e) switch
        {
            { SqlState: PostgresErrorCodes.UniqueViolation } => Refusal.Conflict("already-there",
                "Somebody else recorded the same thing a moment ago. Nothing was changed by you; load again and see what is true now."),
            { SqlState: PostgresErrorCodes.CheckViolation, ConstraintName: "reserved_within_on_hand" or "on_hand_not_negative" } =>
                Refusal.Conflict("not-enough-stock", "The bin does not hold that much free stock any more. Nothing was changed; load again and see what it holds."),
            // The last gate for what no rule looked at: the columns' own limits.
            { SqlState: PostgresErrorCodes.NumericValueOutOfRange } => Refusal.Invalid("number-out-of-range",
                "A number is larger than can be kept (14 digits before the point, 4 behind it). Nothing was changed; correct it."),
            { SqlState: PostgresErrorCodes.StringDataRightTruncation } => Refusal.Invalid("text-too-long",
                "A text is longer than can be kept. Nothing was changed; shorten it."),
            { SqlState: PostgresErrorCodes.CharacterNotInRepertoire or PostgresErrorCodes.UntranslatableCharacter } => Refusal.Invalid("text-unreadable",
                "A text holds a character that cannot be kept. Nothing was changed; take it out."),
            _ when e is OverflowException || e.InnerException is OverflowException => Refusal.Invalid("number-out-of-range",
                "A number is larger than can be kept. Nothing was changed; correct it."),
            _ when IsPassing(e) => Refusal.Conflict("busy", "Many people are working on the same parts. Nothing was changed; try once more."),
            _ => null,
        };
    }

    internal static readonly Refusal ChangedMeanwhile = Refusal.Conflict("changed-meanwhile",
        "Somebody changed this since you looked. Nothing of yours was written; load again, then decide.");

    static PostgresException? Postgres(Exception e) => e as PostgresException ?? e.InnerException as PostgresException;
}
