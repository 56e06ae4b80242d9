using KitOrders.Rules.Parts;
using KitOrders.Storage;

namespace KitOrders.Operations.Kits;

/// <summary>How often parts kept from a pump were judged, and how often they were rejected; corrected decisions do not count.</summary>
internal static class CarryOverRecord
{
    public static async Task<IReadOnlyDictionary<PartId, (int Decisions, int Rejected)>> Of(KitOrdersDb db, KitCatalogue catalogue, CancellationToken ct)
    {
        var trip = new Trip(db);
        var asked = Ask(trip, catalogue.Kept);
        await trip.Send(ct);
        return asked();
    }

    /// <summary>Asks about the parts, if there are any; the answer is there once the trip has been made.</summary>
    public static Func<IReadOnlyDictionary<PartId, (int Decisions, int Rejected)>> Ask(Trip trip, int[] kept)
    {
        if (kept.Length == 0)
            return () => new Dictionary<PartId, (int, int)>();
        var rows = trip.With("kept", kept).Ask("""
            select s.part_id, count(*), count(*) filter (where r.decision = 'replace')
            from order_step s join step_result r on r.order_step_id = s.id
            where s.part_id = any(@kept) and r.decision is not null and not exists (select from step_result later where later.corrects_id = r.id)
            group by s.part_id
            """, row => (Part: new PartId(row.GetInt32(0)), Decisions: (int)row.GetInt64(1), Rejected: (int)row.GetInt64(2)));
        return () => rows.Rows.ToDictionary(r => r.Part, r => (r.Decisions, r.Rejected));
    }
}
