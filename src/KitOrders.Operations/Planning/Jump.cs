using KitOrders.Operations.Orders;

namespace KitOrders.Operations.Planning;

public enum JumpKind
{
    Order,
    Pump,
    Kit,
    Part,
    Bin,
    Lot,
}

/// <param name="Key">What the page of the thing is found by.</param>
/// <param name="Exact">The search is its number or barcode, letter for letter.</param>
public sealed record JumpHit(JumpKind Kind, string Key, string Title, string Beside, bool Exact);

/// <summary>Goes to any pump, part, kit, order, bin or lot by number, words or barcode.</summary>
public sealed class Jump(Desk desk)
{
    public const int EachKind = 12;

    /// <summary>What the search may mean: the exact hits first, then kind by kind.</summary>
    public Task<IReadOnlyList<JumpHit>> Find(string? search, CancellationToken ct) => desk.Read<IReadOnlyList<JumpHit>>(async reading =>
    {
        var words = search?.Trim() ?? "";
        if (words.Length == 0 || words.Length > 200)
            return [];
        var like = OrderList.Like(words);
        var trip = new Trip(reading.Db).With("like", like).With("exact", like[1..^1]).With("words", words);
        var orders = AskOrders(trip);
        var pumps = trip.Ask($"""
            select coalesce(s.tag, p.serial), p.serial, m.code, case when s.id is null then 'in the store' else s.area end from pump p left join position s on s.id = p.position_id join pump_model m on m.id = p.model_id
            where p.id = any(array(
              select id from pump where serial ilike @like
              union select n.id from position t join pump n on n.position_id = t.id where (t.tag || ' ' || coalesce(t.area, '')) ilike @like
              union select id from pump where model_id = any(array(select id from pump_model where code ilike @like))))
            order by s.tag ilike @exact or p.serial ilike @exact desc, s.tag limit {EachKind}
            """, row => (Tag: row.GetString(0), Serial: row.GetString(1), Model: row.GetString(2), Area: row.Text(3)));
        var parts = AskParts(trip, $"""
            from part p where (p.number || ' ' || p.description) ilike @like or p.barcode = @words
            order by p.number ilike @exact or coalesce(p.barcode = @words, false) desc, p.number ilike @like desc, p.number limit {EachKind * 2}
            """);
        var bins = trip.Ask($"""
            select b.code, (select count(*) from bin_stock s where s.bin_id = b.id and s.on_hand > 0) from bin b where b.code ilike @like order by b.walk_order, b.code limit {EachKind}
            """, row => (Code: row.GetString(0), Lots: row.GetInt64(1)));
        var lots = trip.Ask($"""
            select l.number, p.number, p.description from lot l join part p on p.id = l.part_id where l.number = @words order by p.number limit {EachKind}
            """, row => (Number: row.GetString(0), Part: row.GetString(1), Description: row.GetString(2)));
        await trip.Send(ct);
        var found = orders.Rows.Count + pumps.Rows.Count + parts.Rows.Count + bins.Rows.Count + lots.Rows.Count > 0 ? parts.Rows : await Similar(reading, words);
        JumpHit[] hits =
        [
            .. orders.Rows.Select(o => new JumpHit(JumpKind.Order, o.Number, o.Description, o.Tag, Same(o.Number))),
            .. pumps.Rows.Select(p => new JumpHit(JumpKind.Pump, p.Tag, p.Model, $"serial {p.Serial}{(p.Area is null ? "" : ", " + p.Area)}", Same(p.Tag) || Same(p.Serial))),
            .. found.Where(p => p.Kit).Take(EachKind).Select(p => new JumpHit(JumpKind.Kit, p.Number, p.Description, "", Same(p.Number) || p.Barcode == words)),
            .. found.Where(p => !p.Kit).Take(EachKind).Select(p => new JumpHit(JumpKind.Part, p.Number, p.Description, "", Same(p.Number) || p.Barcode == words)),
            .. bins.Rows.Select(b => new JumpHit(JumpKind.Bin, b.Code, b.Lots == 1 ? "1 lot in it" : $"{b.Lots} lots in it", "", Same(b.Code))),
            .. lots.Rows.Select(l => new JumpHit(JumpKind.Lot, l.Part, $"lot {l.Number} of {l.Part}", l.Description, true)),
        ];
        return [.. hits.OrderByDescending(h => h.Exact).ThenBy(h => h.Kind)];

        bool Same(string text) => text.Equals(words, StringComparison.OrdinalIgnoreCase);
    }, ct);

    /// <summary>By number, and by what is done; of those the ones that have not ended first, then the newest.</summary>
    static Trip.Answer<(string Number, string Tag, string Description)> AskOrders(Trip trip)
    {
        const string Ended = "o.state in ('closed', 'cancelled')";
        // Asked first whether there is such a job, so that no order is looked at where there is none.
        const string Done = "exists (select from job where description ilike @like) and o.job_id = any(array(select id from job where description ilike @like))";
        return trip.Ask($"""
            with found as (
              (select o.id from work_order o where o.number ilike @like order by o.number ilike @exact desc, {Ended}, o.id desc limit {EachKind})
              union (select o.id from work_order o where {Done} and not {Ended} order by o.id desc limit {EachKind})
              union (select o.id from work_order o where {Done} and {Ended} order by o.id desc limit {EachKind})
            )
            select o.number, s.tag, j.description
            from work_order o join position s on s.id = o.position_id join job j on j.id = o.job_id where o.id in (select id from found)
            order by o.number ilike @exact desc, o.number ilike @like desc, {Ended}, o.id desc limit {EachKind}
            """, row => (row.GetString(0), row.GetString(1), row.GetString(2)));
    }

    static Trip.Answer<(string Number, string Description, string? Barcode, bool Kit)> AskParts(Trip trip, string from) => trip.Ask($"""
        select p.number, p.description, p.barcode, exists (select from kit_revision r where r.part_id = p.id
            and (exists (select from kit_fit f where f.kit_revision_id = r.id) or exists (select from job_kit k where k.kit_part_id = p.id)))
        {from}
        """, row => (row.GetString(0), row.GetString(1), row.Text(2), row.GetBoolean(3)));

    /// <summary>Where nothing is written so, the parts with a word most like it; none on a server that cannot compare words.</summary>
    static async Task<IReadOnlyList<(string Number, string Description, string? Barcode, bool Kit)>> Similar(Reading reading, string words)
    {
        var trip = new Trip(reading.Db).With("words", words);
        var parts = AskParts(trip, $"from similar_parts(@words, {EachKind}) with ordinality s(id, rank) join part p on p.id = s.id order by s.rank");
        await trip.Send(reading.Ct);
        return parts.Rows;
    }
}
