using KitOrders.Operations.Pumps;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

/// <param name="Orders">Orders opened with it that have not ended.</param>
/// <param name="Version">What a keeping of the draft must have seen.</param>
public sealed record ProcedureRevisionView(int Number, RevisionState State, DateOnly? ReleasedOn, int Steps, int Orders, long Version);

public sealed record ProcedureJobView(string Job, string Description, IReadOnlyList<string> Kits);

public sealed record ProcedureOrderView(string Number, string Pump, OrderState State, int? Revision);

/// <summary>A procedure with its revisions, one of them whole.</summary>
/// <param name="Shown">As asked for, else the released one, else the draft.</param>
/// <param name="Against">The revision it is held against: as asked for, else the one before; null where there is none.</param>
public sealed record ProcedureView(string Code, IReadOnlyList<ProcedureRevisionView> Revisions, ProcedureRevisionView Shown, IReadOnlyList<NumberedStep> Steps,
    int? Against, IReadOnlyList<StepDifference> Differences, IReadOnlyList<ProcedureJobView> Jobs, IReadOnlyList<ProcedureOrderView> Orders,
    IReadOnlyDictionary<string, string> PartDescriptions);

/// <param name="Documents">The documents attached to the model, for steps to cite.</param>
public sealed record ModelChoice(string Code, string? Description, IReadOnlyList<DocumentView> Documents);

/// <summary>What the editor of a draft works with.</summary>
/// <param name="Current">The released revision; null while none is.</param>
/// <param name="KeptParts">Parts that the kits of its jobs keep from the pump, for carry-over steps to name.</param>
public sealed record ProcedureDraftView(string Code, int Number, long Version, int? Current, IReadOnlyList<StepDraft> Steps, IReadOnlyList<ModelChoice> Models,
    IReadOnlyList<string> Tools, IReadOnlyList<(string Part, string Description)> KeptParts);

/// <summary>Procedures as they are read: revisions, steps, what changed, who uses them.</summary>
public sealed class ProcedureRecord(Desk desk)
{
    static readonly OrderState[] Ended = [OrderState.Closed, OrderState.Cancelled];

    public Task<Outcome<ProcedureView>> One(string code, int? revision, int? against, CancellationToken ct) =>
        desk.Read<Outcome<ProcedureView>>(async reading =>
        {
            var db = reading.Db;
            var id = await db.Procedures.Where(p => p.Code == code).Select(p => (ProcedureId?)p.Id).SingleOrDefaultAsync(ct);
            if (id is not { } procedure)
                return ProcedureLookup.Unknown(code);
            var revisions = await db.ProcedureRevisions.Where(r => r.ProcedureId == procedure).OrderBy(r => r.Number)
                .Select(r => new { r.Id, View = new ProcedureRevisionView(r.Number, r.State, r.ReleasedOn, r.Steps.Count,
                    db.WorkOrders.Count(o => o.ProcedureRevisionId == r.Id && !Ended.Contains(o.State)), r.Version) }).ToListAsync(ct);
            var shown = revision is null ? revisions.Find(r => r.View.State == RevisionState.Released) ?? revisions.LastOrDefault() : revisions.Find(r => r.View.Number == revision);
            if (shown is null)
                return Refusal.NotFound("revision-unknown", $"Procedure {code} has no revision {revision}. It has {string.Join(", ", revisions.Select(r => r.View.Number))}.");
            var other = against is null ? revisions.FindLast(r => r.View.Number < shown.View.Number) : revisions.Find(r => r.View.Number == against);
            if (against is not null && other is null)
                return Refusal.NotFound("revision-unknown", $"Procedure {code} has no revision {against} to hold it against.");
            var steps = await StepsOf(db, shown.Id, ct);
            var parts = steps.Select(s => s.Step.Part).OfType<string>().Distinct().ToList();
            return new ProcedureView(code, revisions.ConvertAll(r => r.View), shown.View, steps, other?.View.Number,
                other is null || other == shown ? [] : StepDifferences.Between(await StepsOf(db, other.Id, ct), steps),
                await JobsOf(db, procedure, ct), await OrdersOf(db, procedure, ct),
                await db.Parts.Where(p => parts.Contains(p.Number)).ToDictionaryAsync(p => p.Number, p => p.Description, ct));
        }, ct);

    public Task<Outcome<ProcedureDraftView>> Draft(string code, CancellationToken ct) =>
        desk.Read<Outcome<ProcedureDraftView>>(async reading =>
        {
            var db = reading.Db;
            var revisions = await db.ProcedureRevisions.Where(r => db.Procedures.Any(p => p.Id == r.ProcedureId && p.Code == code))
                .Select(r => new { r.Id, r.ProcedureId, r.Number, r.State, r.Version }).ToListAsync(ct);
            if (revisions.Count == 0)
                return ProcedureLookup.Unknown(code);
            if (revisions.Find(r => r.State == RevisionState.Draft) is not { } draft)
                return Refusal.NotFound("draft-unknown", $"Procedure {code} has no draft. Begin one from its current revision.");
            var documents = (await DocumentShelf.List(reading, db.Documents.Where(d => d.ModelId != null))).ToLookup(d => d.Model);
            var models = await db.PumpModels.OrderBy(m => m.Code).Select(m => new { m.Code, m.Description }).ToListAsync(ct);
            var kept = await (from job in db.Jobs
                              where job.ProcedureId == draft.ProcedureId
                              from of in job.Kits
                              join r in db.KitRevisions on of.KitPartId equals r.PartId
                              join line in db.KitLines on r.Id equals line.KitRevisionId
                              join part in db.Parts on line.PartId equals part.Id
                              where r.State == RevisionState.Released && line.Source == LineSource.CarriedOver
                              select new { part.Number, part.Description }).Distinct().OrderBy(p => p.Number).ToListAsync(ct);
            return new ProcedureDraftView(code, draft.Number, draft.Version, revisions.Find(r => r.State == RevisionState.Released)?.Number,
                [.. (await StepsOf(db, draft.Id, ct)).Select(s => s.Step)], [.. models.Select(m => new ModelChoice(m.Code, m.Description, [.. documents[m.Code]]))],
                await db.Tools.OrderBy(t => t.Code).Select(t => t.Code).ToListAsync(ct), kept.ConvertAll(k => (k.Number, k.Description)));
        }, ct);

    static async Task<List<NumberedStep>> StepsOf(KitOrdersDb db, ProcedureRevisionId revision, CancellationToken ct) =>
        (await (from s in db.ProcedureSteps
                where s.ProcedureRevisionId == revision
                orderby s.Number
                select new
                {
                    Step = s, Model = db.PumpModels.Where(m => m.Id == s.ModelId).Select(m => m.Code).FirstOrDefault(),
                    Part = db.Parts.Where(p => p.Id == s.PartId).Select(p => p.Number).FirstOrDefault(),
                }).AsNoTracking().ToListAsync(ct))
        .OrderBy(s => s.Step.PartOf).ThenBy(s => s.Step.Number).Select(s => new NumberedStep(s.Step.Number, StepDraft.Of(s.Step, s.Model, s.Part))).ToList();

    static async Task<List<ProcedureJobView>> JobsOf(KitOrdersDb db, ProcedureId procedure, CancellationToken ct) =>
        (await db.Jobs.Where(j => j.ProcedureId == procedure).OrderBy(j => j.Code)
            .Select(j => new { j.Code, j.Description, Kits = j.Kits.Select(k => db.Parts.Where(p => p.Id == k.KitPartId).Select(p => p.Number).First()).ToList() }).ToListAsync(ct))
        .ConvertAll(j => new ProcedureJobView(j.Code, j.Description, [.. j.Kits.Order(StringComparer.Ordinal)]));

    static async Task<List<ProcedureOrderView>> OrdersOf(KitOrdersDb db, ProcedureId procedure, CancellationToken ct) =>
        await (from order in db.WorkOrders
               join revision in db.ProcedureRevisions on order.ProcedureRevisionId equals revision.Id
               join position in db.Positions on order.PositionId equals position.Id
               where revision.ProcedureId == procedure && !Ended.Contains(order.State)
               orderby order.Id
               select new ProcedureOrderView(order.Number, position.Tag, order.State, revision.Number)).ToListAsync(ct);
}
