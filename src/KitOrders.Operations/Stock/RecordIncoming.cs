using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <param name="Reference">The purchase order, as the supplier will quote it.</param>
/// <param name="PromisedOn">Null: no day was promised.</param>
public sealed record IncomingAsk(string Part, decimal Quantity, string Reference, DateOnly? PromisedOn = null, string? Supplier = null);

/// <summary>Records that a part has been bought: a purchase line that is not yet received. It covers nothing; it says when a shortage ends.</summary>
public sealed class RecordIncoming(Desk desk)
{
    public const int ReferenceMaxLength = 60;
    public const int SupplierMaxLength = 200;

    public Task<Outcome<string>> Run(Call call, IncomingAsk ask, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner | Roles.Storeroom, "record-incoming", async work =>
        {
            var reference = ask.Reference?.Trim() ?? "";
            if (reference.Length is 0 or > ReferenceMaxLength)
                return Refusal.Field("reference", "reference-missing", $"Give the reference of the purchase, at most {ReferenceMaxLength} characters, so that the receipt finds it.");
            if (ask.Supplier?.Trim().Length > SupplierMaxLength)
                return Refusal.Field("supplier", "supplier-too-long", $"A supplier has at most {SupplierMaxLength} characters.");
            if (ask.PromisedOn is { Year: < 2000 or > 2199 })
                return Refusal.Field("promisedOn", "date-out-of-range", "The promised day lies outside 2000 to 2199.");
            var found = await StockLookup.Part(work.Db, ask.Part, ct);
            if (found.Refusal is { } unknown)
                return unknown;
            var part = found.Value;
            if (StockQuantity.Refuse(ask.Quantity, part.Unit) is { } noQuantity)
                return noQuantity;
            if (await work.Db.Incomings.AsNoTracking().SingleOrDefaultAsync(i => i.Reference == reference && i.PartId == part.Id, ct) is { } there)
                return Refusal.Conflict("incoming-there",
                    $"{reference} already has {there.Quantity:0.####} of {part.Number}. Give another reference, or correct that line by the file incoming.").At("reference");
            work.Db.Incomings.Add(new Incoming
            {
                Reference = reference, PartId = part.Id, Quantity = ask.Quantity, PromisedOn = ask.PromisedOn,
                Supplier = string.IsNullOrWhiteSpace(ask.Supplier) ? part.Supplier : ask.Supplier.Trim(),
            });
            work.Audit($"part {part.Number}", $"Bought {ask.Quantity:0.####} by {reference}, {(ask.PromisedOn is { } day ? $"promised for {day:yyyy-MM-dd}" : "no day promised")}.");
            work.Changed($"part:{part.Number}");
            return part.Number;
        }, ct);
}
