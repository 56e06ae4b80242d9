using KitOrders.Rules.Kits;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

/// <summary>The files <c>procedures</c> and <c>jobs</c> as they stand: of a procedure every revision that was released, no draft.</summary>
static class ExportProcedures
{
    sealed record Row(string Procedure, int Revision, ProcedureStep Step, string? Model, string? Part);

    public static readonly ExportRows Procedures = new ExportRows<Row>(reading => (
        from procedure in reading.Db.Procedures
        from revision in procedure.Revisions
        from step in revision.Steps
        from model in reading.Db.PumpModels.Where(m => m.Id == step.ModelId).DefaultIfEmpty()
        from part in reading.Db.Parts.Where(p => p.Id == step.PartId).DefaultIfEmpty()
        where revision.State != RevisionState.Draft
        orderby EF.Functions.Collate(procedure.Code, "C"), revision.Number, step.Number
        select new Row(procedure.Code, revision.Number, step, model!.Code, part!.Number)).AsAsyncEnumerable())
    {
        { "procedure", r => r.Procedure },
        { "revision", r => r.Revision },
        { "step", r => r.Step.Number },
        { "part_of", r => Rules.Word.Of(r.Step.PartOf) },
        { "kind", r => Rules.Word.Of(r.Step.Kind) },
        { "text", r => r.Step.Text },
        { "model", r => r.Model },
        { "signal_word", r => ExportRows.Word(r.Step.SignalWord) },
        { "hazard", r => r.Step.Hazard },
        { "consequence", r => r.Step.Consequence },
        { "avoid", r => r.Step.Avoid },
        { "joint", r => r.Step.Joint },
        { "bolts", r => r.Step.Bolts },
        { "sequence", r => ExportRows.Word(r.Step.Sequence) },
        { "target", r => r.Step.Target },
        { "low", r => r.Step.Low },
        { "high", r => r.Step.High },
        { "unit", r => r.Step.Unit },
        { "tolerance_pct", r => r.Step.TolerancePct },
        { "passes", r => r.Step.Passes },
        { "hold_point", r => ExportRows.Flag(r.Step.HoldPoint) },
        { "witnessed", r => ExportRows.Flag(r.Step.Witnessed) },
        { "part", r => r.Part },
        { "minutes", r => r.Step.Minutes },
        { "tool", r => r.Step.Tool },
        { "document", r => r.Step.Document },
        { "edition", r => r.Step.Edition },
        { "page", r => r.Step.Page },
    };

    sealed record JobRow(Job Job, string Procedure, string? Kits);

    public static readonly ExportRows Jobs = new ExportRows<JobRow>(Read)
    {
        { "job", j => j.Job.Code },
        { "description", j => j.Job.Description },
        { "procedure", j => j.Procedure },
        { "kits", j => j.Kits },
        { "crew", j => j.Job.Crew },
        { "hours", j => j.Job.Hours },
    };

    static async IAsyncEnumerable<JobRow> Read(Reading reading)
    {
        var used = (await (
            from job in reading.Db.Jobs
            from kit in job.Kits
            join part in reading.Db.Parts on kit.KitPartId equals part.Id
            select new { job.Id, part.Number, kit.Quantity }).ToListAsync(reading.Ct)).ToLookup(k => k.Id);
        var jobs =
            from job in reading.Db.Jobs
            join procedure in reading.Db.Procedures on job.ProcedureId equals procedure.Id
            orderby EF.Functions.Collate(job.Code, "C")
            select new { job, procedure.Code };
        foreach (var row in await jobs.ToListAsync(reading.Ct))
            yield return new JobRow(row.job, row.Code, ImportJobs.Written(used[row.job.Id].Select(k => (k.Number, k.Quantity))));
    }
}
