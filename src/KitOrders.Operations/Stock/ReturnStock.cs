using KitOrders.Operations.Kits;
using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>Picked parts that come back to the shelf.</summary>
/// <param name="Reservation">The reservation they were picked from.</param>
public sealed record Return(string Order, int Reservation, decimal Quantity)
{
    /// <summary>Where they go; without it the bin they came from.</summary>
    public string? Bin { get; init; }

    /// <summary>To be said of a kit or assembly: an opened one goes back as its parts.</summary>
    public bool? Sealed { get; init; }
}

public sealed record ReturnAnswer(string Order, string Bin, IReadOnlyList<ReturnedPart> Returned, IReadOnlyList<CoveredOrder> Covered);

public sealed record ReturnedPart(string Part, string Lot, decimal Quantity, DateOnly? ExpiresOn, bool Quarantined);

/// <summary>
/// Puts picked parts back. Before work has begun the order is short of them again; afterwards they are accounted for as
/// returned. What is free is given to those who wait, the most pressing first.
/// </summary>
public sealed class ReturnStock(Desk desk)
{
    public Task<Outcome<ReturnAnswer>> Run(Call call, Return given, CancellationToken ct) =>
        desk.Write<ReturnAnswer>(call, Roles.Storeroom, "return-stock", async work =>
        {
            var seen = await work.Db.HeldStocks.AsNoTracking().SingleOrDefaultAsync(r => r.Id == new ReservationId(given.Reservation), ct);
            if (seen is null)
                return Unknown(given);
            var part = await work.Db.Parts.AsNoTracking().SingleAsync(p => p.Id == seen.PartId, ct);
            if (StockQuantity.Refuse(given.Quantity, part.Unit) is { } noQuantity)
                return noQuantity;
            var bin = given.Bin is null
                ? await work.Db.Bins.AsNoTracking().SingleAsync(b => b.Id == seen.BinId, ct) : await StockLookup.Bin(work.Db, given.Bin, ct);
            if (bin.Refusal is { } noBin)
                return noBin;
            var inside = await InsideOf(work, seen);
            if (inside.Count > 0 && given.Sealed is null)
                return Refusal.Field("sealed", "sealed-or-opened", $"{part.Number} is a box with {inside.Count} lines in it. Say whether it comes back sealed; an opened one goes back as its parts.");
            var opened = inside.Count > 0 && given.Sealed == false;

            var ledger = new StockLedger(work);
            await ledger.Lock([part.Id, .. opened ? inside.Select(l => l.PartId) : []]);
            var found = await ReturningOwner.Lock(work, given.Order, seen);
            if (found.Refusal is { } unknown)
                return unknown;
            var owner = found.Value;
            // It is gone when the order was planned again meanwhile.
            var reservation = await work.Db.HeldStocks.AsNoTracking().SingleOrDefaultAsync(r => r.Id == seen.Id, ct);
            if (reservation is null || !owner.Owns)
                return Unknown(given);
            if (given.Quantity > reservation.Unaccounted)
                return Refusal.Conflict("return-too-many", $"{owner.Called} has {reservation.Unaccounted:0.####} of {part.Number} picked from this reservation and not accounted for, so {given.Quantity:0.####} cannot come back.").At("quantity");

            var lot = await work.Db.Lots.AsNoTracking().SingleAsync(l => l.Id == reservation.LotId, ct);
            var back = opened
                ? await AsParts(work, inside, part, lot, given.Quantity)
                : [new Back(part, lot, given.Quantity)];
            await ledger.Post([.. Entries(owner, reservation, bin.Value, given.Quantity, back)]);
            owner.Order?.Touch();
            var what = string.Join(", ", back.Select(b => $"{b.Quantity:0.####} × {b.Part.Number}"));
            work.Audit(owner.Subject, $"Returned to bin {bin.Value.Code}{(opened ? $" from an opened {part.Number}" : "")}: {what}.", owner.Order?.Id);
            work.Changed(owner.Changed);
            if (owner.Campaign is { } campaign)
                await CampaignPool.Resize(work, campaign, [part.Id], ending: true);
            foreach (var item in back)
                work.Changed($"part:{item.Part.Number}");
            var covered = await CoverShortages.Run(work, back.Select(b => b.Part.Id).Concat(owner.Campaign is null ? [] : [part.Id]).Distinct(), $"a return from {owner.Subject}");
            return new ReturnAnswer(given.Order, bin.Value.Code,
                [.. back.Select(b => new ReturnedPart(b.Part.Number, b.Lot.Number, b.Quantity, b.Lot.GoodUntil, b.Lot.Quarantine is not null))],
                [.. covered.Select(c => new CoveredOrder(c.OrderNumber, c.PartNumber, c.Quantity))]);
        }, ct);

    sealed record Back(Part Part, Lot Lot, decimal Quantity);

    static Refusal Unknown(Return given) => Refusal.Field("reservation", "reservation-unknown",
        $"Order {given.Order} has no reservation {given.Reservation}. Load the order again and take the number from its demand.");

    /// <summary>The box as the order's revision had it, else as the current one has it; empty for what is no box.</summary>
    static async Task<List<KitLine>> InsideOf(Work work, HeldStock reservation)
    {
        var order = (reservation as Reservation)?.OrderId;
        var opened = order is null ? null : await work.Db.OrderKits.Where(k => k.OrderId == order && k.KitPartId == reservation.PartId)
            .Select(k => k.KitRevisionId).SingleOrDefaultAsync(work.Ct);
        return await work.Db.KitRevisions.AsNoTracking()
            .Where(r => r.PartId == reservation.PartId && (opened == null ? r.State == RevisionState.Released : r.Id == opened))
            .SelectMany(r => r.Lines).Where(l => l.Source == LineSource.InTheBox).OrderBy(l => l.Number).ToListAsync(work.Ct);
    }

    /// <summary>The box is one batch: its parts keep its lot number and its cure date, and age each by its own elastomers.</summary>
    static async Task<List<Back>> AsParts(Work work, List<KitLine> inside, Part kit, Lot box, decimal quantity)
    {
        var back = new List<Back>();
        foreach (var line in inside.GroupBy(l => l.PartId))
        {
            var part = await work.Db.Parts.AsNoTracking().SingleAsync(p => p.Id == line.Key, work.Ct);
            var number = box.Number;
            var lot = await work.Db.Lots.SingleOrDefaultAsync(l => l.PartId == part.Id && l.Number == number, work.Ct);
            if (lot is not null && lot.CuredOn != box.CuredOn)
            {
                number = $"{kit.Number}-{box.Number}"[..Math.Min(Lot.NumberMaxLength, kit.Number.Length + 1 + box.Number.Length)];
                lot = await work.Db.Lots.SingleOrDefaultAsync(l => l.PartId == part.Id && l.Number == number, work.Ct);
            }
            if (lot is null)
            {
                var elastomers = await LotLife.Elastomers(work, part.Id);
                work.Db.Lots.Add(lot = new Lot
                {
                    PartId = part.Id,
                    Number = number,
                    ReceivedOn = box.ReceivedOn,
                    CuredOn = box.CuredOn,
                    ExpiresOn = (box.CuredOn is { } cured ? ShelfLife.ExpiresOn(cured, elastomers, box.InspectedOn is not null) : null) ?? Lot.NoExpiry,
                    InspectedOn = box.InspectedOn,
                    Quarantine = box.Quarantine ?? (ShelfLife.NeedsCureDate(elastomers) && box.CuredOn is null ? $"Out of lot {box.Number} of {kit.Number}, which has no cure date." : null),
                });
                await work.Db.SaveChangesAsync(work.Ct);
            }
            back.Add(new Back(part, lot, line.Sum(l => l.Quantity) * quantity));
        }
        return back;
    }

    static IEnumerable<StockEntry> Entries(ReturningOwner owner, HeldStock reservation, Bin bin, decimal quantity, List<Back> back)
    {
        var undone = owner.Undone;
        yield return new StockEntry(reservation.PartId, reservation.LotId, reservation.BinId)
        {
            Reservation = reservation.Id, Line = undone ? reservation.DemandLineId : null, Order = owner.Order?.Id,
            Picked = undone ? -quantity : 0, Short = undone ? quantity : 0, Returned = undone ? 0 : quantity,
        };
        foreach (var item in back)
            yield return new StockEntry(item.Part.Id, item.Lot.Id, bin.Id) { Kind = MovementKind.Return, OnHand = item.Quantity, Order = owner.Order?.Id };
    }
}
