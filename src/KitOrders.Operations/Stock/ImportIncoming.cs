using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>File <c>incoming</c>: purchase lines not yet received. What has come of a line stays as it is.</summary>
static class ImportIncoming
{
    public static readonly ImportSpec Spec = new("incoming", Roles.Planner | Roles.Storeroom | Roles.Administrator,
        "reference* part* quantity* promised_on supplier received", "reference part", Run, "promised_on", ExportStock.Incoming);

    static async Task Run(ImportRun run)
    {
        var parts = await run.PartIds("part");
        var units = await run.Units(parts.Values);
        var references = run.Values("reference");
        var recorded = await run.Db.Incomings.AsNoTracking().Where(i => references.Contains(i.Reference)).ToDictionaryAsync(i => (i.Reference, i.PartId), run.Ct);
        var lines = new List<Incoming>();
        foreach (var row in run.Rows())
        {
            var reference = row.NeedText("reference", 60);
            var part = row.Need("part", parts, "part", "parts");
            var quantity = row.NeedAmount("quantity", Bounds.AboveZero);
            if (quantity > 0 && units.TryGetValue(part, out var unit) && StockQuantity.Refuse(quantity, unit) is { } notWhole)
                row.Refuse("quantity", notWhole.Sentence);
            var known = recorded.TryGetValue((reference, part), out var line);
            line ??= new Incoming { Reference = reference, PartId = part, Quantity = quantity };
            if (row.Amount("received", Bounds.NotNegative) is { } received)
                Take(run, row, line, known, received, units.GetValueOrDefault(part));
            if (quantity > 0 && quantity < line.Received && !row.IsBad)
                row.Refuse("quantity", $"{line.Received:0.####} of {reference} have come already. The quantity is all that was ordered; it cannot be less.");
            line.Quantity = quantity;
            line.PromisedOn = row.Date("promised_on", line.PromisedOn);
            line.Supplier = row.Text("supplier", 200, line.Supplier);
            lines.Add(line);
        }
        await run.Write(lines, nameof(Incoming.Reference), nameof(Incoming.PartId));
    }

    /// <summary>What had come of a line before it was kept here. Of a line that is recorded the receipts alone say it.</summary>
    static void Take(ImportRun run, CsvRow row, Incoming line, bool known, decimal received, Unit unit)
    {
        if (received > 0 && StockQuantity.Refuse(received, unit) is { } notWhole)
            row.Refuse("received", notWhole.Sentence);
        else if (!known)
            line.Received = received;
        else if (received != line.Received)
            run.Warn($"Of {line.Reference} {line.Received:0.####} of part {row["part"]} have come by what is recorded here, and not {received:0.####}. What is recorded stays.");
    }
}
