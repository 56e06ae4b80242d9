using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <param name="Broken">What breaks it, in words; empty when it holds. At most a hundred are named.</param>
public sealed record TruthCheck(string Check, bool Holds, IReadOnlyList<string> Broken);

/// <summary>
/// What must be true of stock at every commit, asked of the rows themselves. Each check is one statement, so that it sees one
/// moment.
/// </summary>
public sealed class StockTruth(Desk desk)
{
    const int MostNamed = 100;

    /// <summary>Name of the check, and the statement that selects a sentence for every row that breaks it.</summary>
    static readonly (string Check, string Broken)[] checks =
    [
        ("on-hand-is-the-sum-of-movements", """
            select format('part %s lot %s bin %s: on hand %s, movements %s', p.number, l.number, b.code, coalesce(s.on_hand, 0), coalesce(m.quantity, 0))
            from bin_stock s full join (select lot_id, bin_id, sum(quantity) quantity from movement group by lot_id, bin_id) m
              on m.lot_id = s.lot_id and m.bin_id = s.bin_id
            join lot l on l.id = coalesce(s.lot_id, m.lot_id) join bin b on b.id = coalesce(s.bin_id, m.bin_id) join part p on p.id = l.part_id
            where coalesce(s.on_hand, 0) <> coalesce(m.quantity, 0)
            """),
        ("running-balance-is-right", """
            select format('movement %s: on hand after %s, running sum %s', id, on_hand_after, running)
            from (select id, on_hand_after, sum(quantity) over (partition by lot_id, bin_id order by id) running from movement) m
            where on_hand_after <> running or running < 0
            """),
        ("reserved-lies-within-on-hand", """
            select format('part %s lot %s bin %s: reserved %s of %s', p.number, l.number, b.code, s.reserved, s.on_hand)
            from bin_stock s join lot l on l.id = s.lot_id join bin b on b.id = s.bin_id join part p on p.id = s.part_id
            where s.reserved < 0 or s.reserved > s.on_hand
            """),
        ("reserved-is-what-reservations-hold", """
            select format('part %s lot %s bin %s: reserved %s, reservations %s', p.number, l.number, b.code, coalesce(s.reserved, 0), coalesce(r.held, 0))
            from bin_stock s full join (select lot_id, bin_id, sum(held) held from reservation group by lot_id, bin_id) r
              on r.lot_id = s.lot_id and r.bin_id = s.bin_id
            join lot l on l.id = coalesce(s.lot_id, r.lot_id) join bin b on b.id = coalesce(s.bin_id, r.bin_id) join part p on p.id = l.part_id
            where coalesce(s.reserved, 0) <> coalesce(r.held, 0)
            """),
        ("demand-lines-are-what-reservations-say", """
            select format('order %s part %s: reserved %s and picked %s, reservations %s and %s', o.number, p.number, d.reserved, d.picked, coalesce(r.held, 0), coalesce(r.picked, 0))
            from demand_line d left join (select demand_line_id, sum(held) held, sum(picked) picked from reservation group by demand_line_id) r
              on r.demand_line_id = d.id
            join work_order o on o.id = d.order_id join part p on p.id = d.part_id
            where d.reserved <> coalesce(r.held, 0) or d.picked <> coalesce(r.picked, 0)
            """),
        ("required-is-picked-reserved-and-short", """
            select format('order %s part %s: required %s, picked %s, reserved %s, short %s', o.number, p.number, d.required, d.picked, d.reserved, d.short)
            from demand_line d join work_order o on o.id = d.order_id join part p on p.id = d.part_id
            where d.required <> d.picked + d.reserved + d.short or d.gross <> d.required + d.built
              or least(d.gross, d.built, d.required, d.picked, d.reserved, d.short) < 0
            """),
        ("what-was-picked-is-accounted-for-once", """
            select format('order %s reservation %s: picked %s, fitted %s, returned %s, scrapped %s', o.number, r.id, r.picked, r.fitted, r.returned, r.scrapped)
            from reservation r join work_order o on o.id = r.order_id
            where r.held < 0 or least(r.fitted, r.returned, r.scrapped) < 0 or r.fitted + r.returned + r.scrapped > r.picked
              or (o.state = 'closed' and r.fitted + r.returned + r.scrapped <> r.picked)
            """),
        ("ended-orders-hold-nothing", """
            select format('order %s is %s and holds %s of %s', o.number, o.state, r.held, p.number)
            from reservation r join work_order o on o.id = r.order_id join part p on p.id = r.part_id
            where r.held <> 0 and o.state in ('draft', 'closed', 'cancelled')
            """),
        ("a-lot-is-of-one-part", """
            select format('lot %s: stock, movement or reservation of another part', l.number) from lot l
            where exists (select 1 from bin_stock s where s.lot_id = l.id and s.part_id <> l.part_id)
               or exists (select 1 from reservation r where r.lot_id = l.id and r.part_id <> l.part_id)
               or exists (select 1 from movement m where m.lot_id = l.id and m.part_id <> l.part_id)
            """),
        ("every-command-answered-once", """
            select format('command %s of person %s: no answer is kept', key, person_id) from command where answer is null
            """),
    ];

    public Task<IReadOnlyList<TruthCheck>> Read(CancellationToken ct) => desk.Read<IReadOnlyList<TruthCheck>>(async reading =>
    {
        // Every row of a ledger of years is looked at.
        reading.Db.Database.SetCommandTimeout(TimeSpan.FromMinutes(15));
        var answers = new List<TruthCheck>();
        foreach (var (check, rows) in checks)
        {
            var statement = $"select broken as \"Value\" from ({rows}) b(broken) limit {MostNamed}";
            var broken = await reading.Db.Database.SqlQueryRaw<string>(statement).ToListAsync(ct);
            answers.Add(new TruthCheck(check, broken.Count == 0, broken));
        }
        return answers;
    }, ct);
}
