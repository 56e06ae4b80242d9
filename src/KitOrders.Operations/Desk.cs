using System.Text.Json;
using KitOrders.Operations.Kits;
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
    readonly KitTrees trees = new();
    readonly Announcements? announcements;

    internal Desk(IDbContextFactory<KitOrdersDb> factory, TimeProvider clock)
    {
        this.factory = factory;
        announcements = new Announcements(factory);
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
    internal Task<Outcome<T>> Write<T>(Call call, Roles allowed, string operation, Func<Work, Task<Outcome<T>>> body, CancellationToken ct) =>
        Write<T, int>(call, allowed, operation, _ => () => 0, (work, _) => body(work), ct);

    /// <summary>As above, with what the operation asks first: it travels with the beginning of the write.</summary>
    internal async Task<Outcome<T>> Write<T, TFirst>(
        Call call, Roles allowed, string operation, Func<Trip, Func<TFirst>> ask, Func<Work, TFirst, Task<Outcome<T>>> body, CancellationToken ct)
    {
        if (!call.Actor.Holds(allowed))
            return NotAllowed(call.Actor, allowed);
        if (outer is not null)
            return await WriteInside(outer, call, operation, ask, body, ct);
        return await Tried(() => WriteOnce(call, allowed, operation, ask, body, ct));
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
            var work = new Work(db, await Plant(db, ct), new Call(Nobody), operation, clock.GetUtcNow(), trees, ct);
            var outcome = await body(work);
            if (!outcome.IsDone)
                return outcome;
            await work.Complete();
                announcements!.Say(work.WhatChanged);
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
                // Serialisation, deadlock, lock time-out or a new kit revision: nothing was written, so the whole operation may run again.
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

    async Task<Outcome<T>> WriteOnce<T, TFirst>(
        Call call, Roles allowed, string operation, Func<Trip, Func<TFirst>> ask, Func<Work, TFirst, Task<Outcome<T>>> body, CancellationToken ct)
    {
        await using var db = await factory!.CreateDbContextAsync(ct);
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        var now = clock.GetUtcNow();
        var trip = new Trip(db);
        var begin = AskBeginning(trip, call, operation, now);
        var first = ask(trip);
        await trip.Send(ct);
        var begun = begin(allowed);
        if (!begun.Allowed)
            return NotAllowed(call.Actor, allowed);
        if (!begun.Claimed)
            return await Replay<T>(db, call.Actor, call.Key!, ct);
        var work = new Work(db, begun.Plant, call, operation, now, trees, ct);
        var outcome = await body(work, first());
        if (!outcome.IsDone)
            return outcome;
        await work.Complete(call.Key is null ? null : JsonSerializer.Serialize(outcome.Value, Json.Options));
        announcements!.Say(work.WhatChanged);
        return outcome;
    }

    async Task<Outcome<T>> WriteInside<T, TFirst>(
        Work around, Call call, string operation, Func<Trip, Func<TFirst>> ask, Func<Work, TFirst, Task<Outcome<T>>> body, CancellationToken ct)
    {
        var trip = new Trip(around.Db);
        var first = ask(trip);
        await trip.Send(ct);
        var work = new Work(around.Db, around.Plant, call, operation, clock.GetUtcNow(), around.Trees, ct, around);
        var outcome = await body(work, first());
        if (outcome.IsDone)
            await work.Complete();
        around.Db.ChangeTracker.Clear();
        return outcome;
    }

    /// <summary>
    /// What every write begins with, in one message: the role, which is asked of the record and not only of the sign-in, so
    /// that whoever was put off the list stops at once; the plant's settings; and the claim of the command's key, which waits
    /// for another call under the same key to end. Then either that one stands, or this one goes first.
    /// </summary>
    static Func<Roles, (bool Allowed, bool Claimed, PlantSettings Plant)> AskBeginning(Trip trip, Call call, string operation, DateTimeOffset now)
    {
        trip.With("actor", call.Actor.Person.Value);
        // Refused outside a transaction: should the beginning of it fail on the way, nothing that follows may stand alone.
        trip.Tell("lock table command in row exclusive mode");
        if (call.Key is { } key)
            trip.With("key", key.Key).With("operation", operation).With("bodyHash", key.BodyHash).With("now", now);
        var rows = trip.Ask($"""
            {(call.Key is null ? "with claim as (select true)" : Claim)}
            select (select roles from person where id = @actor and active), exists (select from claim),
                   array(select key from plant_setting order by key), array(select value from plant_setting order by key)
            """, row => (Roles: row.Text(0), Claimed: row.GetBoolean(1), Keys: row.GetFieldValue<string[]>(2), Values: row.GetFieldValue<string[]>(3)));
        return allowed => rows.Rows[0] is var begun && begun.Roles is { } roles && (RoleText.Read(roles) & allowed) != 0
            ? (true, begun.Claimed, PlantSettings.From(begun.Keys.Zip(begun.Values).ToDictionary(s => s.First, s => s.Second)))
            : (false, false, new PlantSettings());
    }

    const string Claim = """
        with claim as (
          insert into command (person_id, key, operation, body_hash, at) values (@actor, @key, @operation, @bodyHash, @now)
          on conflict do nothing returning true
        )
        """;

    static async Task<Outcome<T>> Replay<T>(KitOrdersDb db, Actor actor, CommandKey key, CancellationToken ct)
    {
        var record = await db.Commands.AsNoTracking().SingleAsync(c => c.PersonId == actor.Person && c.Key == key.Key, ct);
        return record.BodyHash == key.BodyHash ? JsonSerializer.Deserialize<T>(record.Answer!, Json.Options)! : KeyReused(key.Key);
    }

    internal static Refusal KeyReused(string key) => Refusal.Invalid("idempotency-key-reused",
        $"The key '{key}' was used for another command before. Nothing was done; send this one under a new key.");

    static async Task<PlantSettings> Plant(KitOrdersDb db, CancellationToken ct) =>
        PlantSettings.From(await db.PlantSettings.AsNoTracking().ToDictionaryAsync(s => s.Key, s => s.Value, ct));

    static Refusal NotAllowed(Actor actor, Roles allowed) => Refusal.NotAllowed("not-allowed",
        $"{actor.Name} may not do this. It needs the role {string.Join(" or ", RoleText.Each(allowed).Select(r => Word.Of(r)))}; an administrator can give it.");

    static bool IsPassing(Exception e) => e is TreeMoved || Postgres(e)?.SqlState is
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
