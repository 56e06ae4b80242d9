using KitOrders.Operations.Kits;
using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Stock;

/// <summary>
/// The only code that writes balances, reservations and movements. Every writer locks its parts first, all of them in one
/// statement and in part order, so that no two can wait for each other; what is written is set-based, whatever the number
/// of lines.
/// </summary>
internal sealed class StockLedger(Work work)
{
    /// <summary>Takes the lock rows of the parts in part order and holds them to the end of the transaction.</summary>
    public async Task Lock(IEnumerable<PartId> parts)
    {
        var trip = new Trip(work.Db).With("lockedParts", parts.Select(p => p.Value).Distinct().ToArray());
        trip.Ask("select part_id from part_stock where part_id = any(@lockedParts) order by part_id for no key update", _ => 0);
        await trip.Send(work.Ct);
    }

    /// <summary>
    /// Asks for the locks together with what else needs them, as <see cref="Lock"/>; answers the parts, their average costs and
    /// which revision of each is current, null for what is no kit.
    /// </summary>
    public static Trip.Answer<(CatalogueItem Item, decimal? AverageCost, KitRevisionId? Current)> AskLock(Trip trip, IEnumerable<PartId> parts) => trip
        .With("lockedParts", parts.Select(p => p.Value).Distinct().ToArray())
        .Ask($"""
            select {KitCatalogue.ItemColumns}, s.average_cost, (select r.id from kit_revision r where r.part_id = p.id and r.state = 'released')
            from part_stock s join part p on p.id = s.part_id
            where s.part_id = any(@lockedParts) order by s.part_id for no key update of s
            """, row => (KitCatalogue.ItemOf(row), row.Maybe<decimal>(9), row.IsDBNull(10) ? (KitRevisionId?)null : new KitRevisionId(row.GetInt32(10))));

    /// <summary>Writes the demand of an order that is being opened, with the stock held for it.</summary>
    public static void HoldNew(Trip trip, OrderId order, IReadOnlyList<NewDemand> lines)
    {
        var takes = lines.SelectMany(l => l.Planned.Takes.Select(t => (l.Planned.Plan, Take: t))).ToList();
        trip.With("order", order.Value)
            .With("parts", lines.Select(l => l.Planned.Plan.Part.Value).ToArray()).With("sources", lines.Select(l => Rules.Word.Of(l.Planned.Plan.Source)).ToArray())
            .With("gross", lines.Select(l => l.Planned.Plan.Gross).ToArray()).With("built", lines.Select(l => l.Planned.Plan.Built).ToArray())
            .With("required", lines.Select(l => l.Planned.Plan.Required).ToArray()).With("held", lines.Select(l => l.Planned.Takes.Sum(t => t.Quantity)).ToArray())
            .With("spares", lines.Select(l => l.Planned.Plan.Spare).ToArray()).With("unitCosts", lines.Select(l => l.UnitCost).ToArray())
            .With("origins", lines.Select(l => Storage.Orders.DemandOrigins.Text(l.Origins)).ToArray())
            .With("takeParts", takes.Select(t => t.Plan.Part.Value).ToArray()).With("takeSources", takes.Select(t => Rules.Word.Of(t.Plan.Source)).ToArray())
            .With("takeLots", takes.Select(t => t.Take.Lot.Value).ToArray()).With("takeBins", takes.Select(t => t.Take.Bin.Value).ToArray())
            .With("takeQuantities", takes.Select(t => t.Take.Quantity).ToArray())
            .Tell("""
                with line as (
                  insert into demand_line (order_id, part_id, source, gross, built, required, picked, reserved, short, spare, unit_cost, origins)
                  select @order, part, source, gross, built, required, 0, held, required - held, spare, cost, origins::jsonb
                  from unnest(@parts, @sources, @gross, @built, @required, @held, @spares, @unitCosts, @origins) with ordinality
                       t(part, source, gross, built, required, held, spare, cost, origins, n) order by n
                  returning id, part_id, source
                ), take as (
                  select * from unnest(@takeParts, @takeSources, @takeLots, @takeBins, @takeQuantities) t(part, source, lot, bin, quantity)
                ), held as (
                  insert into reservation (demand_line_id, order_id, part_id, lot_id, bin_id, held, picked, fitted, returned, scrapped)
                  select l.id, @order, t.part, t.lot, t.bin, t.quantity, 0, 0, 0, 0 from take t join line l on l.part_id = t.part and l.source = t.source
                )
                update bin_stock b set reserved = b.reserved + x.quantity
                from (select lot, bin, sum(quantity) quantity from take group by lot, bin) x
                where b.lot_id = x.lot and b.bin_id = x.bin
                """);
    }

    /// <summary>Holds stock for demand lines: what was short becomes reserved.</summary>
    public async Task Reserve(IReadOnlyCollection<LineHold> holds)
    {
        var trip = new Trip(work.Db);
        TellHolds(trip, holds);
        await trip.Send(work.Ct);
    }

    /// <summary>As <see cref="Reserve"/>, on a trip that has other errands too.</summary>
    public static void TellHolds(Trip trip, IReadOnlyCollection<LineHold> holds)
    {
        if (holds.Count == 0)
            return;
        trip.With("holdLines", holds.Select(t => t.Line.Value).ToArray()).With("holdParts", holds.Select(t => t.Part.Value).ToArray())
            .With("holdLots", holds.Select(t => t.Lot.Value).ToArray()).With("holdBins", holds.Select(t => t.Bin.Value).ToArray()).With("holdQuantities", holds.Select(t => t.Quantity).ToArray())
            .Tell("""
                with t as (
                  select * from unnest(@holdLines, @holdParts, @holdLots, @holdBins, @holdQuantities) t(line, part, lot, bin, quantity)
                ), stock as (
                  update bin_stock b set reserved = b.reserved + x.quantity
                  from (select lot, bin, sum(quantity) quantity from t group by lot, bin) x
                  where b.lot_id = x.lot and b.bin_id = x.bin
                ), held as (
                  insert into reservation (demand_line_id, owner, order_id, campaign_id, part_id, lot_id, bin_id, held, picked, fitted, returned, scrapped)
                  select l.id, l.owner, l.order_id, l.campaign_id, t.part, t.lot, t.bin, sum(t.quantity), 0, 0, 0, 0
                  from t join demand_line l on l.id = t.line group by l.id, t.part, t.lot, t.bin
                  on conflict (demand_line_id, lot_id, bin_id) do update set held = reservation.held + excluded.held
                )
                update demand_line l set reserved = l.reserved + x.quantity, short = l.short - x.quantity
                from (select line, sum(quantity) quantity from t group by line) x where l.id = x.line
                """);
    }

    /// <summary>Writes entries: balances, reservations, demand lines and movements in one message.</summary>
    public async Task Post(IReadOnlyCollection<StockEntry> entries)
    {
        var trip = new Trip(work.Db);
        Tell(trip, entries);
        await trip.Send(work.Ct);
    }

    /// <summary>As <see cref="Post"/>, on a trip that has other errands too.</summary>
    public void Tell(Trip trip, IReadOnlyCollection<StockEntry> entries)
    {
        if (entries.Count == 0)
            return;
        MakeRoom(trip, [.. entries.Where(e => e.OnHand > 0).Select(e => (e.Lot, e.Bin, e.Part)).Distinct()]);
        trip.With("kinds", entries.Select(e => e.Kind is { } kind ? Rules.Word.Of(kind) : null).ToArray())
            .With("entryParts", entries.Select(e => e.Part.Value).ToArray()).With("entryLots", entries.Select(e => e.Lot.Value).ToArray())
            .With("entryBins", entries.Select(e => e.Bin.Value).ToArray()).With("onHand", entries.Select(e => e.OnHand).ToArray())
            .With("reserved", entries.Select(e => e.Reserved).ToArray()).With("reservations", entries.Select(e => e.Reservation?.Value).ToArray())
            .With("picked", entries.Select(e => e.Picked).ToArray()).With("returned", entries.Select(e => e.Returned).ToArray())
            .With("entryLines", entries.Select(e => e.Line?.Value).ToArray()).With("short", entries.Select(e => e.Short).ToArray())
            .With("entryOrders", entries.Select(e => e.Order?.Value).ToArray()).With("costs", entries.Select(e => e.UnitCost).ToArray())
            .With("reasons", entries.Select(e => e.Reason).ToArray()).With("corrects", entries.Select(e => e.Corrects).ToArray())
            .With("at", work.Now).With("person", work.Actor.Person.Value)
            .Tell("""
                with t as (
                  select * from unnest(@kinds, @entryParts, @entryLots, @entryBins, @onHand, @reserved, @reservations, @picked, @returned, @entryLines, @short,
                                       @entryOrders, @costs, @reasons, @corrects) with ordinality
                    t(kind, part, lot, bin, on_hand, reserved, reservation, picked, returned, line, short, "order", cost, reason, corrects, n)
                ), total as (
                  select lot, bin, sum(on_hand) on_hand, sum(reserved) reserved from t group by lot, bin
                ), stock as (
                  update bin_stock b set on_hand = b.on_hand + x.on_hand, reserved = b.reserved + x.reserved
                  from total x where b.lot_id = x.lot and b.bin_id = x.bin
                  returning b.lot_id lot, b.bin_id bin, b.on_hand
                ), held as (
                  update reservation r set held = r.held + x.reserved, picked = r.picked + x.picked, returned = r.returned + x.returned
                  from (select reservation, sum(reserved) reserved, sum(picked) picked, sum(returned) returned
                        from t where reservation is not null group by reservation) x
                  where r.id = x.reservation
                ), demand as (
                  update demand_line l set picked = l.picked + x.picked, reserved = l.reserved + x.reserved, short = l.short + x.short
                  from (select line, sum(picked) picked, sum(reserved) reserved, sum(short) short from t where line is not null group by line) x
                  where l.id = x.line
                )
                insert into movement (at, kind, part_id, lot_id, bin_id, quantity, on_hand_after, order_id, person_id, unit_cost, reason, corrects_id)
                select @at, t.kind, t.part, t.lot, t.bin, t.on_hand,
                       s.on_hand - x.on_hand + sum(t.on_hand) over (partition by t.lot, t.bin order by t.n),
                       t."order", @person, t.cost, t.reason, t.corrects
                from t join stock s on s.lot = t.lot and s.bin = t.bin join total x on x.lot = t.lot and x.bin = t.bin
                where t.on_hand <> 0 order by t.n
                """);
    }

    /// <summary>A lot that comes to a bin for the first time needs its row before the balance can change.</summary>
    static void MakeRoom(Trip trip, IReadOnlyCollection<(LotId Lot, BinId Bin, PartId Part)> places)
    {
        if (places.Count == 0)
            return;
        trip.With("roomLots", places.Select(p => p.Lot.Value).ToArray()).With("roomBins", places.Select(p => p.Bin.Value).ToArray())
            .With("roomParts", places.Select(p => p.Part.Value).ToArray())
            .Tell("""
                insert into bin_stock (lot_id, bin_id, part_id, on_hand, reserved)
                select lot, bin, part, 0, 0 from unnest(@roomLots, @roomBins, @roomParts) t(lot, bin, part) on conflict do nothing
                """);
    }
}

/// <summary>A demand line that is not written yet, with the lots that serve it.</summary>
internal sealed record NewDemand(PlannedDemand Planned, IReadOnlyList<DemandOrigin> Origins, decimal? UnitCost);

/// <summary>A quantity of one lot in one bin to be held for a demand line.</summary>
internal sealed record LineHold(DemandLineId Line, PartId Part, LotId Lot, BinId Bin, decimal Quantity);

/// <summary>
/// One change of stock, every quantity signed. A change of what is on hand names its kind and becomes a movement; a change
/// of what is reserved names the reservation and the demand line it belongs to.
/// </summary>
internal sealed record StockEntry(PartId Part, LotId Lot, BinId Bin)
{
    public MovementKind? Kind { get; init; }

    public decimal OnHand { get; init; }

    /// <summary>Change of what the bin holds back, the reservation holds and the line counts as reserved.</summary>
    public decimal Reserved { get; init; }

    public ReservationId? Reservation { get; init; }

    public decimal Picked { get; init; }

    public decimal Returned { get; init; }

    public DemandLineId? Line { get; init; }

    public decimal Short { get; init; }

    public OrderId? Order { get; init; }

    public decimal? UnitCost { get; init; }

    public string? Reason { get; init; }

    public long? Corrects { get; init; }
}
