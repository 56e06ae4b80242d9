using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <param name="Serial">The pump that comes in, from the store or from another position.</param>
/// <param name="On">The day it was done; today when left out.</param>
/// <param name="To">Tag of the position where the leaving pump goes; the store when left out.</param>
public sealed record SwapInput(string Serial, string Reason, DateOnly? On = null, string? To = null);

/// <summary>
/// Another pump takes the place of the one at a position. Its model, fitted kits, strokes and history come with its serial number;
/// area, zone, supply, cable, fluid and criticality stay with the position.
/// </summary>
public sealed class SwapPump(Desk desk)
{
    static readonly OrderState[] ended = [OrderState.Closed, OrderState.Cancelled];

    public Task<Outcome<string>> Run(Call call, string tag, SwapInput input, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "swap-pump", async work =>
        {
            var places = await work.Db.Positions.Where(p => p.Tag == tag || p.Tag == input.To).ToListAsync(ct);
            if (places.Find(p => p.Tag == tag) is not { } place)
                return PumpRecord.Unknown(tag);
            var goesTo = string.IsNullOrWhiteSpace(input.To) ? null : places.Find(p => p.Tag == input.To);
            if (goesTo is null && !string.IsNullOrWhiteSpace(input.To))
                return Refusal.Field("to", "position-unknown", $"There is no position with the tag {input.To}. Look it up under Pumps.");
            var wanted = new[] { place.Id, goesTo?.Id }.OfType<PositionId>().Select(p => (PositionId?)p).ToList();
            var ids = await work.Db.Pumps.Where(p => p.Serial == input.Serial || wanted.Contains(p.PositionId)).Select(p => p.Id).ToListAsync(ct);
            var pumps = await PumpsAt.Lock(work, [.. ids]);
            if (pumps.Find(p => p.Serial == input.Serial) is not { } coming)
                return Refusal.NotFound("pump-unknown", $"There is no pump with the serial number {input.Serial}. Look it up under Pumps, or import it first.");
            var leaving = pumps.Find(p => p.PositionId == place.Id);
            var facts = await Facts(work.Reading, pumps);
            var on = input.On ?? work.Today;
            if (PumpSwap.MaySwap(tag, leaving is null ? null : facts[leaving.Id], facts[coming.Id], goesTo?.Tag,
                    goesTo is null ? null : pumps.Find(p => p.PositionId == goesTo.Id)?.Serial, on, work.Today, input.Reason) is { } refusal)
                return refusal;
            await Move(work, place, coming, leaving, goesTo, facts[coming.Id].At, on, input.Reason.Trim());
            return tag;
        }, ct);

    static async Task Move(Work work, Position place, Pump coming, Pump? leaving, Position? goesTo, string? from, DateOnly on, string reason)
    {
        var stays = new Stays(work.Db, on, work.Ct);
        if (leaving is not null)
        {
            var where = goesTo is null ? "the store" : goesTo.Tag;
            await stays.Leave(leaving, $"To {where}, {coming.Serial} took its place: {reason}");
            Note(work, leaving, on, $"Moved: from {place.Tag} to {where}; {coming.Serial} took its place. {reason}");
        }
        if (coming.PositionId is not null)
            await stays.Leave(coming, $"To {place.Tag}: {reason}");
        // A position holds one pump at a time: first both leave, then both come.
        await work.Db.SaveChangesAsync(work.Ct);
        stays.Come(coming, place, $"From {from ?? "the store"}{(leaving is null ? "" : $", in place of {leaving.Serial}")}: {reason}");
        Note(work, coming, on, $"Moved: from {from ?? "the store"} to {place.Tag}{(leaving is null ? "" : $" in place of {leaving.Serial}")}. {reason}");
        if (leaving is not null && goesTo is not null)
            stays.Come(leaving, goesTo, $"From {place.Tag}: {reason}");
        work.Audit($"position {place.Tag}", $"Pump {coming.Serial} came from {from ?? "the store"}{(leaving is null ? "" : $" in place of {leaving.Serial}, which went to {goesTo?.Tag ?? "the store"}")}, on {on:yyyy-MM-dd}: {reason}");
        work.Changed("pumps");
    }

    static void Note(Work work, Pump pump, DateOnly on, string what) => work.Db.PumpChanges.Add(new PumpChange
    {
        PumpId = pump.Id, On = on, What = what, ModelBefore = pump.ModelId, ModelAfter = pump.ModelId, StrokeCount = pump.StrokeCount,
    });

    /// <summary>What keeps each of the pumps where it stands.</summary>
    internal static async Task<Dictionary<PumpId, MovingPump>> Facts(Reading reading, IReadOnlyList<Pump> pumps)
    {
        var db = reading.Db;
        var ids = pumps.Select(p => p.Id).ToList();
        var at = pumps.Select(p => p.PositionId).ToList();
        var tags = await db.Positions.Where(p => at.Contains(p.Id)).Select(p => new { p.Id, p.Tag }).ToDictionaryAsync(p => p.Id, p => p.Tag, reading.Ct);
        var since = (await db.PumpStays.AsNoTracking().Where(s => ids.Contains(s.PumpId)).ToListAsync(reading.Ct))
            .GroupBy(s => s.PumpId).ToDictionary(s => s.Key, s => s.SelectMany(x => new[] { x.From, x.Until }).Max());
        var orders = (await db.WorkOrders.Where(o => ids.Contains(o.PumpId) && !ended.Contains(o.State)).OrderBy(o => o.Id)
            .Select(o => new { o.PumpId, o.Number, o.State }).ToListAsync(reading.Ct)).ToLookup(o => o.PumpId, o => $"order {o.Number} ({Word.Of(o.State)})");
        return pumps.ToDictionary(p => p.Id, p => new MovingPump(p.Serial, p.PositionId is { } place ? tags[place] : null, since.GetValueOrDefault(p.Id), p.OutOfService, [.. orders[p.Id]]));
    }
}
