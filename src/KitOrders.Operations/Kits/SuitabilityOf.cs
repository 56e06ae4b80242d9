using KitOrders.Operations.Orders;
using KitOrders.Operations.Pumps;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>One check of one kit against one pump.</summary>
public sealed record SuitabilityView(Check Check, string Kit, CheckResult Result, string Reason, IReadOnlyDictionary<string, decimal> Numbers);

/// <summary>Does the current revision of this kit suit the pump that stands there now? Eleven checks, nothing kept.</summary>
public sealed class SuitabilityOf(Desk desk)
{
    /// <param name="on">The day it would be fitted; today when left out.</param>
    public Task<Outcome<IReadOnlyList<SuitabilityView>>> Check(string? pump, string? kit, DateOnly? on, CancellationToken ct) =>
        desk.Read<Outcome<IReadOnlyList<SuitabilityView>>>(async reading =>
        {
            if (string.IsNullOrWhiteSpace(pump))
                return Refusal.Field("pump", "pump-missing", "Name the pump by its tag.");
            if (string.IsNullOrWhiteSpace(kit))
                return Refusal.Field("kit", "kit-missing", "Name the kit.");
            var db = reading.Db;
            var position = await db.Positions.SingleOrDefaultAsync(p => p.Tag == pump, ct);
            var stands = position is null ? null : await db.Pumps.SingleOrDefaultAsync(p => p.PositionId == position.Id, ct);
            if (position is null || stands is null)
                return PumpRecord.Unknown(pump, position is not null);
            var part = await db.Parts.SingleOrDefaultAsync(p => p.Number == kit && db.KitRevisions.Any(r => r.PartId == p.Id && r.State == RevisionState.Released), ct);
            if (part is null)
                return Refusal.NotFound("kit-unknown", $"No current revision of kit {kit}. Look it up under Kits, or release one.");
            var day = on ?? reading.Today;
            var catalogue = await KitCatalogue.Load(db, [part.Id], ct);
            var planned = DemandPlanning.Plan([new KitAsked(part.Id, 1)], catalogue, await CarryOverRecord.Of(db, catalogue, ct), await Shelves.Of(db, catalogue.All, ct), day, reading.Plant.SpareRisk);
            var lots = planned.IsDone ? planned.Value.SelectMany(l => l.Takes.Select(t => new HeldLot(l.Plan.Part, t.Lot))).ToList() : [];
            var judged = await SuitabilityReading.Judge(db, stands, position, [part.Id], catalogue, lots, day, null, ct);
            return judged.Select(j => new SuitabilityView(j.Check, j.Kit, j.Result, j.Reason, j.Finding.Numbers)).ToList();
        }, ct);
}
