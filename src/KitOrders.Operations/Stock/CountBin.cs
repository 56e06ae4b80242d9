using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>What a person counted of a lot in a bin.</summary>
public sealed record Count(string Part, string Bin, string Lot, decimal Counted)
{
    /// <summary>That orders lose what they hold, the least pressing first, where less was counted than is reserved.</summary>
    public bool Accept { get; init; }

    public string? Reason { get; init; }
}

/// <param name="Book">What the book said before.</param>
/// <param name="Lost">Orders that lost what they held; some of it may be covered from elsewhere.</param>
public sealed record CountAnswer(string Part, string Lot, string Bin, decimal Book, decimal Counted, decimal Difference,
    IReadOnlyList<CoveredOrder> Lost, IReadOnlyList<CoveredOrder> Covered);

/// <summary>
/// Counts a lot in a bin. The difference is a movement; a count that finds what the book says is kept all the same. A count
/// below what is reserved is asked about first, because orders lose by it.
/// </summary>
public sealed class CountBin(Desk desk)
{
    public Task<Outcome<CountAnswer>> Run(Call call, Count count, CancellationToken ct) =>
        desk.Write<CountAnswer>(call, Roles.Storeroom, "count-bin", async work =>
        {
            var place = await StockPlace.Find(work, count.Part, count.Lot, count.Bin);
            if (place.Refusal is { } nowhere)
                return nowhere;
            var (part, lot, bin) = place.Value;
            if (StockQuantity.Refuse(count.Counted, part.Unit, "counted", zeroAllowed: true) is { } noQuantity)
                return noQuantity;
            var ledger = new StockLedger(work);
            await ledger.Lock([part.Id]);
            var (book, reserved) = await StockPlace.Balance(work, lot, bin);
            var losing = new List<(Holder Holder, decimal Quantity)>();
            if (count.Counted < reserved)
            {
                losing = Holders.Losing(await Holders.Of(work.Db, lot.Id, bin.Id, ct), reserved - count.Counted);
                if (!count.Accept)
                    return Refusal.Conflict("count-below-reserved",
                        $"{reserved:0.####} of lot {lot.Number} in {bin.Code} are reserved and {count.Counted:0.####} were counted. "
                        + $"Taken so, the least pressing lose it: {Holders.Sentence(losing)}. Count once more; if it is right, accept it.").At("counted");
            }
            var difference = count.Counted - book;
            var reason = string.IsNullOrWhiteSpace(count.Reason) ? null : count.Reason.Trim();
            await ledger.Post([
                .. losing.Select(l => l.Holder.GiveUp(l.Quantity)),
                .. difference == 0 ? [] : new[]
                {
                    new StockEntry(part.Id, lot.Id, bin.Id) { Kind = MovementKind.CountDifference, OnHand = difference, Reason = reason },
                },
            ]);
            work.Db.BinCounts.Add(new BinCount
            {
                At = work.Now, PartId = part.Id, LotId = lot.Id, BinId = bin.Id, Book = book, Counted = count.Counted, PersonId = work.Actor.Person,
            });
            work.Audit($"part {part.Number}, lot {lot.Number}", difference == 0
                ? $"Counted {count.Counted:0.####} in bin {bin.Code}, as on record."
                : $"Counted {count.Counted:0.####} in bin {bin.Code}, {book:0.####} on record.{(losing.Count == 0 ? "" : $" Lost by {Holders.Sentence(losing)}.")}");
            StockPlace.Lost(work, losing, $"a count of bin {bin.Code}", part.Number);
            work.Changed($"part:{part.Number}");
            var covered = difference == 0 ? [] : await CoverShortages.Run(work, [part.Id], $"a count of bin {bin.Code}");
            return new CountAnswer(part.Number, lot.Number, bin.Code, book, count.Counted, difference,
                [.. losing.Select(l => new CoveredOrder(l.Holder.Order, part.Number, l.Quantity))],
                [.. covered.Select(c => new CoveredOrder(c.OrderNumber, c.PartNumber, c.Quantity))]);
        }, ct);
}
