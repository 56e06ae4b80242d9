using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>
/// File <c>stock</c>: what lies where. The quantity is what the bin holds of the lot afterwards: a receipt where it held
/// none, a count difference where it held something else. Nothing changes without a movement.
/// </summary>
static class ImportStock
{
    public static readonly ImportSpec Spec = new("stock", Roles.Planner | Roles.Storeroom | Roles.Administrator,
        "part* bin* lot* quantity* received_on* cured_on unit_cost quarantine", "part lot bin", Run, "received_on cured_on", ExportStock.Stock);

    static async Task Run(ImportRun run)
    {
        var parts = await run.PartIds("part");
        var units = await run.Units(parts.Values);
        var codes = run.Values("bin");
        var bins = await run.Db.Bins.Where(b => codes.Contains(b.Code)).Select(b => new { b.Code, b.Id }).ToDictionaryAsync(b => b.Code, b => b.Id, run.Ct);
        var ledger = new StockLedger(run.Work);
        await ledger.Lock(parts.Values);
        var lots = await LotRows.Load(run, parts);
        var held = await Held(run, parts);
        var counts = new List<(Lot Lot, BinId Bin, decimal Quantity, BinStock? Before)>();
        foreach (var row in run.Rows())
        {
            var part = row.Need("part", parts, "part", "parts");
            var bin = row.Need("bin", bins, "bin", "bins");
            var quantity = row.NeedAmount("quantity", Bounds.NotNegative);
            if (quantity > 0 && units.TryGetValue(part, out var unit) && StockQuantity.Refuse(quantity, unit) is { } notWhole)
                row.Refuse("quantity", notWhole.Sentence);
            var lot = lots.LotOf(row, part);
            var before = lots.Before(part, lot.Number) is { } known ? held.GetValueOrDefault((known.Id, bin)) : null;
            if (quantity == 0 && before is null && !row.IsBad)
                row.Refuse("quantity", "The quantity must be above zero. Only a lot that lies in the bin already can be set to 0.");
            if (before is not null && quantity < before.Reserved)
                row.Refuse("quantity", $"{before.Reserved:0.####} of lot {lot.Number} in {row["bin"]} are reserved for orders. The quantity cannot be less; free or pick them first.");
            counts.Add((lot, bin, quantity, before));
        }
        if (run.HasErrors)
            return;
        var ids = await lots.Write();
        var entries = counts.ConvertAll(c => Entry(c.Lot, ids[(c.Lot.PartId, c.Lot.Number)], c.Bin, c.Quantity, c.Before)).FindAll(e => e.OnHand != 0);
        await MoveAverages(run, entries, held.Values);
        await ledger.Post(entries);
        await CoverShortages.Run(run.Work, parts.Values, "stock imported");
    }

    /// <summary>Each receipt at a price moves its part's average, in file order.</summary>
    static async Task MoveAverages(ImportRun run, List<StockEntry> entries, IEnumerable<BinStock> before)
    {
        var priced = entries.Where(e => e is { Kind: MovementKind.Receipt, UnitCost: not null }).Select(e => e.Part).Distinct().ToArray();
        var stocks = await run.Db.PartStocks.Where(s => priced.Contains(s.PartId)).ToDictionaryAsync(s => s.PartId, run.Ct);
        var onHand = before.GroupBy(s => s.PartId).ToDictionary(g => g.Key, g => g.Sum(s => s.OnHand));
        foreach (var entry in entries)
        {
            var now = onHand.GetValueOrDefault(entry.Part);
            if (entry is { Kind: MovementKind.Receipt, UnitCost: not null })
                stocks[entry.Part].Receive(now, entry.OnHand, entry.UnitCost);
            onHand[entry.Part] = now + entry.OnHand;
        }
        await run.Db.SaveChangesAsync(run.Ct);
    }

    static StockEntry Entry(Lot lot, LotId id, BinId bin, decimal quantity, BinStock? before) => before is null || before.OnHand == 0
        ? new StockEntry(lot.PartId, id, bin) { Kind = MovementKind.Receipt, OnHand = quantity, UnitCost = lot.UnitCost }
        : new StockEntry(lot.PartId, id, bin) { Kind = MovementKind.CountDifference, OnHand = quantity - before.OnHand, Reason = "Stock file imported" };

    static Task<Dictionary<(LotId, BinId), BinStock>> Held(ImportRun run, Dictionary<string, PartId> parts)
    {
        var ids = parts.Values.ToArray();
        return run.Db.BinStocks.AsNoTracking().Where(s => ids.Contains(s.PartId)).ToDictionaryAsync(s => (s.LotId, s.BinId), run.Ct);
    }
}
