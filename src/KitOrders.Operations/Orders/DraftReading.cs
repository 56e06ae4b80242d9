using KitOrders.Operations.Kits;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>What a draft would need, what it would hold, what would be short and whether its kits suit, all as of now.</summary>
internal sealed record DraftReading(
    Refusal? Refused, IReadOnlyList<DemandView> Demand, IReadOnlyList<CheckView> Checks, IReadOnlyList<StepView> Steps, decimal? HourlyRate)
{
    public static async Task<DraftReading> Read(Reading reading, WorkOrder order, Pump pump, Position position, Job job, IReadOnlyDictionary<PersonId, string> names)
    {
        var db = reading.Db;
        var kits = order.Kits.Select(k => new KitAsked(k.KitPartId, k.Quantity)).OrderBy(k => k.Kit.Value).ToList();
        var catalogue = await KitCatalogue.Load(db, kits.Select(k => k.Kit), reading.Ct);
        var shelves = await Shelves.Of(db, catalogue.All, reading.Ct);
        var planned = DemandPlanning.Plan(kits, catalogue, await CarryOverRecord.Of(db, catalogue, reading.Ct), shelves, order.FitOn, reading.Plant.SpareRisk);
        IReadOnlyList<PlannedDemand> lines = planned.IsDone ? planned.Value : [];
        var lots = lines.SelectMany(l => l.Takes.Select(t => new HeldLot(l.Plan.Part, t.Lot))).ToList();
        var judgements = await SuitabilityReading.Judge(db, pump, position, [.. kits.Select(k => k.Kit)], catalogue, lots, order.FitOn, order.Id, reading.Ct);
        var answers = await db.OrderChecks.AsNoTracking().Where(c => c.OrderId == order.Id && c.Answer != null)
            .ToDictionaryAsync(c => (c.Check, c.Kit), reading.Ct);
        var rate = job.Crew is null ? null
            : await db.Crews.Where(c => c.Name == job.Crew).Select(c => c.HourlyRate).SingleOrDefaultAsync(reading.Ct);
        return new DraftReading(planned.Refusal, await DemandReading.Planned(reading, catalogue, lines),
            [.. judgements.Select(j => View(j, answers.GetValueOrDefault((j.Check, j.Kit)), names))],
            await StepReading.OfProcedure(reading, job, pump.ModelId), rate);
    }

    public static CheckView View(Judgement j, OrderCheck? answer, IReadOnlyDictionary<PersonId, string> names) =>
        new(j.Check, j.Kit, j.Result, j.Reason, j.Finding.Numbers, j.Finding.OnCondition, j.Finding.Answerable, j.Finding.Caution,
            answer?.Answer, answer?.AnswerNote, answer?.AnsweredById is { } by ? names[by] : null, answer?.AnsweredAt);
}
