using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

public sealed record AuditRow(long Id, DateTimeOffset At, string Person, string Operation, string? Order, string Subject, string Sentence, string? Device);

public sealed record AuditPage(IReadOnlyList<AuditRow> Items, long? Next);

/// <summary>What to look for; all of it may be left out.</summary>
/// <param name="Text">Part of the subject or of the sentence.</param>
public sealed record AuditFilter(string? Person = null, string? Operation = null, string? Text = null);

/// <summary>Who did what, newest first, a page at a time. Pages keep their place while entries are added.</summary>
public sealed class AuditTrail(Desk desk)
{
    public const int MaxPageSize = 200;

    /// <param name="after">The last id of the page before; null for the newest.</param>
    public Task<Outcome<AuditPage>> Read(Actor actor, AuditFilter filter, long? after, int pageSize, CancellationToken ct) =>
        desk.Read<AuditPage>(actor, Roles.Administrator, async reading =>
        {
            var size = Math.Clamp(pageSize, 1, MaxPageSize);
            var entries =
                from entry in reading.Db.Audit
                join person in reading.Db.People on entry.PersonId equals person.Id
                from order in reading.Db.WorkOrders.Where(o => o.Id == entry.OrderId).DefaultIfEmpty()
                select new { entry, Person = person.Name, Order = order!.Number };
            if (after is { } last)
                entries = entries.Where(e => e.entry.Id < last);
            if (Blank.ToNone(filter.Person) is { } name)
                entries = entries.Where(e => e.Person == name);
            if (Blank.ToNone(filter.Operation) is { } operation)
                entries = entries.Where(e => e.entry.Operation == operation);
            if (Blank.ToNone(filter.Text) is { } text)
            {
                var like = Pattern.Holding(text);
                entries = entries.Where(e =>
                    EF.Functions.ILike(e.entry.Subject, like, Pattern.Escape)
                    || EF.Functions.ILike(e.entry.Sentence, like, Pattern.Escape)
                    || EF.Functions.ILike(e.Order!, like, Pattern.Escape));
            }
            var rows = await entries.OrderByDescending(e => e.entry.Id).Take(size + 1).Select(e => new AuditRow(
                e.entry.Id, e.entry.At, e.Person, e.entry.Operation, e.Order, e.entry.Subject, e.entry.Sentence, e.entry.Device)).ToListAsync(reading.Ct);
            return rows.Count > size ? new AuditPage(rows[..size], rows[size - 1].Id) : new AuditPage(rows, null);
        }, ct);
}
