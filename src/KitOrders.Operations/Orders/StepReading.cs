using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>Steps with their results, frozen with an opened order or as the procedure has them for a draft.</summary>
internal static class StepReading
{
    public static async Task<ILookup<OrderId, StepView>> Of(Reading reading, IReadOnlyList<OrderId> orders, IReadOnlyDictionary<PersonId, string> names)
    {
        var steps = await reading.Db.OrderSteps.AsNoTracking().Where(s => orders.Contains(s.OrderId)).OrderBy(s => s.OrderId).ThenBy(s => s.Number).ToListAsync(reading.Ct);
        var results = (await reading.Db.StepResults.AsNoTracking().Where(r => orders.Contains(r.OrderId)).OrderBy(r => r.Id).ToListAsync(reading.Ct))
            .ToLookup(r => r.OrderStepId);
        var parts = await PartsOf(reading, steps);
        return steps.ToLookup(s => s.OrderId, s =>
        {
            var own = results[s.Id].ToList();
            var state = StepState.Of(s, own);
            return View(s, parts, s.Pieces) with
            {
                Recorded = state.Recorded,
                Deviates = state.Deviates && s.AcceptedAt is null,
                ReleasedAt = s.ReleasedAt,
                ReleasedBy = s.ReleasedById is { } by ? names[by] : null,
                AcceptedBy = s.AcceptedById is { } accepted ? names[accepted] : null,
                AcceptReason = s.AcceptReason,
                Results = [.. own.Select(r => new ResultView(r.Id, r.Outcome, r.Value, r.Unit, r.Pass, r.Bolt, r.Piece, r.Decision, r.Tool,
                    r.Note, r.RecordedAt, r.ReceivedAt, names[r.PersonId], r.WitnessId is { } w ? names[w] : null, r.WitnessValue,
                    r.CorrectsId, own.Any(later => later.CorrectsId == r.Id), r.Device))],
            };
        });
    }

    /// <summary>The current steps of the jobs' procedures, for the model of a draft's pump.</summary>
    public static async Task<Func<Job, PumpModelId, IReadOnlyList<StepView>>> OfProcedures(Reading reading, IEnumerable<Job> jobs)
    {
        var procedures = jobs.Select(j => j.ProcedureId).Distinct().ToList();
        var steps = await (from r in reading.Db.ProcedureRevisions
                           join s in reading.Db.ProcedureSteps on r.Id equals s.ProcedureRevisionId
                           where procedures.Contains(r.ProcedureId) && r.State == RevisionState.Released
                           orderby s.Number
                           select new { r.ProcedureId, Step = s }).AsNoTracking().ToListAsync(reading.Ct);
        var parts = await PartsOf(reading, steps.Select(s => s.Step));
        return (job, model) => [.. steps.Where(s => s.ProcedureId == job.ProcedureId && (s.Step.ModelId is null || s.Step.ModelId == model)).Select(s => View(s.Step, parts, 1))];
    }

    static async Task<Dictionary<PartId, Part>> PartsOf(Reading reading, IEnumerable<Step> steps)
    {
        var ids = steps.Where(s => s.PartId is not null).Select(s => s.PartId!.Value).Distinct().ToList();
        return await reading.Db.Parts.AsNoTracking().Where(p => ids.Contains(p.Id)).ToDictionaryAsync(p => p.Id, reading.Ct);
    }

    static StepView View(Step s, Dictionary<PartId, Part> parts, int pieces) => new()
    {
        Step = s.Number, PartOf = s.PartOf, Kind = s.Kind, Text = s.Text,
        SignalWord = s.SignalWord, Hazard = s.Hazard, Consequence = s.Consequence, Avoid = s.Avoid,
        Joint = s.Joint, Bolts = s.Bolts, Sequence = s.Sequence, Target = s.Target, Low = s.Low, High = s.High, Unit = s.Unit,
        TolerancePct = s.TolerancePct, Passes = s.Passes, HoldPoint = s.HoldPoint, Witnessed = s.Witnessed,
        Part = s.PartId is { } id ? parts[id].Number : null, PartDescription = s.PartId is { } of ? parts[of].Description : null,
        Pieces = pieces, Minutes = s.Minutes, Tool = s.Tool, Document = s.Document, Edition = s.Edition, Page = s.Page,
        DocumentId = s.DocumentId?.Value, Pictures = StepPicture.Of(s),
        Recorded = false, Deviates = false, ReleasedAt = null, ReleasedBy = null, AcceptedBy = null, AcceptReason = null, Results = [],
    };
}
