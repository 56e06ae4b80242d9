using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Stock;

/// <summary>A lot with every place where anything of it is. A lot number is unique to its part, so several parts may have one.</summary>
/// <param name="GoodUntil">The last good day; null where it does not age, or where that is not known.</param>
/// <param name="Scrapped">Scrapped from the shelf and from orders.</param>
/// <param name="Returned">Taken back from orders onto the shelf.</param>
public sealed record TracedLot(string Part, string Description, string Lot, Unit Unit, DateOnly ReceivedOn, DateOnly? CuredOn, DateOnly? GoodUntil, string? Quarantine,
    decimal Received, decimal Scrapped, decimal Returned)
{
    public IReadOnlyList<LotOnPump> Pumps { get; init; } = [];
    public IReadOnlyList<LotInOrder> Orders { get; init; } = [];
    public IReadOnlyList<LotOnShelf> Shelves { get; init; } = [];
}

/// <param name="Tag">Where the pump stands now; null in the store.</param>
public sealed record LotOnPump(string? Tag, string Serial, string? Area, decimal Quantity, DateOnly Since, string Order);

/// <param name="Order">Number of the order; of the campaign where it holds spares for all its orders.</param>
/// <param name="Place">Where what is picked was staged; null before.</param>
/// <param name="Reserved">Still on the shelf, held for it.</param>
/// <param name="InHand">Picked and neither fitted, returned nor scrapped yet.</param>
public sealed record LotInOrder(string Order, OrderState State, string Tag, string? Place, decimal Reserved, decimal InHand, string Bin);

public sealed record LotOnShelf(string Bin, decimal OnHand, decimal Reserved);

/// <summary>Where is lot L? All pumps that have it in them, all orders that hold it, all shelves where it lies: one search for a bad batch.</summary>
public sealed class LotTrace(Desk desk)
{
    public Task<Outcome<IReadOnlyList<TracedLot>>> Find(string? number, CancellationToken ct) => desk.Read<Outcome<IReadOnlyList<TracedLot>>>(async reading =>
    {
        var trip = new Trip(reading.Db).With("number", number?.Trim() ?? "");
        const string These = "(select id from lot where number = @number)";
        var lots = trip.Ask("""
            select l.id, p.number, p.description, l.number, p.unit, l.received_on, l.cured_on, l.expires_on, l.quarantine,
                   coalesce((select sum(quantity) from movement where lot_id = l.id and kind = 'receipt'), 0),
                   coalesce((select -sum(quantity) from movement where lot_id = l.id and kind = 'scrap'), 0) + coalesce((select sum(scrapped) from reservation where lot_id = l.id), 0),
                   coalesce((select sum(quantity) from movement where lot_id = l.id and kind = 'return'), 0)
            from lot l join part p on p.id = l.part_id where l.number = @number order by p.number
            """, row => (Id: row.GetInt32(0), Lot: new TracedLot(row.GetString(1), row.GetString(2), row.GetString(3), row.Word<Unit>(4), row.GetFieldValue<DateOnly>(5), row.Maybe<DateOnly>(6),
                SuitabilityReading.LastGoodDay(row, 7), row.Text(8), row.GetDecimal(9), row.GetDecimal(10), row.GetDecimal(11))));
        var pumps = trip.Ask($"""
            select f.lot_id, s.tag, p.serial, s.area, f.quantity, f.fitted_on, o.number
            from fitted_lot f join pump p on p.id = f.pump_id left join position s on s.id = p.position_id join work_order o on o.id = f.order_id
            where f.lot_id in {These} order by s.tag, p.serial, f.fitted_on
            """, row => (Lot: row.GetInt32(0), On: new LotOnPump(row.Text(1), row.GetString(2), row.Text(3), row.GetDecimal(4), row.GetFieldValue<DateOnly>(5), row.GetString(6))));
        var orders = trip.Ask($"""
            select r.lot_id, o.number, o.state, s.tag, o.staged_place, sum(r.held), sum(r.picked - r.fitted - r.returned - r.scrapped), b.code, o.id
            from reservation r join work_order o on o.id = r.order_id join position s on s.id = o.position_id join bin b on b.id = r.bin_id
            where r.lot_id in {These} and (r.held > 0 or r.picked > r.fitted + r.returned + r.scrapped) and o.state not in ('closed', 'cancelled')
            group by r.lot_id, o.id, s.tag, b.code
            union all
            select r.lot_id, o.number, o.state, s.tag, o.staged_place, 0, u.quantity, b.code, o.id
            from spare_use u join reservation r on r.id = u.reservation_id join work_order o on o.id = u.order_id join position s on s.id = o.position_id join bin b on b.id = r.bin_id
            where r.lot_id in {These} and u.quantity > 0 and o.state not in ('closed', 'cancelled')
            union all
            select r.lot_id, c.number, 'open', 'pooled spares', null, sum(r.held), sum(r.picked - r.fitted - r.returned - r.scrapped), b.code, null
            from reservation r join campaign c on c.id = r.campaign_id join bin b on b.id = r.bin_id
            where r.lot_id in {These} and (r.held > 0 or r.picked > r.fitted + r.returned + r.scrapped)
            group by r.lot_id, c.number, b.code
            order by 9
            """, row => (Lot: row.GetInt32(0), In: new LotInOrder(row.GetString(1), row.Word<OrderState>(2), row.GetString(3), row.Text(4), row.GetDecimal(5), row.GetDecimal(6), row.GetString(7))));
        var shelves = trip.Ask($"""
            select s.lot_id, b.code, s.on_hand, s.reserved from bin_stock s join bin b on b.id = s.bin_id where s.lot_id in {These} and s.on_hand > 0 order by b.walk_order, b.code
            """, row => (Lot: row.GetInt32(0), On: new LotOnShelf(row.GetString(1), row.GetDecimal(2), row.GetDecimal(3))));
        await trip.Send(ct);
        if (lots.Rows.Count == 0)
            return Refusal.NotFound("lot-unknown", $"There is no lot with the number {number}. Read it again from the label; capitals count.");
        return lots.Rows.Select(l => l.Lot with
        {
            Pumps = [.. pumps.Rows.Where(p => p.Lot == l.Id).Select(p => p.On)],
            Orders = [.. orders.Rows.Where(o => o.Lot == l.Id).Select(o => o.In)],
            Shelves = [.. shelves.Rows.Where(s => s.Lot == l.Id).Select(s => s.On)],
        }).ToList();
    }, ct);
}
