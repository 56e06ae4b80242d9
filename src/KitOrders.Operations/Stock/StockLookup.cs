using KitOrders.Rules;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>Finds parts, bins and lots by what stands on their labels.</summary>
internal static class StockLookup
{
    public static async Task<Outcome<Part>> Part(KitOrdersDb db, string? number, CancellationToken ct) =>
        await db.Parts.AsNoTracking().SingleOrDefaultAsync(p => p.Number == number, ct) is { } part ? part : NoPart(number);

    public static async Task<Outcome<Bin>> Bin(KitOrdersDb db, string? code, CancellationToken ct, string field = "bin") =>
        await db.Bins.AsNoTracking().SingleOrDefaultAsync(b => b.Code == code, ct) is { } bin ? bin : NoBin(code, field);

    public static Refusal NoPart(string? number) => Refusal.Field("part", "part-unknown", string.IsNullOrWhiteSpace(number)
        ? "Name the part." : $"There is no part {number}. Look at the label again, or import the part first.");

    public static Refusal NoBin(string? code, string field = "bin") => Refusal.Field(field, "bin-unknown", string.IsNullOrWhiteSpace(code)
        ? "Name the bin." : $"There is no bin {code}. Look at the label again, or import the bin first.");

    public static async Task<Outcome<Lot>> Lot(KitOrdersDb db, Part part, string? number, CancellationToken ct) =>
        await db.Lots.AsNoTracking().SingleOrDefaultAsync(l => l.PartId == part.Id && l.Number == number, ct) is { } lot ? lot
            : Refusal.Field("lot", "lot-unknown", string.IsNullOrWhiteSpace(number)
                ? "Name the lot." : $"There is no lot {number} of part {part.Number}. Look at the label again, or receive it first.");
}
