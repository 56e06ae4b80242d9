using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>The files <c>bins</c>, <c>stock</c> and <c>incoming</c> as they stand.</summary>
static class ExportStock
{
    public static readonly ExportRows Bins = new ExportRows<Bin>(reading => reading.Db.Bins.OrderBy(b => EF.Functions.Collate(b.Code, "C")).AsAsyncEnumerable())
    {
        { "bin", b => b.Code },
        { "walk_order", b => b.WalkOrder },
    };

    sealed record Lying(string Part, string Bin, Lot Lot, decimal Quantity);

    public static readonly ExportRows Stock = new ExportRows<Lying>(reading => (
        from held in reading.Db.BinStocks
        join part in reading.Db.Parts on held.PartId equals part.Id
        join lot in reading.Db.Lots on held.LotId equals lot.Id
        join bin in reading.Db.Bins on held.BinId equals bin.Id
        where held.OnHand > 0
        orderby EF.Functions.Collate(part.Number, "C"), EF.Functions.Collate(lot.Number, "C"), EF.Functions.Collate(bin.Code, "C")
        select new Lying(part.Number, bin.Code, lot, held.OnHand)).AsAsyncEnumerable())
    {
        { "part", s => s.Part },
        { "bin", s => s.Bin },
        { "lot", s => s.Lot.Number },
        { "quantity", s => s.Quantity },
        { "received_on", s => s.Lot.ReceivedOn },
        { "cured_on", s => s.Lot.CuredOn },
        { "unit_cost", s => s.Lot.UnitCost },
        { "quarantine", s => s.Lot.Quarantine },
    };

    sealed record Promised(string Part, Incoming Line);

    public static readonly ExportRows Incoming = new ExportRows<Promised>(reading => (
        from line in reading.Db.Incomings
        join part in reading.Db.Parts on line.PartId equals part.Id
        where line.Received < line.Quantity
        orderby EF.Functions.Collate(line.Reference, "C"), EF.Functions.Collate(part.Number, "C")
        select new Promised(part.Number, line)).AsAsyncEnumerable())
    {
        { "reference", i => i.Line.Reference },
        { "part", i => i.Part },
        { "quantity", i => i.Line.Quantity },
        { "promised_on", i => i.Line.PromisedOn },
        { "supplier", i => i.Line.Supplier },
        { "received", i => i.Line.Received },
    };
}
