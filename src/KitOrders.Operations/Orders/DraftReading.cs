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
    /// <summary>Several drafts, each as if it stood alone; what is on record about their pumps is asked one by one.</summary>
    public static async Task<IReadOnlyDictionary<OrderId, DraftReading>> Read(Reading reading, IReadOnlyList<OrderFacts> drafts, IReadOnlyDictionary<PersonId, string> names)
    {
        if (drafts.Count == 0)
            return new Dictionary<OrderId, DraftReading>();
        var (db, ct) = (reading.Db, reading.Ct);
        var catalogue = await KitCatalogue.Load(db, drafts.SelectMany(d => d.Order.Kits).Select(k => k.KitPartId).Distinct(), ct);
        var shelves = await Shelves.Of(db, catalogue.All, ct);
        var carried = await CarryOverRecord.Of(db, catalogue, ct);
        var plans = drafts.ToDictionary(d => d.Order.Id, d => DemandPlanning.Plan(KitsOf(d), catalogue, carried, shelves, d.Order.FitOn, reading.Plant.SpareRisk,
            d.Order.CampaignId is not null));
        var demand = await DemandReading.Planned(reading, catalogue, [.. plans.Values.SelectMany(Lines)]);
        var steps = await StepReading.OfProcedures(reading, drafts.Select(d => d.Job));
        var ids = plans.Keys.ToList();
        var answers = await db.OrderChecks.AsNoTracking().Where(c => ids.Contains(c.OrderId) && c.Answer != null).ToDictionaryAsync(c => (c.OrderId, c.Check, c.Kit), ct);
        var rates = await db.Crews.AsNoTracking().ToDictionaryAsync(c => c.Name, c => c.HourlyRate, ct);
        var read = new Dictionary<OrderId, DraftReading>();
        foreach (var (order, position, pump, _, job) in drafts)
        {
            var lines = Lines(plans[order.Id]);
            var judgements = await SuitabilityReading.Judge(db, pump, position, [.. order.Kits.Select(k => k.KitPartId).OrderBy(k => k.Value)], catalogue,
                [.. lines.SelectMany(l => l.Takes.Select(t => new HeldLot(l.Plan.Part, t.Lot)))], order.FitOn, order.Id, ct);
            read[order.Id] = new DraftReading(plans[order.Id].Refusal, demand(lines),
                [.. judgements.Select(j => View(j, answers.GetValueOrDefault((order.Id, j.Check, j.Kit)), names))],
                steps(job, pump.ModelId), job.Crew is null ? null : rates.GetValueOrDefault(job.Crew));
        }
        return read;
    }

    static List<KitAsked> KitsOf(OrderFacts draft) => [.. draft.Order.Kits.Select(k => new KitAsked(k.KitPartId, k.Quantity)).OrderBy(k => k.Kit.Value)];

    static IReadOnlyList<PlannedDemand> Lines(Outcome<IReadOnlyList<PlannedDemand>> plan) => plan.IsDone ? plan.Value : [];

    public static CheckView View(Judgement j, OrderCheck? answer, IReadOnlyDictionary<PersonId, string> names) =>
        new(j.Check, j.Kit, j.Result, j.Reason, j.Finding.Numbers, j.Finding.OnCondition, j.Finding.Answerable, j.Finding.Caution,
            answer?.Answer, answer?.AnswerNote, answer?.AnsweredById is { } by ? names[by] : null, answer?.AnsweredAt);
}
