using System.Data.Common;
using System.Globalization;
using KitOrders.Rules;
using KitOrders.Rules.Orders;

namespace KitOrders.Operations.Orders;

/// <summary>
/// Reads the rows of a page in one message: the orders from the index they are sorted by, from the key of the row before on,
/// and then of these alone the sums of their lines and what is short of each.
/// </summary>
internal static class OrderRows
{
    public const string Unfinished = "'draft', 'open', 'staged', 'underway'";

    // The very words of the partial indexes.
    const string Living = "o.state in ('draft', 'open', 'staged', 'underway', 'finished')";

    /// <summary>Where a row stands in every order of the list; null when there is no such order.</summary>
    public static async Task<(int Urgency, DateOnly FitOn, int Id)?> Key(Reading reading, string number)
    {
        var trip = new Trip(reading.Db).With("number", number);
        var key = trip.Ask("select -score, fit_on, id from work_order where number = @number", row => (row.GetInt32(0), row.GetFieldValue<DateOnly>(1), row.GetInt32(2)));
        await trip.Send(reading.Ct);
        return key.Rows.Count == 1 ? key.Rows[0] : null;
    }

    /// <summary>Kits of the order of which a newer revision was released since, as "LK-20 2 3"; numbers of kits hold no blank.</summary>
    const string Newer = """
        array(select p.number || ' ' || r.number || ' ' || c.number
              from order_kit k join kit_revision r on r.id = k.kit_revision_id
              join kit_revision c on c.part_id = k.kit_part_id and c.state = 'released' and c.number > r.number
              join part p on p.id = k.kit_part_id where k.order_id = o.id and o.state in ('open', 'staged', 'underway') order by p.number)
        """;

    public static async Task<IReadOnlyList<OrderRow>> Read(Reading reading, OrderFilter filter, (int Urgency, DateOnly FitOn, int Id)? after, int most)
    {
        var trip = new Trip(reading.Db);
        var sort = filter.Sort switch { OrderSort.FitOn => "o.fit_on, (-o.score), o.id", OrderSort.Newest => "o.id desc", _ => "(-o.score), o.fit_on, o.id" };
        var page = $"""
            with page as (
              select o.* from work_order o join position s on s.id = o.position_id join job j on j.id = o.job_id
              where {string.Join(" and ", Wanted(trip, reading, filter).Concat(Behind(trip, filter.Sort, after)))} order by {sort} limit {most}
            )
            """;
        var heads = trip.Ask($"""
            {page}
            select o.id, o.number, s.tag, s.area, j.code, j.description, o.state, o.paused, o.staged_place, o.breakdown, o.score, s.criticality, o.work_class, o.needed_by, o.fit_on,
                   coalesce(o.estimated_hours, j.hours), coalesce(l.picked, 0), coalesce(l.reserved, 0), coalesce(l.short, 0), l.lines, l.covered,
                   {Newer}, c.number
            from page o left join campaign c on c.id = o.campaign_id join position s on s.id = o.position_id join job j on j.id = o.job_id
            cross join lateral (
              select sum(d.picked) as picked, sum(d.reserved) as reserved, sum(d.short) as short, count(*)::int as lines, (count(*) filter (where d.short = 0))::int as covered
              from demand_line d where d.order_id = o.id and d.required > 0
            ) l
            order by {sort}
            """, row => (Id: row.GetInt32(0), Row: RowOf(row, reading.Today)));
        var holds = trip.Ask($"""
            {page}
            select d.order_id, p.number, p.description, sum(d.short), i.quantity, i.promised_on
            from page o join demand_line d on d.order_id = o.id join part p on p.id = d.part_id
            cross join lateral (select coalesce(sum(quantity - received), 0) as quantity, min(promised_on) as promised_on from incoming where part_id = p.id and received < quantity) i
            where d.short > 0 group by d.order_id, p.id, i.quantity, i.promised_on
            """, row => (Order: row.GetInt32(0), Incoming: Math.Min(row.GetDecimal(3), row.GetDecimal(4)),
                Part: new HoldingPart(row.GetString(1), row.GetString(2), row.GetDecimal(3), row.Maybe<DateOnly>(5), row.Maybe<DateOnly>(5) < reading.Today)));
        await trip.Send(reading.Ct);
        var held = holds.Rows.OrderBy(h => h.Part.PromisedOn is not null).ThenByDescending(h => h.Part.Short).ThenBy(h => h.Part.Part, StringComparer.Ordinal).ToLookup(h => h.Order);
        return [.. heads.Rows.Select(h => h.Row with { Incoming = held[h.Id].Sum(p => p.Incoming), Holds = [.. held[h.Id].Select(p => p.Part)] })];
    }

    static IEnumerable<string> Wanted(Trip trip, Reading reading, OrderFilter filter)
    {
        yield return filter.States.Count == 0 ? Living : $"o.state in ({string.Join(", ", filter.States.Select(s => $"'{Word.Of(s)}'"))})";
        if (filter.Late)
        {
            trip.With("today", reading.Today);
            yield return $"o.state in ({Unfinished}) and o.fit_on < @today";
        }
        if (filter.Short is { } isShort)
            yield return $"o.state <> 'draft' and {(isShort ? "" : "not ")}exists (select from demand_line d where d.order_id = o.id and d.short > 0)";
        if (filter.FitBefore is { } before)
        {
            trip.With("before", before);
            yield return "o.fit_on < @before";
        }
        if (filter.WorkClass is { } workClass)
        {
            trip.With("workClass", workClass);
            yield return "o.work_class = @workClass";
        }
        if (!string.IsNullOrWhiteSpace(filter.Search))
        {
            trip.With("like", OrderList.Like(filter.Search));
            yield return """
                (o.number ilike @like or s.tag ilike @like or j.code ilike @like or j.description ilike @like
                  or exists (select from demand_line d join part p on p.id = d.part_id where d.order_id = o.id and p.number ilike @like))
                """;
        }
    }

    static IEnumerable<string> Behind(Trip trip, OrderSort sort, (int Urgency, DateOnly FitOn, int Id)? after)
    {
        if (after is not { } key)
            yield break;
        trip.With("afterId", key.Id);
        if (sort != OrderSort.Newest)
            trip.With("afterUrgency", key.Urgency).With("afterFit", key.FitOn);
        yield return sort switch
        {
            OrderSort.FitOn => "(o.fit_on, (-o.score), o.id) > (@afterFit, @afterUrgency, @afterId)",
            OrderSort.Newest => "o.id < @afterId",
            _ => "((-o.score), o.fit_on, o.id) > (@afterUrgency, @afterFit, @afterId)",
        };
    }

    static OrderRow RowOf(DbDataReader row, DateOnly today)
    {
        var (state, fitOn) = (row.Word<OrderState>(6), row.GetFieldValue<DateOnly>(14));
        return new OrderRow
        {
            Number = row.GetString(1), Pump = row.GetString(2), Area = row.Text(3), Job = row.GetString(4), JobDescription = row.GetString(5), State = state,
            Paused = row.Text(7), StagedPlace = row.Text(8), Breakdown = row.GetBoolean(9), Score = row.GetInt32(10), Criticality = row.GetInt32(11),
            WorkClass = row.GetInt32(12), NeededBy = row.GetFieldValue<DateOnly>(13), FitOn = fitOn, Hours = row.Maybe<decimal>(15),
            DaysLate = state is OrderState.Draft or OrderState.Open or OrderState.Staged or OrderState.Underway ? Math.Max(0, today.DayNumber - fitOn.DayNumber) : 0,
            Picked = row.GetDecimal(16), Reserved = row.GetDecimal(17), Short = row.GetDecimal(18), Lines = row.GetInt32(19), LinesCovered = row.GetInt32(20),
            Incoming = 0, Holds = [], Campaign = row.Text(22),
            NewerRevisions = [.. row.GetFieldValue<string[]>(21).Select(n => n.Split(' ')).Select(n => new NewerRevision(n[0], int.Parse(n[1], CultureInfo.InvariantCulture), int.Parse(n[2], CultureInfo.InvariantCulture)))],
        };
    }
}
