using System.Globalization;
using KitOrders.Operations.Kits;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>One reservation picked. Fewer than are held is a short pick and says why.</summary>
/// <param name="OnShelf">What the bin really holds of the lot after the pick, where the clerk counted it.</param>
public sealed record PickInput(int Reservation, decimal Quantity, string? Reason = null, decimal? OnShelf = null);

/// <summary>
/// Picks held stock for an order. What is not found is written off the shelf there and then, with the reason, becomes short
/// and is served from another lot at once where there is one.
/// </summary>
public sealed class PickLines(Desk desk)
{
    /// <summary>What no pick may be, of an order's lines or a campaign's spares.</summary>
    internal static Refusal? Wrong(IReadOnlyList<PickInput> lines)
    {
        if (lines.Count == 0)
            return Refusal.Field("lines", "pick-empty", "Name at least one reservation to pick.");
        return lines.Select(l => l.Reservation).Distinct().Count() == lines.Count ? null
            : Refusal.Field("lines", "pick-twice", "A reservation is named twice. Name each once, with the whole quantity.");
    }

    public Task<Outcome<string>> Run(Call call, string number, IReadOnlyList<PickInput> lines, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Storeroom, "pick-lines", async work =>
        {
            if (Wrong(lines) is { } wrong)
                return wrong;
            var asked = lines.ToDictionary(l => new ReservationId(l.Reservation));
            var ids = asked.Keys.ToList();
            var parts = await work.Db.Reservations.Where(r => ids.Contains(r.Id)).Select(r => r.PartId).Distinct().ToListAsync(ct);
            var trip = new Trip(work.Db);
            var locked = StockLedger.AskLock(trip, parts);
            await trip.Send(ct);
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            var order = found.Value;
            if (order.State is not (OrderState.Open or OrderState.Staged or OrderState.Underway))
                return Refusal.Conflict("order-state", $"Order {number} is {Word.Of(order.State)}. Parts are picked while it is open, staged or underway.");
            var held = await work.Db.Reservations.AsNoTracking().Where(r => ids.Contains(r.Id) && r.OrderId == order.Id).ToDictionaryAsync(r => r.Id, r => (HeldStock)r, ct);
            var info = locked.Rows.ToDictionary(p => p.Item.Id, p => p.Item);
            foreach (var (id, line) in asked)
                if (Wrong($"Order {number}", line, held.GetValueOrDefault(id), info) is { } refusal)
                    return refusal;

            var costs = locked.Rows.ToDictionary(p => p.Item.Id, p => p.AverageCost ?? p.Item.UnitCost);
            if (await Take(work, $"order {number}", asked, held, costs) is { } cannot)
                return cannot;
            order.Touch();
            work.Audit($"order {number}", Sentence(asked, held, info), order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);

    /// <summary>Takes what was found off the shelf and writes off what was not; other lots serve what is short at once.</summary>
    internal static async Task<Refusal?> Take(
        Work work, string whose, Dictionary<ReservationId, PickInput> asked, Dictionary<ReservationId, HeldStock> held, Dictionary<PartId, decimal?> costs)
    {
        var ledger = new StockLedger(work);
        ledger.Tell(work.Last, [.. asked.Where(a => a.Value.Quantity > 0).Select(a => Picked(held[a.Key], a.Value.Quantity, costs))]);
        var missing = asked.Where(a => a.Value.Quantity < held[a.Key].Held).ToList();
        if (missing.Count == 0)
            return null;
        await work.Send();
        await ledger.Post([.. missing.Select(m => Missing(held[m.Key], held[m.Key].Held - m.Value.Quantity, m.Value.Reason!))]);
        foreach (var (id, line) in missing.Where(m => m.Value.OnShelf is not null))
            if (await CountedAfter(work, ledger, held[id], line) is { } refusal)
                return refusal;
        await CoverShortages.Run(work, missing.Select(m => held[m.Key].PartId).Distinct(), $"the short pick of {whose}");
        return null;
    }

    /// <param name="who">"Order 10482" or "Campaign C-101".</param>
    internal static Refusal? Wrong(string who, PickInput line, HeldStock? held, Dictionary<PartId, CatalogueItem> parts)
    {
        if (held is null)
            return Refusal.Field("reservation", "reservation-unknown", $"{who} holds no reservation {line.Reservation}. Load the order again; it may have moved to another lot.");
        var part = parts[held.PartId];
        if (line.Quantity < 0 || decimal.Round(line.Quantity, 4) != line.Quantity || (part.Unit.IsCounted() && decimal.Truncate(line.Quantity) != line.Quantity))
            return Refusal.Field("quantity", "quantity", $"{line.Quantity:0.######} is not a quantity of {part.Number}, which is kept by the {Word.Of(part.Unit)}.");
        if (line.Quantity > held.Held)
            return Refusal.Field("quantity", "pick-too-many", $"Reservation {line.Reservation} holds {held.Held:0.####} of {part.Number}, not {line.Quantity:0.####}. Put the rest back.");
        if (line.Quantity < held.Held && string.IsNullOrWhiteSpace(line.Reason))
            return Refusal.Field("reason", "short-pick-reason", $"{held.Held:0.####} of {part.Number} are held and {line.Quantity:0.####} picked. Say why the rest is not there.");
        return line.OnShelf is { } seen && (seen < 0 || decimal.Round(seen, 4) != seen || (part.Unit.IsCounted() && decimal.Truncate(seen) != seen))
            ? Refusal.Field("onShelf", "quantity", $"{seen:0.######} cannot lie on the shelf: {part.Number} is kept by the {Word.Of(part.Unit)}.") : null;
    }

    static StockEntry Picked(HeldStock r, decimal quantity, Dictionary<PartId, decimal?> costs) => new(r.PartId, r.LotId, r.BinId)
    {
        Kind = MovementKind.Pick, OnHand = -quantity, Reserved = -quantity, Picked = quantity,
        Reservation = r.Id, Line = r.DemandLineId, Order = (r as Reservation)?.OrderId, UnitCost = costs.GetValueOrDefault(r.PartId),
    };

    static StockEntry Missing(HeldStock r, decimal quantity, string reason) => new(r.PartId, r.LotId, r.BinId)
    {
        Kind = MovementKind.CountDifference, OnHand = -quantity, Reserved = -quantity, Short = quantity,
        Reservation = r.Id, Line = r.DemandLineId, Order = (r as Reservation)?.OrderId, Reason = reason.Trim(),
    };

    /// <summary>What the clerk saw in the bin is the truth, as long as it leaves other orders what they hold there.</summary>
    static async Task<Refusal?> CountedAfter(Work work, StockLedger ledger, HeldStock r, PickInput line)
    {
        var now = await work.Db.BinStocks.AsNoTracking().SingleAsync(s => s.LotId == r.LotId && s.BinId == r.BinId, work.Ct);
        if (line.OnShelf < now.Reserved)
            return Refusal.Conflict("count-below-reserved", $"Other orders hold {now.Reserved:0.####} in this bin and you counted {line.OnShelf:0.####}. Pick what you found, then count the bin, which asks which order goes short.");
        if (line.OnShelf != now.OnHand)
            await ledger.Post([new StockEntry(r.PartId, r.LotId, r.BinId) { Kind = MovementKind.CountDifference, OnHand = line.OnShelf!.Value - now.OnHand, Order = (r as Reservation)?.OrderId, Reason = line.Reason!.Trim() }]);
        return null;
    }

    internal static string Sentence(Dictionary<ReservationId, PickInput> asked, Dictionary<ReservationId, HeldStock> held, Dictionary<PartId, CatalogueItem> parts) =>
        "Picked " + string.Join(", ", asked.Select(a => string.Create(CultureInfo.InvariantCulture,
            $"{a.Value.Quantity:0.####} × {parts[held[a.Key].PartId].Number}{(a.Value.Quantity < held[a.Key].Held ? $" of {held[a.Key].Held:0.####} ({a.Value.Reason})" : "")}"))) + ".";
}
