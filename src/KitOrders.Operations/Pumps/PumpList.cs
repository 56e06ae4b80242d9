using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Pumps;

namespace KitOrders.Operations.Pumps;

public sealed record PumpFilter
{
    public Control? Control { get; init; }

    /// <summary>True: at least one order that has not ended.</summary>
    public bool WithOrders { get; init; }

    /// <summary>Tag, serial, model, area or fluid.</summary>
    public string? Search { get; init; }

    /// <summary>The pumps in the store, by serial number, in place of those that stand at a position.</summary>
    public bool InStore { get; init; }
}

public sealed record PumpRow
{
    /// <summary>Where it stands; empty in the store.</summary>
    public required string Tag { get; init; }
    public required string Serial { get; init; }
    public required string Model { get; init; }
    public required Control Control { get; init; }
    public required bool? SensingRod { get; init; }
    public required string? Area { get; init; }
    public required Zone? Zone { get; init; }
    public required string? Fluid { get; init; }
    public required int Criticality { get; init; }
    public required long? Strokes { get; init; }
    public required string? OutOfService { get; init; }
    public required IReadOnlyList<string> Fitted { get; init; }
    public required int OpenOrders { get; init; }
}

/// <summary>The pumps that stand at a position now, by tag; those in the store by serial number.</summary>
public sealed class PumpList(Desk desk)
{
    public const int LargestPage = 500;

    const string Unended = "o.state not in ('closed', 'cancelled')";

    /// <summary>One page; <c>Next</c> is passed as <paramref name="after"/> for the one that follows.</summary>
    public Task<Outcome<Page<PumpRow>>> Find(PumpFilter filter, string? after, int? pageSize, CancellationToken ct) =>
        desk.Read<Outcome<Page<PumpRow>>>(async reading =>
        {
            if (PageOf.Wrong(pageSize, LargestPage) is { } refusal)
                return refusal;
            var size = pageSize ?? 100;
            var trip = new Trip(reading.Db);
            var rows = Ask(trip, filter, after, size + 1);
            await trip.Send(ct);
            var items = rows.Rows.Take(size).ToList();
            return new Page<PumpRow>(items, rows.Rows.Count > size ? filter.InStore ? items[^1].Serial : items[^1].Tag : null);
        }, ct);

    /// <summary>The page is found first, by its key; what is counted and collected is so for its rows alone.</summary>
    static Trip.Answer<PumpRow> Ask(Trip trip, PumpFilter filter, string? after, int most)
    {
        var key = filter.InStore ? "p.serial" : "s.tag";
        List<string> where = [filter.InStore ? "p.position_id is null" : "p.position_id is not null"];
        if (filter.Control is { } control)
        {
            trip.With("control", Word.Of(control));
            where.Add("m.control = @control");
        }
        if (filter.WithOrders)
            where.Add($"exists (select from work_order o where o.pump_id = p.id and {Unended})");
        if (!string.IsNullOrWhiteSpace(filter.Search))
        {
            trip.With("like", OrderList.Like(filter.Search));
            where.Add("(s.tag ilike @like or p.serial ilike @like or m.code ilike @like or s.area ilike @like or f.name ilike @like)");
        }
        if (after is not null)
        {
            trip.With("after", after);
            where.Add($"{key} > @after");
        }
        return trip.With("most", most).Ask($"""
            with page as (
              select p.id, s.tag, p.serial, m.code, m.control, p.sensing_rod, s.area, s.zone, f.name, s.criticality, p.stroke_count, p.out_of_service
              from pump p join pump_model m on m.id = p.model_id left join position s on s.id = p.position_id left join fluid f on f.id = s.fluid_id
              where {string.Join(" and ", where)} order by {key} limit @most
            )
            select page.*, (select count(*) from work_order o where o.pump_id = page.id and {Unended}),
                   array(select k.number from fitted_kit t join part k on k.id = t.kit_part_id where t.pump_id = page.id order by k.number)
            from page order by tag, serial
            """, row => new PumpRow
        {
            Tag = row.Text(1) ?? "", Serial = row.GetString(2), Model = row.GetString(3), Control = row.Word<Control>(4), SensingRod = row.Maybe<bool>(5), Area = row.Text(6),
            Zone = row.MaybeWord<Zone>(7), Fluid = row.Text(8), Criticality = row.Maybe<int>(9) ?? 0, Strokes = row.Maybe<long>(10), OutOfService = row.Text(11),
            OpenOrders = (int)row.GetInt64(12), Fitted = row.GetFieldValue<string[]>(13),
        });
    }
}
