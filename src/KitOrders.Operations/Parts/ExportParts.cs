using KitOrders.Rules.Parts;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Parts;

/// <summary>The files <c>parts</c> and <c>alternates</c> as they stand.</summary>
static class ExportParts
{
    public static readonly ExportRows Parts = new ExportRows<Part>(reading => reading.Db.Parts.OrderBy(p => EF.Functions.Collate(p.Number, "C")).AsAsyncEnumerable())
    {
        { "part", p => p.Number },
        { "description", p => p.Description },
        { "unit", p => Rules.Word.Of(p.Unit) },
        { "elastomers", p => p.Elastomers },
        { "unit_cost", p => p.UnitCost },
        { "lead_time_days", p => p.LeadTimeDays },
        { "barcode", p => p.Barcode },
        { "thread", p => p.Thread },
        { "handed_out_in", p => p.HandedOutIn },
        { "supplier", p => p.Supplier },
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
