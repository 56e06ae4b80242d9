namespace KitOrders.Benchmarks;

/// <summary>Orders of every age with their lines, holds, steps and checks, and the ledger that led to what lies on the shelves.</summary>
static class FillOrders
{
    const string Lots = "((d.part_id - 1) * 3 + 1 + (d.order_id + d.id) % 3)";

    static string Origin(string line, string quantity) => $"jsonb_build_array(jsonb_build_object('kit', p.number, 'line', {line}, 'quantity', {quantity}))";

    public static IEnumerable<string> Statements(Size s) => [.. Orders(s), .. Lines(s), .. Waiting(s), .. Kept(), .. Ledger(s)];

    /// <summary>Three quarters are closed; of the others three tenths are drafts, four open, one staged, two underway.</summary>
    static IEnumerable<string> Orders(Size s)
    {
        yield return $"""
            insert into work_order (id, number, state, pump_id, position_id, job_id, needed_by, work_class, breakdown, made_at, made_by_id,
                opened_at, staged_at, started_at, finished_at, closed_at, estimated_hours, hourly_rate, procedure_revision_id, actual_parts, actual_labour, version)
            select i, i::text, state, 1 + i % {s.Pumps}, 1 + i % {s.Pumps}, 1 + i % 20, current_date - 700 + (i * 760.0 / {s.Orders})::int + (hashint4(i) & 63), 1 + (i / 7) % 10, false,
                made, 1 + i % {FillPlant.People},
                case when state <> 'draft' then made + interval '1 hour' end, case when state in ('staged', 'underway', 'closed') then made + interval '2 hours' end,
                case when state in ('underway', 'closed') then made + interval '3 hours' end, case when state = 'closed' then made + interval '8 hours' end,
                case when state = 'closed' then made + interval '9 hours' end, case when state <> 'draft' then 2 + i % 6 end, case when state <> 'draft' then 52 end,
                case when state <> 'draft' then 1 end, case when state = 'closed' then 500 end, case when state = 'closed' then 150 end, 1
            from generate_series(1, {s.Orders}) i,
                 lateral (select case when i <= {s.Orders / 4 * 3} then 'closed' when i % 10 < 3 then 'draft' when i % 10 < 7 then 'open' when i % 10 = 7 then 'staged' else 'underway' end) st(state),
                 lateral (select now() - ({s.Orders} - i + 1) * (interval '700 days' / {s.Orders})) m(made)
            """;
        yield return $"""
            insert into order_kit (order_id, kit_part_id, quantity, kit_revision_id)
            select id, kit, 1, case when state <> 'draft' then kit end
            from work_order, lateral (select {s.FirstKit} + 3 * ((id * 31) % {Size.SpreadKits})) k(kit)
            """;
    }

    /// <summary>A tenth of the lines of open orders is short.</summary>
    static IEnumerable<string> Lines(Size s)
    {
        yield return $"""
            insert into demand_line (id, order_id, part_id, source, gross, built, required, picked, reserved, short, spare, unit_cost, origins)
            select (o.id - 1) * 23 + n.n, o.id, n.part_id, 'inTheBox', n.quantity, 0, n.quantity,
                   case when o.state <> 'open' then n.quantity else 0 end,
                   case when o.state = 'open' and not lacks then n.quantity else 0 end, case when o.state = 'open' and lacks then n.quantity else 0 end, false, 1 + n.part_id % 90, {Origin("n.n", "n.quantity")}
            from work_order o join order_kit k on k.order_id = o.id join part p on p.id = k.kit_part_id join bench.need n on n.kit_part_id = k.kit_part_id,
                 lateral (select hashint4(o.id * 20 + n.n) % 10 = 0) l(lacks)
            where o.state <> 'draft' order by o.id, n.n
            """;
        yield return $"""
            insert into demand_line (id, order_id, part_id, source, gross, built, required, picked, reserved, short, spare, origins)
            select (o.id - 1) * 23 + 21 + a, o.id, k.kit_part_id + a, 'inTheBox', 1, 1, 0, 0, 0, 0, false, {Origin("20 + a", "1")}
            from work_order o join order_kit k on k.order_id = o.id join part p on p.id = k.kit_part_id, generate_series(0, 2) a where o.state <> 'draft'
            """;
        yield return $"""
            insert into reservation (demand_line_id, order_id, part_id, lot_id, bin_id, held, picked, fitted, returned, scrapped)
            select d.id, d.order_id, d.part_id, {Lots}, 1 + {Lots} % 2000, d.reserved, d.picked, case when o.state = 'closed' then d.picked else 0 end, 0, 0
            from demand_line d join work_order o on o.id = d.order_id where d.reserved > 0 or d.picked > 0
            """;
        yield return $"""
            insert into bin_stock (lot_id, bin_id, part_id, on_hand, reserved)
            select l.id, 1 + l.id % 2000, l.part_id,
                   coalesce(r.held, 0) + case when (l.part_id - 1) % {s.Parts / Size.HotParts} = 0 then 1000000 when l.id % 3 = 1 then 40 else 20000 end, coalesce(r.held, 0)
            from lot l left join (select lot_id, sum(held) held from reservation group by lot_id) r on r.lot_id = l.id
            """;
    }

    /// <summary>Open orders that wait for parts of which there is nothing.</summary>
    static IEnumerable<string> Waiting(Size s)
    {
        yield return $"""
            insert into work_order (id, number, state, pump_id, position_id, job_id, needed_by, work_class, breakdown, made_at, made_by_id, opened_at, estimated_hours, procedure_revision_id, version)
            select {s.Orders} + i, 'W' || i, 'open', i, i, 1, current_date + 30, 1 + i % 10, false, now(), 1, now(), 3, 1, 1 from generate_series(1, {Size.WaitingOrders}) i
            """;
        yield return $"""
            insert into order_kit (order_id, kit_part_id, quantity, kit_revision_id)
            select {s.Orders} + i, {s.FirstKit}, 1, {s.FirstKit} from generate_series(1, {Size.WaitingOrders}) i
            """;
        yield return $"""
            insert into demand_line (id, order_id, part_id, source, gross, built, required, picked, reserved, short, spare, origins)
            select {s.Orders} * 23 + (i - 1) * {Size.WantedParts} + p, {s.Orders} + i, {s.FirstWanted} + p - 1, 'inTheBox', 1, 0, 1, 0, 0, 1, false, '[]'
            from generate_series(1, {Size.WaitingOrders}) i, generate_series(1, {Size.WantedParts}) p
            """;
    }

    static IEnumerable<string> Kept()
    {
        // Its trigger is switched off with the others.
        yield return "update work_order o set score = o.work_class * s.criticality from position s where s.id = o.position_id";
        yield return """
            insert into order_step (order_id, pieces, number, part_of, kind, text, hold_point, witnessed)
            select o.id, 1, s.number, s.part_of, s.kind, s.text, s.hold_point, s.witnessed from work_order o, procedure_step s where o.state <> 'draft' order by o.id, s.number
            """;
        yield return """
            insert into order_judgement (order_id, checks)
            select o.id, (select json_agg(json_build_object('check', c, 'kit', p.number, 'result', 'passed', 'numbers', '{}'::json,
                                 'reason', 'Does not apply: the kit calls for nothing of the kind.', 'onCondition', false, 'answerable', false))
                          from unnest(array['model','control','sensingRod','ports','area','voltage','materials','prerequisites','exclusions','alreadyFitted','shelfLife']) c)
            from work_order o join order_kit k on k.order_id = o.id join part p on p.id = k.kit_part_id
            where o.state <> 'draft'
            """;
        yield return """
            insert into audit (at, person_id, operation, order_id, subject, sentence)
            select opened_at, made_by_id, 'open-order', id, 'order ' || number, 'Opened: 20 lines, all covered.' from work_order where opened_at is not null order by id
            """;
    }

    /// <summary>Receipts and picks by turns; every lot begins with a receipt that leaves, after all the rest, what lies there now.</summary>
    static IEnumerable<string> Ledger(Size s)
    {
        const string Receipts = "(select count(*) from reservation where picked > 0)";
        yield return $"""
            create unlogged table bench.moved as
            with later as (
              select i::float / r.n as t, 1 + (i * 7919) % {s.Lots} as lot_id from (select {s.Movements} - {s.Lots} - {Receipts} n) r, generate_series(1::bigint, r.n) i
            ), first as (
              select b.lot_id, b.on_hand + coalesce(p.picked, 0) - coalesce(l.came, 0) as quantity
              from bin_stock b left join (select lot_id, sum(picked) picked from reservation group by lot_id) p on p.lot_id = b.lot_id
                left join (select lot_id, count(*) came from later group by lot_id) l on l.lot_id = b.lot_id
            )
            select row_number() over (order by t, lot_id) as id, m.* from (
              select -1::float t, lot_id, quantity, null::int order_id from first
              union all select t, lot_id, 1, null from later
              union all select order_id::float / {s.Orders}, lot_id, -picked, order_id from reservation where picked > 0
            ) m
            """;
        yield return $"""
            insert into movement (id, at, kind, part_id, lot_id, bin_id, quantity, on_hand_after, order_id, person_id, unit_cost)
            select id, now() - interval '701 days' + (t + 1) / 2 * interval '700 days', case when quantity > 0 then 'receipt' else 'pick' end, 1 + (lot_id - 1) / 3, lot_id, 1 + lot_id % 2000,
                   quantity, sum(quantity) over (partition by lot_id order by id), order_id, 1 + id % {FillPlant.People}, 1 + ((lot_id - 1) / 3 + 1) % 90
            from bench.moved order by id
            """;
        yield return "drop table bench.moved";
    }
}
