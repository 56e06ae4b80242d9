using KitOrders.Rules.Kits;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>The files <c>kits</c> and <c>fits</c> as they stand: every revision that was released. A draft is nothing yet that others may read.</summary>
static class ExportKits
{
    sealed record Line(string Kit, KitRevision Revision, KitLine Of, string Part, bool First);

    public static readonly ExportRows Kits = new ExportRows<Line>(reading => (
        from revision in reading.Db.KitRevisions
        join kit in reading.Db.Parts on revision.PartId equals kit.Id
        from line in revision.Lines
        join part in reading.Db.Parts on line.PartId equals part.Id
        where revision.State != RevisionState.Draft
        orderby EF.Functions.Collate(kit.Number, "C"), revision.Number, line.Number
        select new Line(kit.Number, revision, line, part.Number, !revision.Lines.Any(l => l.Number < line.Number))).AsAsyncEnumerable())
    {
        { "kit", l => l.Kit },
        { "revision", l => l.Revision.Number },
        { "line", l => l.Of.Number },
        { "part", l => l.Part },
        { "quantity", l => l.Of.Quantity },
        { "source", l => Rules.Word.Of(l.Of.Source) },
        { "spare_policy", l => l.Of.Source == LineSource.CarriedOver ? Rules.Word.Of(l.Of.SparePolicy) : null },
        { "reject_rate", l => l.Of.RejectRate },
        { "wraps", l => l.Of.Wraps },
        { "wraps_for", l => ExportRows.Joined(l.Of.WrapsFor) },
        { "buildable", l => l.First ? ExportRows.Flag(l.Revision.Buildable) : null },
    };

    sealed record Suited(string Kit, int Revision, string Model, string? ConvertsTo, KitFit Fit);

    public static readonly ExportRows Fits = new ExportRows<Suited>(reading => (
        from revision in reading.Db.KitRevisions
        join kit in reading.Db.Parts on revision.PartId equals kit.Id
        from fit in revision.Fits
        join model in reading.Db.PumpModels on fit.ModelId equals model.Id
        from becomes in reading.Db.PumpModels.Where(m => m.Id == fit.ConvertsToId).DefaultIfEmpty()
        where revision.State != RevisionState.Draft
        orderby EF.Functions.Collate(kit.Number, "C"), revision.Number, EF.Functions.Collate(model.Code, "C")
        select new Suited(kit.Number, revision.Number, model.Code, becomes!.Code, fit)).AsAsyncEnumerable())
    {
        { "kit", f => f.Kit },
        { "revision", f => f.Revision },
        { "model", f => f.Model },
        { "converts_to", f => f.ConvertsTo },
        { "needs_sensing_rod", f => ExportRows.Flag(f.Fit.NeedsSensingRod) },
        { "ports", f => f.Fit.Ports },
        { "supply_kind", f => ExportRows.Word(f.Fit.SupplyKind) },
        { "volts", f => f.Fit.Volts },
        { "volts_tolerance_pct", f => f.Fit.VoltsTolerancePct },
        { "amps", f => f.Fit.Amps },
        { "ex_marking", f => f.Fit.ExMarking },
        { "materials", f => ExportRows.Joined(f.Fit.Materials) },
        { "once", f => ExportRows.Flag(f.Fit.Once) },
        { "requires_kits", f => ExportRows.Joined(f.Fit.RequiresKits) },
        { "excludes_kits", f => ExportRows.Joined(f.Fit.ExcludesKits) },
    };
}
