using System.Data.Common;
using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;

namespace KitOrders.Operations.Orders;

/// <summary>A draft with all that opening it depends on and that nobody changes meanwhile; stock is read once it is locked.</summary>
internal sealed record DraftToOpen(
    OrderId Id, OrderState State, long Version, PumpId Pump, PumpModelId Model, DateOnly FitOn, bool Breakdown,
    string Job, decimal? Hours, decimal? HourlyRate, ProcedureRevisionId? Procedure)
{
    public IReadOnlyList<KitAsked> Kits { get; private init; } = [];

    public KitCatalogue Catalogue { get; private init; } = null!;

    public SuitabilityGround Ground { get; private init; } = null!;

    public IReadOnlyDictionary<PartId, KitRevisionId?> Revisions => Kits.ToDictionary(k => k.Kit, k => Catalogue.Revisions.GetValueOrDefault(k.Kit)?.Id);

    /// <summary>Reads it in one message. Null when there is no such order.</summary>
    public static async Task<DraftToOpen?> Read(Work work, string number)
    {
        var trip = new Trip(work.Db).With("number", number);
        var orders = trip.Ask("""
            select o.id, o.state, o.version, o.pump_id, p.model_id, coalesce(o.planned_fit_on, o.needed_by), o.breakdown, j.code, j.hours, c.hourly_rate, r.id
            from work_order o join pump p on p.id = o.pump_id join job j on j.id = o.job_id left join crew c on c.name = j.crew
            left join procedure_revision r on r.procedure_id = j.procedure_id and r.state = 'released'
            where o.number = @number
            """, Of);
        var kits = trip.Ask("select k.kit_part_id, k.quantity from order_kit k join work_order o on o.id = k.order_id where o.number = @number order by k.kit_part_id",
            row => new KitAsked(new PartId(row.GetInt32(0)), row.GetDecimal(1)));
        var catalogue = KitCatalogue.Ask(trip, "select k.kit_part_id from order_kit k join work_order o on o.id = k.order_id where o.number = @number");
        var ground = SuitabilityReading.AskGround(trip,
            "(select pump_id from work_order where number = @number)", "(select position_id from work_order where number = @number)",
            """
            select r.id from work_order o join order_kit k on k.order_id = o.id join kit_revision r on r.part_id = k.kit_part_id and r.state = 'released'
            where o.number = @number
            """);
        await trip.Send(work.Ct);
        return orders.Rows is [var order] ? order with { Kits = kits.Rows, Catalogue = catalogue(), Ground = ground() } : null;
    }

    static DraftToOpen Of(DbDataReader row) => new(
        new OrderId(row.GetInt32(0)), row.Word<OrderState>(1), row.GetInt64(2), new PumpId(row.GetInt32(3)), new PumpModelId(row.GetInt32(4)),
        row.GetFieldValue<DateOnly>(5), row.GetBoolean(6), row.GetString(7), row.Maybe<decimal>(8), row.Maybe<decimal>(9),
        row.IsDBNull(10) ? null : new ProcedureRevisionId(row.GetInt32(10)));
}
