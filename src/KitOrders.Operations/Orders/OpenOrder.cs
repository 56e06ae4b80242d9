using KitOrders.Operations.Kits;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>
/// Opens a draft in one transaction: locks every part of its kits' trees in part order, explodes and nets, judges
/// suitability, reserves first expiry first out, records what is short and freezes the steps.
/// </summary>
public sealed class OpenOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "open-order", async work =>
        {
            var seen = await OrderLookup.Find(work, number);
            if (seen.Refusal is { } unknown)
                return unknown;
            var kits = seen.Value.Kits.Select(k => new KitAsked(k.KitPartId, k.Quantity)).OrderBy(k => k.Kit.Value).ToList();
            var catalogue = await KitCatalogue.Load(work.Db, kits.Select(k => k.Kit), ct);

            var ledger = new StockLedger(work);
            await ledger.Lock(catalogue.All);
            work.Db.ChangeTracker.Clear();
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } gone)
                return gone;
            var order = found.Value;
            if (order.State != OrderState.Draft)
                return order.Open(work.Now, default, null, null)!;
            if (WithoutRevision(kits, catalogue) is { } noRevision)
                return noRevision;

            var shelves = await Shelves.Of(work.Db, catalogue.All, ct);
            var planned = DemandPlanning.Plan(kits, catalogue, shelves, order.FitOn, work.Plant.SpareRisk);
            if (planned.Refusal is { } cannot)
                return cannot;
            var pump = await work.Db.Pumps.AsNoTracking().SingleAsync(p => p.Id == order.PumpId, ct);
            if (await JudgeAndKeep(work, order, pump, kits, catalogue, planned.Value) is { } unsuitable)
                return unsuitable;

            var job = await work.Db.Jobs.AsNoTracking().SingleAsync(j => j.Id == order.JobId, ct);
            var steps = await FreezeSteps(work, order, job, pump.ModelId, kits, catalogue);
            if (steps.Refusal is { } noSteps)
                return noSteps;
            foreach (var kit in order.Kits)
                kit.KitRevisionId = catalogue.Revisions[kit.KitPartId].Id;
            var rate = job.Crew is null ? null : await work.Db.Crews.Where(c => c.Name == job.Crew).Select(c => c.HourlyRate).SingleOrDefaultAsync(ct);
            if (order.Open(work.Now, steps.Value, job.Hours, rate) is { } refused)
                return refused;
            var summary = await KeepDemand(work, ledger, order, catalogue, planned.Value);
            work.Audit($"order {number}", $"Opened: {summary}", order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);

    static Refusal? WithoutRevision(IReadOnlyList<KitAsked> kits, KitCatalogue catalogue)
    {
        var missing = kits.Where(k => !catalogue.Revisions.ContainsKey(k.Kit)).Select(k => catalogue.Parts[k.Kit].Number).ToList();
        return missing.Count == 0 ? null : Refusal.Conflict("kit-not-released",
            $"No revision of {string.Join(", ", missing)} is released, so nothing says what the order needs. Release one first.");
    }

    /// <summary>Judges the kits as of now, holds the answers people gave against what is unknown and keeps the whole list with the order.</summary>
    static async Task<Refusal?> JudgeAndKeep(Work work, WorkOrder order, Pump pump, IReadOnlyList<KitAsked> kits, KitCatalogue catalogue, IReadOnlyList<PlannedDemand> planned)
    {
        var position = await work.Db.Positions.AsNoTracking().SingleAsync(p => p.Id == order.PositionId, work.Ct);
        var lots = planned.SelectMany(p => p.Takes.Select(t => new HeldLot(p.Plan.Part, t.Lot))).ToList();
        var judgements = await SuitabilityReading.Judge(work.Db, pump, position, [.. kits.Select(k => k.Kit)], catalogue, lots,
            order.FitOn, order.Id, work.Ct);
        var kept = await work.Db.OrderChecks.Where(c => c.OrderId == order.Id).ToDictionaryAsync(c => (c.Check, c.Kit), work.Ct);
        var answered = AnswerCheck.Answered(kept.Values);
        if (SuitabilityGate.MayGoOn(judgements, answered, order.Breakdown) is { } refusal)
            return refusal;
        ChecksKept.Write(work.Db, order.Id, judgements, kept);
        return null;
    }

    static async Task<Outcome<ProcedureRevisionId>> FreezeSteps(
        Work work, WorkOrder order, Job job, PumpModelId model, IReadOnlyList<KitAsked> kits, KitCatalogue catalogue)
    {
        var revision = await work.Db.ProcedureRevisions.AsNoTracking().Include(r => r.Steps)
            .SingleOrDefaultAsync(r => r.ProcedureId == job.ProcedureId && r.State == RevisionState.Released, work.Ct);
        if (revision is null)
            return Refusal.Conflict("procedure-not-released", $"No revision of the procedure of {job.Code} is released. Release one first.");
        foreach (var step in revision.Steps.Where(s => s.ModelId is null || s.ModelId == model).OrderBy(s => s.Number))
            work.Db.OrderSteps.Add(Frozen(step, order.Id, PiecesOf(step, kits, catalogue)));
        return revision.Id;
    }

    /// <summary>A carry-over step judges every piece of its part that the order's kits keep from the pump.</summary>
    static int PiecesOf(ProcedureStep step, IReadOnlyList<KitAsked> kits, KitCatalogue catalogue)
    {
        if (step is not { Kind: StepKind.CarryOver, PartId: { } part })
            return 1;
        var kept = kits.Sum(k => catalogue.Revisions[k.Kit].Lines
            .Where(l => l.Source == LineSource.CarriedOver && l.PartId == part).Sum(l => l.Quantity * k.Quantity));
        return Math.Max(1, (int)Math.Ceiling(Math.Min(kept, 999)));
    }

    static OrderStep Frozen(ProcedureStep s, OrderId order, int pieces) => new()
    {
        OrderId = order, Number = s.Number, PartOf = s.PartOf, Kind = s.Kind, Text = s.Text,
        SignalWord = s.SignalWord, Hazard = s.Hazard, Consequence = s.Consequence, Avoid = s.Avoid,
        Joint = s.Joint, Bolts = s.Bolts, Sequence = s.Sequence, Target = s.Target, Low = s.Low, High = s.High, Unit = s.Unit,
        TolerancePct = s.TolerancePct, Passes = s.Passes, HoldPoint = s.HoldPoint, Witnessed = s.Witnessed, PartId = s.PartId,
        Minutes = s.Minutes, Tool = s.Tool, Document = s.Document, Edition = s.Edition, Page = s.Page, Pieces = pieces,
    };

    static async Task<string> KeepDemand(Work work, StockLedger ledger, WorkOrder order, KitCatalogue catalogue, IReadOnlyList<PlannedDemand> planned)
    {
        var costs = await UnitCosts.Of(work.Db, planned.Select(p => p.Plan.Part), work.Ct);
        var lines = planned.Select(p => (Planned: p, Line: new DemandLine
        {
            OrderId = order.Id,
            PartId = p.Plan.Part,
            Source = p.Plan.Source,
            Gross = p.Plan.Gross,
            Built = p.Plan.Built,
            Required = p.Plan.Required,
            // Everything is short until it is held, a statement later in the same transaction.
            Short = p.Plan.Required,
            Spare = p.Plan.Spare,
            UnitCost = costs.GetValueOrDefault(p.Plan.Part),
            Origins = [.. p.Plan.Origins.Select(o => new DemandOrigin(catalogue.Parts[o.Kit].Number, o.Line, o.Quantity))],
        })).ToList();
        work.Db.DemandLines.AddRange(lines.Select(l => l.Line));
        await work.Db.SaveChangesAsync(work.Ct);
        await ledger.Reserve([.. lines.SelectMany(l => l.Planned.Takes.Select(t =>
            new LineHold(l.Line.Id, order.Id, l.Line.PartId, t.Lot, t.Bin, t.Quantity)))]);
        var shortLines = planned.Count(p => p.Plan.Short > 0);
        return shortLines == 0 ? $"{planned.Count} lines, all covered." : $"{planned.Count - shortLines} lines covered, {shortLines} short.";
    }
}
