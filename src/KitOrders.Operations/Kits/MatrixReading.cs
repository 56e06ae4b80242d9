using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;
using KitOrders.Storage;

namespace KitOrders.Operations.Kits;

/// <summary>What is on record of many pumps and of what kits call for on their models, in two messages whatever their number.</summary>
internal sealed record MatrixReading(IReadOnlyList<MatrixPump> Pumps, IReadOnlyDictionary<KitRevisionId, IReadOnlyDictionary<string, FitFacts>> Fits)
{
    public static async Task<MatrixReading> Read(KitOrdersDb db, MatrixFilter filter, IReadOnlyList<KitRevisionId> revisions, CancellationToken ct)
    {
        var pumps = AskPumps(db, filter, out var first);
        var fits = first.With("revisions", revisions.Select(r => r.Value).ToArray()).Ask($"""
            select {SuitabilityReading.FitColumns}, m.code
            from kit_fit f join kit_revision r on r.id = f.kit_revision_id join pump_model m on m.id = f.model_id left join pump_model t on t.id = f.converts_to_id
            where r.id = any(@revisions)
            """, row => (Revision: new KitRevisionId(row.GetInt32(0)), Model: row.GetString(17), Fit: SuitabilityReading.FitOf(row, 0)!));
        await first.Send(ct);
        var ids = pumps.Rows.Select(p => p.Id).ToArray();
        var second = new Trip(db).With("pumps", ids);
        var company = second.Ask($"""
            select f.pump_id, null, null, p.number from fitted_kit f join part p on p.id = f.kit_part_id where f.pump_id = any(@pumps)
            union all
            select o.pump_id, o.number, coalesce(o.planned_fit_on, o.needed_by), p.number
            from work_order o join order_kit k on k.order_id = o.id join part p on p.id = k.kit_part_id
            where o.pump_id = any(@pumps) and o.state in ({SuitabilityReading.Living})
            """, row => (Pump: row.GetInt32(0), Row: (Order: row.Text(1), FitOn: row.Maybe<DateOnly>(2), Kit: row.GetString(3))));
        await second.Send(ct);
        var around = company.Rows.GroupBy(c => c.Pump).ToDictionary(c => c.Key, c => SuitabilityReading.CompanyOf(c.Select(x => x.Row)));
        return new MatrixReading(
            [.. pumps.Rows.Select(p => around.TryGetValue(p.Id, out var with) ? p.Pump with { Facts = p.Pump.Facts with { Fitted = with.Fitted }, OtherOrders = with.OtherOrders } : p.Pump)],
            fits.Rows.GroupBy(f => f.Revision).ToDictionary(f => f.Key, f => (IReadOnlyDictionary<string, FitFacts>)f.ToDictionary(x => x.Model, x => x.Fit)));
    }

    static Trip.Answer<(int Id, MatrixPump Pump)> AskPumps(KitOrdersDb db, MatrixFilter filter, out Trip trip)
    {
        trip = new Trip(db);
        List<string> where = ["true"];
        void When<T>(T? value, string name, string condition, Trip with)
        {
            if (value is null)
                return;
            with.With(name, value);
            where.Add(condition);
        }

        When(filter.Tags?.ToArray(), "tags", "s.tag = any(@tags)", trip);
        When(Like(filter.Search), "search", "(s.tag ilike @search or p.serial ilike @search)", trip);
        When(Text(filter.Model), "model", "m.code = @model", trip);
        When(filter.Control is { } control ? Word.Of(control) : null, "control", "m.control = @control", trip);
        When(Like(filter.Area), "area", "s.area ilike @area", trip);
        When(filter.Zone is { } zone ? Word.Of(zone) : null, "zone", "s.zone = @zone", trip);
        When(Text(filter.Fluid), "fluid", "f.name = @fluid", trip);
        if (filter.ZoneNotRecorded)
            where.Add("s.zone is null");
        var ports = new Dictionary<string, IReadOnlyList<Port>>();
        return trip.Ask($"""
            select {SuitabilityReading.PlaceColumns}, p.id, s.tag, p.serial, s.area, s.criticality
            from pump p join pump_model m on m.id = p.model_id join position s on s.id = p.position_id left join fluid f on f.id = s.fluid_id
            where {string.Join(" and ", where)}
            order by s.tag
            """, row => (row.GetInt32(17), new MatrixPump(row.GetString(18), row.GetString(19), row.Text(20), row.GetInt32(21))
        {
            Facts = SuitabilityReading.PumpOf(row, 0, ports), Position = SuitabilityReading.PositionOf(row, 0),
        }));
    }

    static string? Text(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    static string? Like(string? text) => Text(text) is { } words ? OrderList.Like(words) : null;
}
