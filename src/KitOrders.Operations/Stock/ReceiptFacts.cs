using System.Data.Common;
using System.Globalization;
using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Stock;

/// <summary>What a receipt depends on, read with the part locked.</summary>
/// <param name="LotId">Of the lot on record, or the next free one.</param>
/// <param name="LotsOfToday">Numbers that were given on this day already.</param>
/// <param name="Elastomers">Of the part and of what lies in its box.</param>
/// <param name="OnHand">Of the part, in all bins.</param>
internal sealed record ReceiptFacts(
    LotId LotId, Lot? Known, IReadOnlyCollection<string> LotsOfToday, IReadOnlyList<Elastomer> Elastomers,
    decimal OnHand, decimal? AverageCost, IncomingLine? Incoming)
{
    /// <summary>Asks for the part and the bin that the label and the shelf name.</summary>
    public static Func<Outcome<(CatalogueItem Part, (BinId Id, string Code) Bin)>> AskLabel(Trip trip, Receipt receipt)
    {
        trip.With("part", receipt.Part).With("bin", receipt.Bin);
        var parts = trip.Ask($"select {KitCatalogue.ItemColumns} from part p where p.number = @part", KitCatalogue.ItemOf);
        var bins = trip.Ask("select id, code from bin where code = @bin", row => (new BinId(row.GetInt32(0)), row.GetString(1)));
        return () => parts.Rows is not [var part] ? StockLookup.NoPart(receipt.Part) : bins.Rows is [var bin] ? (part, bin) : StockLookup.NoBin(receipt.Bin);
    }

    public static async Task<ReceiptFacts> Lock(Work work, PartId part, Receipt receipt)
    {
        var trip = new Trip(work.Db).With("part", part.Value).With("lot", receipt.Lot?.Trim()).With("day", DayOf(work) + "%").With("incoming", receipt.Incoming?.Trim());
        var locked = StockLedger.AskLock(trip, [part]);
        var known = trip.Ask("select id, number, received_on, cured_on, expires_on, quarantine, unit_cost from lot where part_id = @part and number = @lot",
            row => (Id: new LotId(row.GetInt32(0)), Lot: LotOf(row, part)));
        var today = trip.Ask("select number from lot where part_id = @part and number like @day", row => row.GetString(0));
        var next = trip.Ask("select nextval(pg_get_serial_sequence('lot', 'id'))", row => new LotId((int)row.GetInt64(0)));
        var onHand = trip.Ask("select coalesce(sum(on_hand), 0) from bin_stock where part_id = @part", row => row.GetDecimal(0));
        var incoming = trip.Ask("select id, quantity, received from incoming where part_id = @part and reference = @incoming",
            row => new IncomingLine(row.GetInt32(0), row.GetDecimal(1), Math.Max(0, row.GetDecimal(1) - row.GetDecimal(2))));
        var tree = KitCatalogue.Ask(trip, [part]);
        await trip.Send(work.Ct);
        return new ReceiptFacts(known.Rows is [var found] ? found.Id : next.Rows[0], known.Rows is [var lot] ? lot.Lot : null, today.Rows.ToHashSet(),
            tree().ElastomersOf(part), onHand.Rows[0], locked.Rows[0].AverageCost, incoming.Rows is [var line] ? line : null);
    }

    /// <summary>What the numbers given on this day begin with.</summary>
    public static string DayOf(Work work) => work.Today.ToString("yyMMdd", CultureInfo.InvariantCulture) + "-";

    static Lot LotOf(DbDataReader row, PartId part) => new()
    {
        PartId = part, Number = row.GetString(1), ReceivedOn = row.GetFieldValue<DateOnly>(2), CuredOn = row.Maybe<DateOnly>(3),
        ExpiresOn = row.GetFieldValue<DateOnly>(4), Quarantine = row.Text(5), UnitCost = row.Maybe<decimal>(6),
    };
}

/// <summary>A purchase line with what of it is still to come.</summary>
internal sealed record IncomingLine(int Id, decimal Quantity, decimal Outstanding);
