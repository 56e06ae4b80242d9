using System.Globalization;
using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>What has come. Without a lot number the next one of the day is given.</summary>
public sealed record Receipt(string Part, decimal Quantity, string Bin)
{
    public string? Lot { get; init; }

    /// <summary>A day or a quarter, as it stands on the label.</summary>
    public string? CuredOn { get; init; }

    /// <summary>Reference of the purchase line that it belongs to.</summary>
    public string? Incoming { get; init; }

    public decimal? UnitCost { get; init; }
}

public sealed record ReceiptAnswer
{
    public required string Part { get; init; }
    public required string Lot { get; init; }
    public required string Bin { get; init; }
    public required decimal Quantity { get; init; }
    public required DateOnly? ExpiresOn { get; init; }

    public required bool Quarantined { get; init; }

    /// <summary>Why the lot may not be used; null when it may.</summary>
    public required string? QuarantineReason { get; init; }

    /// <summary>Waiting orders that got some of it, the most pressing first.</summary>
    public required IReadOnlyList<CoveredOrder> Covered { get; init; }

    /// <summary>Orders that it would finish, beside higher ones that hold it and are not finished by it.</summary>
    public required IReadOnlyList<ReceiptOffer> Offers { get; init; }

    /// <summary>What was taken as given but deserves a look.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }
}

public sealed record CoveredOrder(string Order, string Part, decimal Quantity);

public sealed record ReceiptOffer(string Order, DateOnly NeededBy, string Part, decimal Quantity, IReadOnlyList<ReceiptOfferSource> From);

/// <param name="Waiting">The parts that it waits for all the same.</param>
public sealed record ReceiptOfferSource(string Order, decimal Quantity, IReadOnlyList<string> Waiting);

/// <summary>
/// Takes a lot in: its shelf life from the label, its cost into the moving average, its purchase line down, and what waits
/// for it covered, in one transaction.
/// </summary>
public sealed class ReceiveLot(Desk desk)
{
    public Task<Outcome<ReceiptAnswer>> Run(Call call, Receipt receipt, CancellationToken ct) =>
        desk.Write<ReceiptAnswer>(call, Roles.Storeroom, "receive-lot", async work =>
        {
            var found = await StockLookup.Part(work.Db, receipt.Part, ct);
            if (found.Refusal is { } noPart)
                return noPart;
            var part = found.Value;
            var bin = await StockLookup.Bin(work.Db, receipt.Bin, ct);
            if (bin.Refusal is { } noBin)
                return noBin;
            if (StockQuantity.Refuse(receipt.Quantity, part.Unit) is { } noQuantity)
                return noQuantity;
            if (StockQuantity.RefuseCost(receipt.UnitCost) is { } noCost)
                return noCost;
            var cured = CuredOn(receipt.CuredOn, work.Today);
            if (cured.Refusal is { } noDate)
                return noDate;

            var ledger = new StockLedger(work);
            await ledger.Lock([part.Id]);
            var warnings = new List<string>();
            var taken = await TakeLot(work, part, receipt, cured.Value, warnings);
            if (taken.Refusal is { } noLot)
                return noLot;
            var lot = taken.Value;
            if (await TakeFromIncoming(work, part, receipt, warnings) is { } noIncoming)
                return noIncoming;
            await MoveAverage(work, part.Id, receipt);
            await ledger.Post([new StockEntry(part.Id, lot.Id, bin.Value.Id)
            {
                Kind = MovementKind.Receipt, OnHand = receipt.Quantity, UnitCost = receipt.UnitCost, Reason = receipt.Incoming,
            }]);
            if (lot.GoodUntil is { } last && last < work.Today)
                warnings.Add($"The last good day of lot {lot.Number} was {last:yyyy-MM-dd}: no order can use it. Put it aside and ask for a fresh one.");

            work.Audit($"part {part.Number}, lot {lot.Number}",
                $"Received {receipt.Quantity:0.####} {Word.Of(part.Unit)} into bin {receipt.Bin}{(lot.Quarantine is null ? "" : ", quarantined")}.");
            work.Changed($"part:{part.Number}");
            var covered = await CoverShortages.Run(work, [part.Id], $"receipt of lot {lot.Number}");
            return new ReceiptAnswer
            {
                Part = part.Number,
                Lot = lot.Number,
                Bin = bin.Value.Code,
                Quantity = receipt.Quantity,
                ExpiresOn = lot.GoodUntil,
                Quarantined = lot.Quarantine is not null,
                QuarantineReason = lot.Quarantine,
                Covered = [.. covered.Select(c => new CoveredOrder(c.OrderNumber, c.PartNumber, c.Quantity))],
                Offers = await ReceiptOffers.Of(work, part, lot, covered),
                Warnings = warnings,
            };
        }, ct);

    internal static Outcome<DateOnly?> CuredOn(string? written, DateOnly today)
    {
        if (string.IsNullOrWhiteSpace(written))
            return (DateOnly?)null;
        var read = CureDate.Read(written, today.Year);
        if (read.Refusal is { } unreadable)
            return unreadable;
        // Of a quarter the last day counts, which lies ahead while the quarter runs: only one that has not begun cannot be.
        var isDay = written.Contains('-', StringComparison.Ordinal);
        var begun = isDay ? read.Value : new DateOnly(read.Value.Year, read.Value.Month, 1).AddMonths(-2);
        return begun > today
            ? Refusal.Field("curedOn", "cure-date-ahead", $"{written.Trim()} has not begun yet: today is {today:yyyy-MM-dd}. Read the label again.")
            : read.Value;
    }

    static async Task<Outcome<Lot>> TakeLot(Work work, Part part, Receipt receipt, DateOnly? cured, List<string> warnings)
    {
        var number = receipt.Lot?.Trim();
        if (string.IsNullOrEmpty(number))
            number = await NextNumber(work, part.Id);
        else if (number.Length > Lot.NumberMaxLength || number.Any(char.IsControl))
            return Refusal.Field("lot", "lot-number-long", $"A lot number has at most {Lot.NumberMaxLength} characters, all of them printable.");
        if (await work.Db.Lots.SingleOrDefaultAsync(l => l.PartId == part.Id && l.Number == number, work.Ct) is { } known)
        {
            if (cured is not null && cured != known.CuredOn)
                return Refusal.Conflict("lot-cure-date-differs", $"Lot {number} of {part.Number} is on record "
                    + (known.CuredOn is { } day ? $"as cured on {day:yyyy-MM-dd}" : "without a cure date")
                    + ". One lot has one cure date: receive this under a lot number of its own.");
            return known;
        }
        var catalogue = await KitCatalogue.Load(work.Db, [part.Id], work.Ct);
        var elastomers = catalogue.ElastomersOf(part.Id);
        var ages = ShelfLife.NeedsCureDate(elastomers);
        if (!ages && cured is not null)
            warnings.Add($"No elastomer that ages is recorded for {part.Number}, so the cure date is kept but gives no expiry.");
        var lot = new Lot
        {
            PartId = part.Id,
            Number = number,
            ReceivedOn = work.Today,
            CuredOn = cured,
            ExpiresOn = (cured is { } day2 ? ShelfLife.ExpiresOn(day2, elastomers) : null) ?? Lot.NoExpiry,
            Quarantine = ages && cured is null
                ? $"No cure date is recorded, and {string.Join(", ", elastomers.Where(e => e.Ages).Select(e => e.Code))} ages." : null,
            UnitCost = receipt.UnitCost,
        };
        work.Db.Lots.Add(lot);
        await work.Db.SaveChangesAsync(work.Ct);
        return lot;
    }

    /// <summary>The day and a running number, of which the part has none yet.</summary>
    internal static async Task<string> NextNumber(Work work, PartId part)
    {
        var day = work.Today.ToString("yyMMdd", CultureInfo.InvariantCulture) + "-";
        var taken = await work.Db.Lots.Where(l => l.PartId == part && l.Number.StartsWith(day)).Select(l => l.Number).ToListAsync(work.Ct);
        return Enumerable.Range(1, taken.Count + 1).Select(n => day + n.ToString(CultureInfo.InvariantCulture)).First(n => !taken.Contains(n));
    }

    static async Task<Refusal?> TakeFromIncoming(Work work, Part part, Receipt receipt, List<string> warnings)
    {
        if (string.IsNullOrWhiteSpace(receipt.Incoming))
            return null;
        var reference = receipt.Incoming.Trim();
        var incoming = await work.Db.Incomings.SingleOrDefaultAsync(i => i.PartId == part.Id && i.Reference == reference, work.Ct);
        if (incoming is null)
            return Refusal.Field("incoming", "incoming-unknown",
                $"No purchase line {reference} for part {part.Number}. Look at the delivery note again, or leave the reference out.");
        if (receipt.Quantity > incoming.Outstanding)
            warnings.Add($"{reference} had {incoming.Outstanding:0.####} outstanding of {incoming.Quantity:0.####}; "
                + $"{receipt.Quantity:0.####} came. All of it was taken in and the line is received in full.");
        incoming.Received += receipt.Quantity;
        return null;
    }

    static async Task MoveAverage(Work work, PartId part, Receipt receipt)
    {
        if (receipt.UnitCost is null)
            return;
        var onHand = await work.Db.BinStocks.Where(s => s.PartId == part).SumAsync(s => s.OnHand, work.Ct);
        var stock = await work.Db.PartStocks.SingleAsync(s => s.PartId == part, work.Ct);
        stock.Receive(onHand, receipt.Quantity, receipt.UnitCost);
    }
}
