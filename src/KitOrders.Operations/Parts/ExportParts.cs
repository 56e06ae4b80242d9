using KitOrders.Rules.Parts;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Parts;

/// <summary>The files <c>parts</c> and <c>alternates</c> as they stand.</summary>
static class ExportParts
{
    sealed record Catalogued(Part Part, string? SupersededBy);

    public static readonly ExportRows Parts = new ExportRows<Catalogued>(reading => (
        from part in reading.Db.Parts
        from next in reading.Db.Parts.Where(n => n.Id == part.SupersededById).DefaultIfEmpty()
        orderby EF.Functions.Collate(part.Number, "C")
        select new Catalogued(part, next!.Number)).AsAsyncEnumerable())
    {
        { "part", p => p.Part.Number },
        { "description", p => p.Part.Description },
        { "unit", p => Rules.Word.Of(p.Part.Unit) },
        { "elastomers", p => p.Part.Elastomers },
        { "unit_cost", p => p.Part.UnitCost },
        { "lead_time_days", p => p.Part.LeadTimeDays },
        { "barcode", p => p.Part.Barcode },
        { "thread", p => p.Part.Thread },
        { "handed_out_in", p => p.Part.HandedOutIn },
        { "supplier", p => p.Part.Supplier },
        { "superseded_by", p => p.SupersededBy },
    };

    sealed record Alternate(string Part, string Other, PartAlternate Entry);

    public static readonly ExportRows Alternates = new ExportRows<Alternate>(reading => (
        from entry in reading.Db.PartAlternates
        join part in reading.Db.Parts on entry.PartId equals part.Id
        join other in reading.Db.Parts on entry.AlternateId equals other.Id
        orderby EF.Functions.Collate(part.Number, "C"), EF.Functions.Collate(other.Number, "C")
        select new Alternate(part.Number, other.Number, entry)).AsAsyncEnumerable())
    {
        { "part", a => a.Part },
        { "alternate", a => a.Other },
        { "preference", a => a.Entry.Preference },
        { "both_ways", a => ExportRows.Flag(a.Entry.BothWays) },
    };
}
