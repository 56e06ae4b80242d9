using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

public sealed record CorrectionAnswer(long Corrects, string Part, string Lot, string Bin, decimal Quantity, decimal OnHand, IReadOnlyList<CoveredOrder> Covered);

/// <summary>
/// Undoes a receipt, a count difference or a scrap by a new movement that names it. The ledger itself is never changed. Picks,
/// returns and transfers are undone by their own opposites.
/// </summary>
public sealed class CorrectMovement(Desk desk)
{
    public Task<Outcome<CorrectionAnswer>> Run(Call call, long movement, string reason, CancellationToken ct) =>
        desk.Write<CorrectionAnswer>(call, Roles.Storeroom, "correct-movement", async work =>
        {
            if (string.IsNullOrWhiteSpace(reason))
                return Refusal.Field("reason", "reason-missing", "Say what was wrong with it.");
            var wrong = await work.Db.Movements.AsNoTracking().SingleOrDefaultAsync(m => m.Id == movement, ct);
            if (wrong is null)
                return Refusal.NotFound("movement-unknown", $"There is no movement {movement}. Take the number from the part's ledger.");
            if (wrong.Kind is MovementKind.Pick or MovementKind.Return or MovementKind.Transfer || wrong.OrderId is not null)
                return Refusal.Conflict("movement-has-opposite", wrong.Kind switch
                {
                    MovementKind.Pick => "A pick is undone by returning the part.",
                    MovementKind.Return => "A return is undone by picking the part again.",
                    MovementKind.Transfer => "A transfer is undone by moving the part back.",
                    _ => "This movement belongs to an order. Count the bin to put the shelf right.",
                });
            var ledger = new StockLedger(work);
            await ledger.Lock([wrong.PartId]);
            if (await work.Db.Movements.AsNoTracking().Where(m => m.CorrectsId == movement).Select(m => (long?)m.Id).FirstOrDefaultAsync(ct) is { } done)
                return Refusal.Conflict("movement-corrected", $"Movement {movement} was corrected before, by movement {done}.");
            if (wrong.CorrectsId is not null)
                return Refusal.Conflict("movement-is-correction", $"Movement {movement} is itself a correction. Make the movement anew instead.");
            var place = new StockPlace(await work.Db.Parts.AsNoTracking().SingleAsync(p => p.Id == wrong.PartId, ct),
                await work.Db.Lots.AsNoTracking().SingleAsync(l => l.Id == wrong.LotId, ct), await work.Db.Bins.AsNoTracking().SingleAsync(b => b.Id == wrong.BinId, ct));
            if (wrong.Quantity > 0 && await place.NotFree(work, wrong.Quantity, "taken back") is { } notFree)
                return notFree;
            if (wrong.Kind == MovementKind.Receipt)
                await TakeReceiptBack(work, wrong);
            await ledger.Post([new StockEntry(wrong.PartId, wrong.LotId, wrong.BinId)
            {
                Kind = wrong.Kind, OnHand = -wrong.Quantity, UnitCost = wrong.UnitCost, Reason = reason.Trim(), Corrects = wrong.Id,
            }]);
            work.Audit($"part {place.Part.Number}, lot {place.Lot.Number}", $"Corrected movement {movement} of {wrong.Quantity:0.####} in bin {place.Bin.Code}: {reason.Trim()}");
            work.Changed($"part:{place.Part.Number}");
            var covered = wrong.Quantity < 0 ? await CoverShortages.Run(work, [wrong.PartId], $"a correction in bin {place.Bin.Code}") : [];
            return new CorrectionAnswer(movement, place.Part.Number, place.Lot.Number, place.Bin.Code, -wrong.Quantity,
                (await StockPlace.Balance(work, place.Lot, place.Bin)).OnHand, [.. covered.Select(c => new CoveredOrder(c.OrderNumber, c.PartNumber, c.Quantity))]);
        }, ct);

    /// <summary>The purchase line waits for it again, and its price leaves the average.</summary>
    static async Task TakeReceiptBack(Work work, Movement receipt)
    {
        if (receipt.Reason is { } reference
            && await work.Db.Incomings.SingleOrDefaultAsync(i => i.PartId == receipt.PartId && i.Reference == reference, work.Ct) is { } incoming)
            incoming.Received = Math.Max(0, incoming.Received - receipt.Quantity);
        var onHand = await work.Db.BinStocks.Where(s => s.PartId == receipt.PartId).SumAsync(s => s.OnHand, work.Ct);
        var stock = await work.Db.PartStocks.SingleAsync(s => s.PartId == receipt.PartId, work.Ct);
        stock.TakeReceiptBack(onHand, receipt.Quantity, receipt.UnitCost);
    }
}
