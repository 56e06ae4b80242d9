using System.Data.Common;
using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;

namespace KitOrders.Operations.Orders;

/// <summary>A draft with all that opening it depends on and that does not change meanwhile; stock is read once it is locked.</summary>
internal sealed record DraftToOpen(
    OrderId Id, OrderState State, long Version, PumpId Pump, PumpModelId Model, DateOnly FitOn, bool Breakdown,
    string Job, decimal? Hours, decimal? HourlyRate, ProcedureRevisionId? Procedure, CampaignId? Campaign)
{
    public IReadOnlyList<KitAsked> Kits { get; private init; } = [];

    /// <summary>The current revision of each kit; null where none is released.</summary>
    public IReadOnlyDictionary<PartId, KitRevisionId?> Revisions { get; private init; } = new Dictionary<PartId, KitRevisionId?>();

    public SuitabilityGround Ground { get; private init; } = null!;

    /// <summary>Asks for it; null when there is no such order.</summary>
    public static Func<DraftToOpen?> Ask(Trip trip, string number)
    {
        trip.With("number", number);
        var orders = trip.Ask($"""
            select {SuitabilityReading.PlaceColumns}, o.id, o.state, o.version, o.pump_id, p.model_id, coalesce(o.planned_fit_on, o.needed_by), o.breakdown,
                   j.code, j.hours, c.hourly_rate, pr.id, o.campaign_id
            from work_order o join pump p on p.id = o.pump_id join pump_model m on m.id = p.model_id
            join position s on s.id = o.position_id left join fluid f on f.id = s.fluid_id
            join job j on j.id = o.job_id left join crew c on c.name = j.crew
            left join procedure_revision pr on pr.procedure_id = j.procedure_id and pr.state = 'released'
            where o.number = @number
            """, row => (Order: Of(row, 17), Pump: SuitabilityReading.PumpOf(row, 0), Position: SuitabilityReading.PositionOf(row, 0)));
        var kits = trip.Ask($"""
            select k.kit_part_id, k.quantity, {SuitabilityReading.FitColumns}
            from work_order o join order_kit k on k.order_id = o.id join pump p on p.id = o.pump_id join pump_model m on m.id = p.model_id
            left join kit_revision r on r.part_id = k.kit_part_id and r.state = 'released'
            left join kit_fit f on f.kit_revision_id = r.id and f.model_id = p.model_id left join pump_model t on t.id = f.converts_to_id
            where o.number = @number
            order by k.kit_part_id
            """, row => (Kit: new KitAsked(new PartId(row.GetInt32(0)), row.GetDecimal(1)), Revision: RevisionOf(row)));
        return () => orders.Rows is not [var (order, pump, position)] ? null : order with
        {
            Kits = [.. kits.Rows.Select(k => k.Kit)],
            Revisions = kits.Rows.ToDictionary(k => k.Kit.Kit, k => k.Revision?.Id),
            Ground = new SuitabilityGround(pump, position,
                kits.Rows.Where(k => k.Revision is not null).ToDictionary(k => k.Revision!.Value.Id, k => (k.Revision!.Value.Number, k.Revision.Value.Fit))),
        };
    }

    static (KitRevisionId Id, int Number, FitFacts? Fit)? RevisionOf(DbDataReader row) =>
        row.IsDBNull(2) ? null : (new KitRevisionId(row.GetInt32(2)), row.GetInt32(3), SuitabilityReading.FitOf(row, 2));

    static DraftToOpen Of(DbDataReader row, int at) => new(
        new OrderId(row.GetInt32(at)), row.Word<OrderState>(at + 1), row.GetInt64(at + 2), new PumpId(row.GetInt32(at + 3)), new PumpModelId(row.GetInt32(at + 4)),
        row.GetFieldValue<DateOnly>(at + 5), row.GetBoolean(at + 6), row.GetString(at + 7), row.Maybe<decimal>(at + 8), row.Maybe<decimal>(at + 9),
        row.IsDBNull(at + 10) ? null : new ProcedureRevisionId(row.GetInt32(at + 10)),
        row.IsDBNull(at + 11) ? null : new CampaignId(row.GetInt32(at + 11)));
}
