using KitOrders.Rules;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>A pump that could come to a position.</summary>
/// <param name="At">Where it stands; null in the store.</param>
public sealed record SparePump(string Serial, string Model, Control Control, long? Strokes, IReadOnlyList<string> Fitted, string? At, string? OutOfService);

/// <summary>What would become of the position and of both pumps.</summary>
/// <param name="Refusal">Why they may not change places; null when they may.</param>
public sealed record SwapConsequences(SparePump? Leaving, SparePump Coming, IReadOnlyList<string> Stays, Refusal? Refusal);

/// <summary>Which pumps could take the place of the one at a position, and what would follow. Nothing is written.</summary>
public sealed class SwapOffer(Desk desk)
{
    /// <summary>The pumps in the store; those of the same model as what stands there first.</summary>
    public Task<IReadOnlyList<SparePump>> InStore(string tag, CancellationToken ct) => desk.Read<IReadOnlyList<SparePump>>(async reading =>
    {
        var model = await (from p in reading.Db.Pumps join s in reading.Db.Positions on p.PositionId equals s.Id where s.Tag == tag select (PumpModelId?)p.ModelId).SingleOrDefaultAsync(ct);
        var found = await Described(reading, reading.Db.Pumps.Where(p => p.PositionId == null).OrderByDescending(p => p.ModelId == model).ThenBy(p => p.Serial).Take(100));
        return [.. found.Select(f => f.Spare)];
    }, ct);

    /// <summary>What would follow, as <see cref="SwapPump"/> would do it.</summary>
    public Task<Outcome<SwapConsequences>> Look(string tag, SwapInput input, CancellationToken ct) => desk.Read<Outcome<SwapConsequences>>(async reading =>
    {
        var db = reading.Db;
        if (await db.Positions.SingleOrDefaultAsync(p => p.Tag == tag, ct) is not { } place)
            return PumpRecord.Unknown(tag);
        var goesTo = string.IsNullOrWhiteSpace(input.To) ? null : await db.Positions.SingleOrDefaultAsync(p => p.Tag == input.To, ct);
        if (goesTo is null && !string.IsNullOrWhiteSpace(input.To))
            return Refusal.Field("to", "position-unknown", $"There is no position with the tag {input.To}. Look it up under Pumps.");
        var wanted = new[] { place.Id, goesTo?.Id }.OfType<PositionId>().Select(p => (PositionId?)p).ToList();
        var found = await Described(reading, db.Pumps.Where(p => p.Serial == input.Serial || wanted.Contains(p.PositionId)));
        var coming = found.FirstOrDefault(f => f.Spare.Serial == input.Serial);
        if (coming.Pump is null)
            return Refusal.NotFound("pump-unknown", $"There is no pump with the serial number {input.Serial}. Look it up under Pumps, or import it first.");
        var leaving = found.FirstOrDefault(f => f.Pump.PositionId == place.Id);
        var facts = await SwapPump.Facts(reading, [.. found.Select(f => f.Pump)]);
        var refusal = PumpSwap.MaySwap(tag, leaving.Pump is null ? null : facts[leaving.Pump.Id], facts[coming.Pump.Id], goesTo?.Tag,
            goesTo is null ? null : found.FirstOrDefault(f => f.Pump.PositionId == goesTo.Id).Spare?.Serial, input.On ?? reading.Today, reading.Today, input.Reason);
        return new SwapConsequences(leaving.Spare, coming.Spare, await Staying(reading, place), refusal);
    }, ct);

    static async Task<IReadOnlyList<(Pump Pump, SparePump Spare)>> Described(Reading reading, IQueryable<Pump> pumps)
    {
        var db = reading.Db;
        var rows = await (from p in pumps
                          join m in db.PumpModels on p.ModelId equals m.Id
                          join s in db.Positions on p.PositionId equals s.Id into at
                          from s in at.DefaultIfEmpty()
                          select new { Pump = p, m.Code, m.Control, Tag = s == null ? null : s.Tag }).ToListAsync(reading.Ct);
        var ids = rows.Select(r => r.Pump.Id).ToList();
        var fitted = (await (from f in db.FittedKits join k in db.Parts on f.KitPartId equals k.Id where ids.Contains(f.PumpId) orderby k.Number select new { f.PumpId, k.Number }).ToListAsync(reading.Ct))
            .ToLookup(f => f.PumpId, f => f.Number);
        return [.. rows.Select(r => (r.Pump, new SparePump(r.Pump.Serial, r.Code, r.Control, r.Pump.StrokeCount, [.. fitted[r.Pump.Id]], r.Tag, r.Pump.OutOfService)))];
    }

    /// <summary>What belongs to the position, in words.</summary>
    static async Task<IReadOnlyList<string>> Staying(Reading reading, Position place)
    {
        var fluid = place.FluidId is { } id ? await reading.Db.Fluids.Where(f => f.Id == id).Select(f => f.Name).SingleAsync(reading.Ct) : null;
        return
        [
            $"area {place.Area ?? "not recorded"}", place.Zone switch { null => "zone not recorded", Zone.None => "not classified", { } zone => $"zone {Word.Of(zone)}" },
            place.SupplyVolts is { } volts ? FormattableString.Invariant($"supply {volts:0.##} V {(place.SupplyKind is { } kind ? Word.Of(kind) : "")}").TrimEnd() : "supply not recorded",
            place.CableM is { } metres ? FormattableString.Invariant($"cable {metres:0.##} m{(place.CableMm2 is { } mm2 ? FormattableString.Invariant($" of {mm2:0.##} mm²") : "")}") : "cable not recorded",
            $"fluid {fluid ?? "not recorded"}", $"criticality {place.Criticality}",
        ];
    }
}
