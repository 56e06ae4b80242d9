using KitOrders.Rules;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>What a label turned out to be.</summary>
/// <param name="SupersededBy">The part that takes its place for good; null when none does.</param>
public sealed record FoundPart(string Part, string Description, Unit Unit, bool Ages, IReadOnlyList<FoundLot> Lots, IReadOnlyList<string> Incoming, string? SupersededBy = null);

public sealed record FoundLot(string Lot, string Bin, decimal OnHand, decimal Free, DateOnly? ExpiresOn, bool Quarantined);

public sealed record BinRow(string Bin, int WalkOrder, IReadOnlyList<BinContent> Contents);

public sealed record BinContent(string Part, string Description, string Lot, decimal OnHand, decimal Reserved, DateOnly? ExpiresOn, bool Quarantined);

/// <summary>Finds parts by number or barcode, and bins with what lies in them.</summary>
public sealed class StoreFinder(Desk desk)
{
    public Task<Outcome<FoundPart>> Part(string text, CancellationToken ct) => desk.Read<Outcome<FoundPart>>(async reading =>
    {
        var db = reading.Db;
        var code = text.Trim();
        var part = await db.Parts.AsNoTracking().FirstOrDefaultAsync(p => p.Number == code, ct)
            ?? await db.Parts.AsNoTracking().FirstOrDefaultAsync(p => p.Barcode == code, ct);
        if (part is null)
            return Refusal.Field("part", "part-unknown", $"No part has the number or barcode {code}. Scan it again, or import the part first.");
        var catalogue = await Kits.KitCatalogue.Load(db, [part.Id], ct);
        var lots = await (from stock in db.BinStocks.AsNoTracking()
                          join lot in db.Lots on stock.LotId equals lot.Id
                          join bin in db.Bins on stock.BinId equals bin.Id
                          where stock.PartId == part.Id && stock.OnHand > 0
                          orderby lot.ExpiresOn, lot.Number, bin.WalkOrder
                          select new FoundLot(lot.Number, bin.Code, stock.OnHand, stock.OnHand - stock.Reserved,
                              lot.ExpiresOn == Lot.NoExpiry ? null : lot.ExpiresOn, lot.Quarantine != null)).ToListAsync(ct);
        var incoming = await db.Incomings.Where(i => i.PartId == part.Id && i.Received < i.Quantity).OrderBy(i => i.PromisedOn).Select(i => i.Reference).ToListAsync(ct);
        return new FoundPart(part.Number, part.Description, part.Unit, ShelfLife.NeedsCureDate(catalogue.ElastomersOf(part.Id)), lots, incoming,
            part.SupersededById is null ? null : await db.Parts.Where(p => p.Id == part.SupersededById).Select(p => p.Number).SingleAsync(ct));
    }, ct);

    /// <summary>Bins in walking order whose code begins so, with what lies in them.</summary>
    public Task<IReadOnlyList<BinRow>> Bins(string? begins, int most, CancellationToken ct) => desk.Read<IReadOnlyList<BinRow>>(async reading =>
    {
        var db = reading.Db;
        var start = begins?.Trim() ?? "";
        var bins = await db.Bins.AsNoTracking().Where(b => b.Code.StartsWith(start)).OrderBy(b => b.WalkOrder).ThenBy(b => b.Code).Take(most).ToListAsync(ct);
        var ids = bins.ConvertAll(b => b.Id);
        var contents = (await (from stock in db.BinStocks.AsNoTracking()
                               join lot in db.Lots on stock.LotId equals lot.Id
                               join part in db.Parts on stock.PartId equals part.Id
                               where ids.Contains(stock.BinId) && stock.OnHand > 0
                               orderby part.Number, lot.ExpiresOn
                               select new { stock.BinId, Row = new BinContent(part.Number, part.Description, lot.Number, stock.OnHand, stock.Reserved,
                                   lot.ExpiresOn == Lot.NoExpiry ? null : lot.ExpiresOn, lot.Quarantine != null) }).ToListAsync(ct)).ToLookup(c => c.BinId, c => c.Row);
        return [.. bins.Select(b => new BinRow(b.Code, b.WalkOrder, [.. contents[b.Id]]))];
    }, ct);
}
