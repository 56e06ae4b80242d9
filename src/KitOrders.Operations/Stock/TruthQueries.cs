namespace KitOrders.Operations.Stock;

/// <summary>One thing that must be true of every row.</summary>
/// <param name="Rows">What is compared: the tables, without what only gives names.</param>
/// <param name="Breaks">What a row must not be.</param>
/// <param name="Sentence">A row that breaks it, in words.</param>
/// <param name="Names">Joins that give the names of the sentence.</param>
sealed record TruthQuery(string Check, string Rows, string Breaks, string Sentence, string Names = "", string Part = "null", string Bin = "null", string Order = "null")
{
    public string Count => $"select count(*) compared, count(*) filter (where {Breaks}) broken from {Rows}";

    public string Name(int most) => $"""
        select {Sentence} sentence, {Part}::text part, {Bin}::text bin, {Order}::text "order"
        from {Rows} {Names} where {Breaks} order by 1 limit {most}
        """;
}

static class TruthQueries
{
    const string LotNames = "join lot l on l.id = s.lot_id join bin b on b.id = s.bin_id join part p on p.id = l.part_id";

    const string OwnerNames = "left join work_order o on o.id = d.order_id left join campaign c on c.id = d.campaign_id join part p on p.id = d.part_id";

    static string LotNamesOf(string other) =>
        $"join lot l on l.id = coalesce(s.lot_id, {other}.lot_id) join bin b on b.id = coalesce(s.bin_id, {other}.bin_id) join part p on p.id = l.part_id";

    public static IReadOnlyList<TruthQuery> All { get; } =
    [
        new("on-hand-is-the-sum-of-movements",
            "bin_stock s full join (select lot_id, bin_id, sum(quantity) quantity from movement group by lot_id, bin_id) m on m.lot_id = s.lot_id and m.bin_id = s.bin_id",
            "coalesce(s.on_hand, 0) <> coalesce(m.quantity, 0)",
            "format('part %s lot %s bin %s: on hand %s, movements %s', p.number, l.number, b.code, trim_scale(coalesce(s.on_hand, 0)), trim_scale(coalesce(m.quantity, 0)))",
            LotNamesOf("m"), Part: "p.number", Bin: "b.code"),
        new("running-balance-is-right",
            "(select id, lot_id, bin_id, on_hand_after, sum(quantity) over (partition by lot_id, bin_id order by id) running from movement) s",
            "s.on_hand_after <> s.running or s.running < 0",
            "format('movement %s: on hand after %s, running sum %s', s.id, trim_scale(s.on_hand_after), trim_scale(s.running))",
            LotNames, Part: "p.number", Bin: "b.code"),
        new("reserved-lies-within-on-hand",
            "bin_stock s",
            "s.reserved < 0 or s.reserved > s.on_hand",
            "format('part %s lot %s bin %s: reserved %s of %s', p.number, l.number, b.code, trim_scale(s.reserved), trim_scale(s.on_hand))",
            LotNames, Part: "p.number", Bin: "b.code"),
        new("reserved-is-what-reservations-hold",
            "bin_stock s full join (select lot_id, bin_id, sum(held) held from reservation group by lot_id, bin_id) r on r.lot_id = s.lot_id and r.bin_id = s.bin_id",
            "coalesce(s.reserved, 0) <> coalesce(r.held, 0)",
            "format('part %s lot %s bin %s: reserved %s, reservations %s', p.number, l.number, b.code, trim_scale(coalesce(s.reserved, 0)), trim_scale(coalesce(r.held, 0)))",
            LotNamesOf("r"), Part: "p.number", Bin: "b.code"),
        new("demand-lines-are-what-reservations-say",
            "demand_line d left join (select demand_line_id, sum(held) held, sum(picked) picked from reservation group by demand_line_id) r on r.demand_line_id = d.id",
            "d.reserved <> coalesce(r.held, 0) or d.picked <> coalesce(r.picked, 0)",
            "format('%s part %s: reserved %s and picked %s, reservations %s and %s', coalesce('order ' || o.number, 'campaign ' || c.number), p.number, trim_scale(d.reserved), trim_scale(d.picked), trim_scale(coalesce(r.held, 0)), trim_scale(coalesce(r.picked, 0)))",
            OwnerNames, Part: "p.number", Order: "o.number"),
        new("required-is-picked-reserved-and-short",
            "demand_line d",
            "d.required <> d.picked + d.reserved + d.short or d.gross <> d.required + d.built or least(d.gross, d.built, d.required, d.picked, d.reserved, d.short) < 0",
            "format('%s part %s: required %s, picked %s, reserved %s, short %s', coalesce('order ' || o.number, 'campaign ' || c.number), p.number, trim_scale(d.required), trim_scale(d.picked), trim_scale(d.reserved), trim_scale(d.short))",
            OwnerNames, Part: "p.number", Order: "o.number"),
        new("what-was-picked-is-accounted-for-once",
            "reservation r join work_order o on o.id = r.order_id",
            "r.held < 0 or least(r.fitted, r.returned, r.scrapped) < 0 or r.fitted + r.returned + r.scrapped > r.picked or (o.state = 'closed' and r.fitted + r.returned + r.scrapped <> r.picked)",
            "format('order %s reservation %s: picked %s, fitted %s, returned %s, scrapped %s', o.number, r.id, trim_scale(r.picked), trim_scale(r.fitted), trim_scale(r.returned), trim_scale(r.scrapped))",
            "join part p on p.id = r.part_id", Part: "p.number", Order: "o.number"),
        new("ended-orders-hold-nothing",
            "reservation r join work_order o on o.id = r.order_id",
            "r.held <> 0 and o.state in ('draft', 'closed', 'cancelled')",
            "format('order %s is %s and holds %s of %s', o.number, o.state, trim_scale(r.held), p.number)",
            "join part p on p.id = r.part_id", Part: "p.number", Order: "o.number"),
        new("pooled-spares-are-used-once",
            """
            reservation r join campaign c on c.id = r.campaign_id
            left join (select reservation_id, sum(quantity) quantity from spare_use group by reservation_id) u on u.reservation_id = r.id
            """,
            "r.fitted <> coalesce(u.quantity, 0) or least(r.held, r.returned, r.scrapped) < 0 or r.fitted + r.returned + r.scrapped > r.picked",
            "format('campaign %s reservation %s: picked %s, used %s, orders used %s', c.number, r.id, trim_scale(r.picked), trim_scale(r.fitted), trim_scale(coalesce(u.quantity, 0)))",
            "join part p on p.id = r.part_id", Part: "p.number"),
        new("a-campaign-holds-the-spares-of-its-orders",
            "demand_line d left join work_order x on x.id = d.order_id",
            "d.spare and x.campaign_id is not null",
            "format('order %s part %s: holds a spare of its own', o.number, p.number)",
            OwnerNames, Part: "p.number", Order: "o.number"),
        new("stock-is-held-for-who-asked",
            "reservation r join demand_line d on d.id = r.demand_line_id",
            "r.order_id is distinct from d.order_id or r.campaign_id is distinct from d.campaign_id or r.part_id <> d.part_id",
            "format('%s part %s: reservation %s is held for another', coalesce('order ' || o.number, 'campaign ' || c.number), p.number, r.id)",
            OwnerNames, Part: "p.number", Order: "o.number"),
        new("ended-campaigns-hold-nothing",
            "reservation r join campaign c on c.id = r.campaign_id",
            "r.held <> 0 and not exists (select from work_order o where o.campaign_id = c.id and o.state in ('open', 'staged', 'underway', 'finished'))",
            "format('campaign %s has no order open and holds %s of %s', c.number, trim_scale(r.held), p.number)",
            "join part p on p.id = r.part_id", Part: "p.number"),
        new("a-lot-is-of-one-part",
            """
            (select 'stock' kind, lot_id, part_id from bin_stock union all select 'reservation', lot_id, part_id from reservation
             union all select 'movement', lot_id, part_id from movement) x join lot l on l.id = x.lot_id
            """,
            "x.part_id <> l.part_id",
            "format('lot %s of part %s: a %s of part %s', l.number, p.number, x.kind, q.number)",
            "join part p on p.id = l.part_id join part q on q.id = x.part_id", Part: "p.number"),
        new("every-command-answered-once",
            "command c",
            "c.answer is null",
            "format('command %s of person %s: no answer is kept', c.key, c.person_id)"),
    ];
}
