using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations;

/// <summary>What a read works with: the context, the plant's settings and the moment.</summary>
internal sealed record Reading(KitOrdersDb Db, PlantSettings Plant, DateTimeOffset Now, DateOnly Today, CancellationToken Ct);

/// <summary>What a write works with. It must leave at least one audit entry; forgetting is a bug that shows at once.</summary>
internal sealed class Work(KitOrdersDb db, PlantSettings plant, Call call, string operation, DateTimeOffset now, CancellationToken ct, Work? around = null)
{
    readonly HashSet<string> changed = [];
    bool audited;

    public KitOrdersDb Db => db;
    public PlantSettings Plant => plant;
    public Call Call => call;
    public Actor Actor { get; private set; } = call.Actor;
    public DateTimeOffset Now => now;
    public DateOnly Today { get; } = plant.DayOf(now);
    public CancellationToken Ct => ct;

    public Reading Reading => new(db, plant, now, Today, ct);

    /// <summary>Says who an unsigned write turned out to be done by.</summary>
    public void ActAs(Actor actor) => Actor = actor;

    /// <summary>Leaves the trace: who did what to what, when.</summary>
    public void Audit(string subject, string sentence, OrderId? order = null)
    {
        audited = true;
        db.Audit.Add(new AuditEntry
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
    public void Changed(string what) => (around?.changed ?? changed).Add(what);

    /// <summary>Refuses when the caller was looking at an older version than the one that stands.</summary>
    public Refusal? SeenIsStale(long version) => call.SeenVersion is { } seen && seen != version ? Desk.ChangedMeanwhile : null;

    public async Task Complete()
    {
        if (!audited)
            throw new InvalidOperationException($"{operation} left no audit entry.");
        await db.SaveChangesAsync(ct);
        if (changed.Count > 0)
        {
            // Delivered by PostgreSQL when the transaction commits, and not at all if it does not.
            var payload = string.Join('\n', changed.Order(StringComparer.Ordinal));
            await db.Database.ExecuteSqlAsync($"select pg_notify('kitorders', left({payload}, 7000))", ct);
        }
    }
}
