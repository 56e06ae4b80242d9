using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations;

/// <summary>What a read works with: the context, the plant's settings and the moment.</summary>
internal sealed record Reading(KitOrdersDb Db, PlantSettings Plant, DateTimeOffset Now, DateOnly Today, CancellationToken Ct);

/// <summary>What a write works with. It must leave at least one audit entry; forgetting is a bug that shows at once.</summary>
internal sealed class Work(KitOrdersDb db, PlantSettings plant, Call call, string operation, DateTimeOffset now, KitTrees trees, CancellationToken ct, Work? around = null)
{
    readonly HashSet<string> changed = [];
    readonly List<AuditEntry> trail = [];
    bool audited;

    /// <summary>The operation that the others run inside of.</summary>
    Work Root => around?.Root ?? this;

    public KitOrdersDb Db => db;
    public PlantSettings Plant => plant;
    public Call Call => call;
    public KitTrees Trees => trees;
    public Actor Actor { get; private set; } = call.Actor;
    public DateTimeOffset Now => now;
    public DateOnly Today { get; } = plant.DayOf(now);
    public CancellationToken Ct => ct;

    public Reading Reading => new(db, plant, now, Today, ct);

    /// <summary>
    /// Statements that go to the database with whatever is sent next: a reading of what they have done, or at the end of the
    /// operation its trail.
    /// </summary>
    public Trip Last { get; private set; } = new(db);

    /// <summary>Sends what waits, with what was asked beside it.</summary>
    public async Task Send()
    {
        var trip = Last;
        Last = new Trip(db);
        await trip.Send(ct);
    }

    /// <summary>Says who an unsigned write turned out to be done by.</summary>
    public void ActAs(Actor actor) => Actor = actor;

    /// <summary>Leaves the trace: who did what to what, when.</summary>
    public void Audit(string subject, string sentence, OrderId? order = null)
    {
        audited = true;
        Root.trail.Add(new AuditEntry
        {
            At = now,
            PersonId = Actor.Person,
            Operation = operation,
            OrderId = order,
            Subject = subject,
            Sentence = sentence,
            Device = Actor.Device,
        });
    }

    /// <summary>Says after the commit, on every screen, that this thing looks different now.</summary>
    public void Changed(string what) => Root.changed.Add(what);

    /// <summary>What looks different after the commit.</summary>
    public IReadOnlyCollection<string> WhatChanged => changed;

    /// <summary>Refuses when the caller was looking at an older version than the one that stands.</summary>
    public Refusal? SeenIsStale(long version) => call.SeenVersion is { } seen && seen != version ? Desk.ChangedMeanwhile : null;

    /// <summary>
    /// Writes what is left to write and commits, in one message: while it is on its way others wait for the parts that this
    /// write holds. Inside another operation the trail goes with that one's, and so does the commit.
    /// </summary>
    /// <param name="answer">The operation's answer, to be kept with the command that asked for it.</param>
    public async Task Complete(string? answer = null)
    {
        if (!audited)
            throw new InvalidOperationException($"{operation} left no audit entry.");
        if (db.ChangeTracker.HasChanges())
            await db.SaveChangesAsync(ct);
        if (around is null)
        {
            LeaveTrail(answer);
            Last.Tell("commit");
        }
        await Send();
    }

    /// <summary>The trail and the answer of the command, in one statement.</summary>
    void LeaveTrail(string? answer)
    {
        Last.With("trailAt", trail.Select(a => a.At).ToArray()).With("trailBy", trail.Select(a => a.PersonId.Value).ToArray())
            .With("trailDoing", trail.Select(a => a.Operation).ToArray()).With("trailOrders", trail.Select(a => a.OrderId?.Value).ToArray())
            .With("trailSubjects", trail.Select(a => a.Subject).ToArray()).With("trailSentences", trail.Select(a => a.Sentence).ToArray())
            .With("trailDevices", trail.Select(a => a.Device).ToArray());
        if (call.Key is { } key)
            Last.With("commandBy", call.Actor.Person.Value).With("commandKey", key.Key).With("commandAnswer", answer);
        Last.Tell($"""
            {(call.Key is null ? "" : Answered)}
            insert into audit (at, person_id, operation, order_id, subject, sentence, device)
            select at, person, operation, order_id, subject, sentence, device
            from unnest(@trailAt, @trailBy, @trailDoing, @trailOrders, @trailSubjects, @trailSentences, @trailDevices) with ordinality
                 t(at, person, operation, order_id, subject, sentence, device, n) order by n
            """);
    }

    const string Answered = "with answered as (update command set answer = @commandAnswer where person_id = @commandBy and key = @commandKey)";
}
