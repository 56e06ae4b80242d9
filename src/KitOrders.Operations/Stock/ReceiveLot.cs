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
/// for it covered, in one transaction. However much waits, six messages go to the database.
/// </summary>
public sealed class ReceiveLot(Desk desk)
{
    public Task<Outcome<ReceiptAnswer>> Run(Call call, Receipt receipt, CancellationToken ct) =>
        desk.Write<ReceiptAnswer, Outcome<(CatalogueItem Part, (BinId Id, string Code) Bin)>>(call, Roles.Storeroom, "receive-lot", trip => ReceiptFacts.AskLabel(trip, receipt), async (work, label) =>
        {
            if (label.Refusal is { } unreadable)
                return unreadable;
            var (part, bin) = label.Value;
            if (StockQuantity.Refuse(receipt.Quantity, part.Unit) is { } noQuantity)
                return noQuantity;
            if (StockQuantity.RefuseCost(receipt.UnitCost) is { } noCost)
                return noCost;
            var cured = CuredOn(receipt.CuredOn, work.Today);
            if (cured.Refusal is { } noDate)
                return noDate;

            var facts = await ReceiptFacts.Lock(work, part.Id, receipt);
            var warnings = new List<string>();
            var taken = TakeLot(work, part, receipt, cured.Value, facts, warnings);
            if (taken.Refusal is { } noLot)
                return noLot;
            var lot = taken.Value;
            if (TakeFromIncoming(work, part, receipt, facts, warnings) is { } noIncoming)
                return noIncoming;
            if (receipt.UnitCost is not null)
                work.Last.With("receivedPart", part.Id.Value).With("averageCost", MovingAverage.After(facts.OnHand, facts.AverageCost, receipt.Quantity, receipt.UnitCost))
                    .Tell("update part_stock set average_cost = @averageCost where part_id = @receivedPart");
            new StockLedger(work).Tell(work.Last, [new StockEntry(part.Id, facts.LotId, bin.Id)
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
                Bin = bin.Code,
                Quantity = receipt.Quantity,
                ExpiresOn = lot.GoodUntil,
                Quarantined = lot.Quarantine is not null,
                QuarantineReason = lot.Quarantine,
                Covered = [.. covered.Select(c => new CoveredOrder(c.OrderNumber, c.PartNumber, c.Quantity))],
                Offers = await ReceiptOffers.Of(work, part, lot.GoodUntil, covered),
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

    /// <summary>The lot on record, or a new one with what its label says.</summary>
    static Outcome<Lot> TakeLot(Work work, CatalogueItem part, Receipt receipt, DateOnly? cured, ReceiptFacts facts, List<string> warnings)
    {
        var number = receipt.Lot?.Trim() is { Length: > 0 } given ? given : NextNumber(work, facts.LotsOfToday);
        if (number.Length > Lot.NumberMaxLength || number.Any(char.IsControl))
            return Refusal.Field("lot", "lot-number-long", $"A lot number has at most {Lot.NumberMaxLength} characters, all of them printable.");
        if (facts.Known is { } known)
            return cured is not null && cured != known.CuredOn
                ? Refusal.Conflict("lot-cure-date-differs", $"Lot {number} of {part.Number} is on record "
                    + (known.CuredOn is { } day ? $"as cured on {day:yyyy-MM-dd}" : "without a cure date")
                    + ". One lot has one cure date: receive this under a lot number of its own.")
                : known;
        var ages = ShelfLife.NeedsCureDate(facts.Elastomers);
        if (!ages && cured is not null)
            warnings.Add($"No elastomer that ages is recorded for {part.Number}, so the cure date is kept but gives no expiry.");
        var lot = new Lot
        {
            PartId = part.Id,
            Number = number,
            ReceivedOn = work.Today,
            CuredOn = cured,
            ExpiresOn = (cured is { } from ? ShelfLife.ExpiresOn(from, facts.Elastomers) : null) ?? Lot.NoExpiry,
            Quarantine = ages && cured is null
                ? $"No cure date is recorded, and {string.Join(", ", facts.Elastomers.Where(e => e.Ages).Select(e => e.Code))} ages." : null,
            UnitCost = receipt.UnitCost,
        };
        work.Last.With("lotId", facts.LotId.Value).With("lotPart", part.Id.Value).With("lotNumber", lot.Number).With("lotReceivedOn", lot.ReceivedOn)
            .With("lotCuredOn", lot.CuredOn).With("lotExpiresOn", lot.ExpiresOn).With("lotQuarantine", lot.Quarantine).With("lotCost", lot.UnitCost)
            .Tell("""
                insert into lot (id, part_id, number, received_on, cured_on, expires_on, quarantine, unit_cost)
                values (@lotId, @lotPart, @lotNumber, @lotReceivedOn, @lotCuredOn, @lotExpiresOn, @lotQuarantine, @lotCost)
                """);
        return lot;
    }

    /// <summary>The day and a running number, of which the part has none yet.</summary>
    static string NextNumber(Work work, IReadOnlyCollection<string> taken) =>
        Enumerable.Range(1, taken.Count + 1).Select(n => ReceiptFacts.DayOf(work) + n.ToString(CultureInfo.InvariantCulture)).First(n => !taken.Contains(n));

    static Refusal? TakeFromIncoming(Work work, CatalogueItem part, Receipt receipt, ReceiptFacts facts, List<string> warnings)
    {
        if (string.IsNullOrWhiteSpace(receipt.Incoming))
            return null;
        if (facts.Incoming is not { } incoming)
            return Refusal.Field("incoming", "incoming-unknown",
                $"No purchase line {receipt.Incoming.Trim()} for part {part.Number}. Look at the delivery note again, or leave the reference out.");
        if (receipt.Quantity > incoming.Outstanding)
            warnings.Add($"{receipt.Incoming.Trim()} had {incoming.Outstanding:0.####} outstanding of {incoming.Quantity:0.####}; "
                + $"{receipt.Quantity:0.####} came. All of it was taken in and the line is received in full.");
        work.Last.With("incoming", incoming.Id).With("incomingReceived", receipt.Quantity).Tell("update incoming set received = received + @incomingReceived where id = @incoming");
        return null;
    }
}
