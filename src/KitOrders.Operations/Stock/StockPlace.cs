using KitOrders.Rules;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>A lot of a part in a bin, found by what stands on the labels.</summary>
internal sealed record StockPlace(Part Part, Lot Lot, Bin Bin)
{
    public static async Task<Outcome<StockPlace>> Find(Work work, string? part, string? lot, string? bin, string binField = "bin")
    {
        var foundPart = await StockLookup.Part(work.Db, part, work.Ct);
        if (foundPart.Refusal is { } noPart)
            return noPart;
        var foundLot = await StockLookup.Lot(work.Db, foundPart.Value, lot, work.Ct);
        if (foundLot.Refusal is { } noLot)
            return noLot;
        var foundBin = await StockLookup.Bin(work.Db, bin, work.Ct, binField);
        return foundBin.Refusal is { } noBin ? noBin : new StockPlace(foundPart.Value, foundLot.Value, foundBin.Value);
    }

    /// <summary>What the bin holds of the lot, and how much of it is held for orders. Ask with the part locked.</summary>
    public static async Task<(decimal OnHand, decimal Reserved)> Balance(Work work, Lot lot, Bin bin) =>
        await work.Db.BinStocks.AsNoTracking().SingleOrDefaultAsync(s => s.LotId == lot.Id && s.BinId == bin.Id, work.Ct) is { } stock
            ? (stock.OnHand, stock.Reserved) : (0, 0);

    /// <summary>Null when so much lies there free; else what lies there and who holds it.</summary>
    public async Task<Refusal?> NotFree(Work work, decimal quantity, string verb)
    {
        var (onHand, reserved) = await Balance(work, Lot, Bin);
        if (quantity > onHand)
            return Refusal.Conflict("not-enough-stock",
                $"Bin {Bin.Code} holds {onHand:0.####} of lot {Lot.Number}, so {quantity:0.####} cannot be {verb}. If the shelf says otherwise, count it first.");
        if (quantity <= onHand - reserved)
            return null;
        var holders = await Holders.Of(work.Db, Lot.Id, Bin.Id, work.Ct);
        return Refusal.Conflict("stock-reserved",
            $"{onHand - reserved:0.####} of the {onHand:0.####} in bin {Bin.Code} are free; the rest is held by "
            + $"{Holders.Sentence(holders.Select(h => (h, h.Reservation.Held)))}. Take less, or count the bin, which asks which order goes short.");
    }

    /// <summary>Leaves the loss in the history of every order that lost.</summary>
    public static void Lost(Work work, IEnumerable<(Holder Holder, decimal Quantity)> losing, string by, string part)
    {
        foreach (var order in losing.GroupBy(l => (l.Holder.Called, l.Holder.Order, l.Holder.OrderId)))
        {
            work.Audit(order.Key.Called, $"Lost {order.Sum(l => l.Quantity):0.####} × {part} by {by}.", order.Key.OrderId);
            work.Changed($"{(order.Key.OrderId is null ? "campaign" : "order")}:{order.Key.Order}");
        }
    }
}
