using System.Globalization;
using KitOrders.Rules;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <param name="Quantity">Signed: what came is positive.</param>
/// <param name="OnHandAfter">What the bin holds of the lot afterwards.</param>
/// <param name="Corrects">The movement that this one corrects.</param>
public sealed record MovementRow(long Id, DateTimeOffset At, MovementKind Kind, string Part, string Lot, string Bin, decimal Quantity,
    decimal OnHandAfter, string? Order, string Person, decimal? UnitCost, string? Reason, long? Corrects, long? CorrectedBy);

/// <summary>The ledger, a page at a time. Pages keep their place while movements are added.</summary>
public sealed class MovementsPage(Desk desk)
{
    public const int LargestPage = 1_000;

    /// <summary>Oldest first; for the newest first ask so. <c>Next</c> is passed as <paramref name="after"/>.</summary>
    public Task<Outcome<Page<MovementRow>>> Read(string? part, string? after, int? pageSize, bool newestFirst, CancellationToken ct) =>
        desk.Read<Outcome<Page<MovementRow>>>(async reading =>
        {
            if (PageOf.Wrong(pageSize, LargestPage) is { } wrong)
                return wrong;
            var from = 0L;
            if (after is not null && !long.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out from))
                return Refusal.Field("after", "after-unreadable", $"\"{after}\" is no movement. Pass what the page before gave as next.");
            var db = reading.Db;
            var moved = db.Movements.AsNoTracking().AsQueryable();
            if (!string.IsNullOrWhiteSpace(part))
            {
                var item = await db.Parts.AsNoTracking().SingleOrDefaultAsync(p => p.Number == part, ct);
                if (item is null)
                    return Refusal.NotFound("part-unknown", $"There is no part {part}.");
                moved = moved.Where(m => m.PartId == item.Id);
            }
            if (after is not null)
                moved = newestFirst ? moved.Where(m => m.Id < from) : moved.Where(m => m.Id > from);
            var size = pageSize ?? 100;
            moved = (newestFirst ? moved.OrderByDescending(m => m.Id) : moved.OrderBy(m => m.Id)).Take(size + 1);
            var rows = await (from m in moved
                              join p in db.Parts on m.PartId equals p.Id
                              join lot in db.Lots on m.LotId equals lot.Id
                              join bin in db.Bins on m.BinId equals bin.Id
                              join person in db.People on m.PersonId equals person.Id
                              from order in db.WorkOrders.Where(o => o.Id == m.OrderId).DefaultIfEmpty()
                              select new MovementRow(m.Id, m.At, m.Kind, p.Number, lot.Number, bin.Code, m.Quantity, m.OnHandAfter,
                                  order!.Number, person.Name, m.UnitCost, m.Reason, m.CorrectsId,
                                  db.Movements.Where(c => c.CorrectsId == m.Id).Select(c => (long?)c.Id).FirstOrDefault()))
                .ToListAsync(ct);
            rows = [.. newestFirst ? rows.OrderByDescending(r => r.Id) : rows.OrderBy(r => r.Id)];
            return rows.Count > size
                ? new Page<MovementRow>(rows[..size], rows[size - 1].Id.ToString(CultureInfo.InvariantCulture)) : new Page<MovementRow>(rows, null);
        }, ct);
}
