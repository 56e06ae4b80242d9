using System.Globalization;
using KitOrders.Rules;
using KitOrders.Rules.Stock;

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
            var size = pageSize ?? 100;
            var ofPart = !string.IsNullOrWhiteSpace(part);
            var trip = new Trip(reading.Db);
            var item = ofPart ? trip.With("part", part).Ask("select id from part where number = @part", row => row.GetInt32(0)) : null;
            var conditions = new List<string>();
            if (ofPart)
                conditions.Add("m.part_id = (select id from part where number = @part)");
            if (after is not null)
            {
                trip.With("after", from);
                conditions.Add(newestFirst ? "m.id < @after" : "m.id > @after");
            }
            var way = newestFirst ? "m.id desc" : "m.id";
            var moved = trip.Ask($"""
                select m.id, m.at, m.kind, p.number, l.number, b.code, m.quantity, m.on_hand_after, o.number, n.name, m.unit_cost, m.reason, m.corrects_id,
                       (select c.id from movement c where c.corrects_id = m.id limit 1)
                from (select * from movement m {(conditions.Count > 0 ? "where " : "")}{string.Join(" and ", conditions)} order by {way} limit {size + 1}) m
                join part p on p.id = m.part_id join lot l on l.id = m.lot_id join bin b on b.id = m.bin_id join person n on n.id = m.person_id
                left join work_order o on o.id = m.order_id
                order by {way}
                """, row => new MovementRow(row.GetInt64(0), row.GetFieldValue<DateTimeOffset>(1), row.Word<MovementKind>(2), row.GetString(3), row.GetString(4),
                    row.GetString(5), row.GetDecimal(6), row.GetDecimal(7), row.Text(8), row.GetString(9), row.Maybe<decimal>(10), row.Text(11), row.Maybe<long>(12), row.Maybe<long>(13)));
            await trip.Send(ct);
            if (item?.Rows.Count == 0)
                return Refusal.NotFound("part-unknown", $"There is no part {part}.");
            List<MovementRow> rows = [.. moved.Rows];
            return rows.Count > size
                ? new Page<MovementRow>(rows[..size], rows[size - 1].Id.ToString(CultureInfo.InvariantCulture)) : new Page<MovementRow>(rows, null);
        }, ct);
}
