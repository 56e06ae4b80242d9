using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>What the operations on a lot's life share: the lot followed by the context, its elastomers, who loses by it.</summary>
internal static class LotLife
{
    public static async Task<Outcome<(Part Part, Lot Lot)>> Locked(Work work, string? part, string? lot)
    {
        var foundPart = await StockLookup.Part(work.Db, part, work.Ct);
        if (foundPart.Refusal is { } noPart)
            return noPart;
        var foundLot = await StockLookup.Lot(work.Db, foundPart.Value, lot, work.Ct);
        if (foundLot.Refusal is { } noLot)
            return noLot;
        await new StockLedger(work).Lock([foundPart.Value.Id]);
        return (foundPart.Value, await work.Db.Lots.SingleAsync(l => l.Id == foundLot.Value.Id, work.Ct));
    }

    public static async Task<IReadOnlyList<Elastomer>> Elastomers(Work work, PartId part) =>
        (await KitCatalogue.Load(work.Db, [part], work.Ct)).ElastomersOf(part);

    /// <summary>Every hold on the lot is given up; what orders need is looked for in other lots by the caller.</summary>
    public static async Task<List<(Holder Holder, decimal Quantity)>> GiveUpHolds(Work work, Part part, Lot lot, Func<Holder, bool> which, string by)
    {
        var losing = (await Holders.Of(work.Db, lot.Id, null, work.Ct)).Where(which).Select(h => (h, h.Reservation.Held)).ToList();
        await new StockLedger(work).Post([.. losing.Select(l => l.h.GiveUp(l.Held))]);
        StockPlace.Lost(work, losing, by, part.Number);
        return losing;
    }

    public static LotAnswer Answer(Part part, Lot lot, IEnumerable<(Holder Holder, decimal Quantity)> lost, IEnumerable<CoveredLine> covered) =>
        new(part.Number, lot.Number, lot.CuredOn, lot.GoodUntil, lot.InspectedOn, lot.Quarantine is not null, lot.Quarantine,
            [.. lost.Select(l => new CoveredOrder(l.Holder.Order, part.Number, l.Quantity))],
            [.. covered.Select(c => new CoveredOrder(c.OrderNumber, c.PartNumber, c.Quantity))]);
}

/// <summary>A lot after something was decided about it.</summary>
/// <param name="Lost">Orders that lost what they held of it.</param>
/// <param name="Covered">Orders that got something, of this lot or of another.</param>
public sealed record LotAnswer(string Part, string Lot, DateOnly? CuredOn, DateOnly? ExpiresOn, DateOnly? InspectedOn, bool Quarantined, string? QuarantineReason,
    IReadOnlyList<CoveredOrder> Lost, IReadOnlyList<CoveredOrder> Covered);
