using KitOrders.Operations.Kits;
using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Planning;

public enum TodayKind
{
    /// <summary>A part is short and holds up orders.</summary>
    PartShort,

    /// <summary>A check of a draft has failed or cannot be answered from the record.</summary>
    CheckOpen,

    /// <summary>A result was not as specified and nobody has decided.</summary>
    Deviation,

    /// <summary>Work is finished; the order waits to be closed.</summary>
    ToClose,

    /// <summary>Work stands still.</summary>
    Paused,

    /// <summary>A draft that nothing speaks against.</summary>
    ToOpen,
}

/// <summary>A part that is short, and the work it holds up.</summary>
public sealed record HeldWork(string Part, string Description, decimal Short, decimal Hours, IReadOnlyList<string> Orders, DateOnly? PromisedOn, bool PromisePassed, int? LeadTimeDays);

/// <param name="Hours">Hours of work that wait for the decision.</param>
public sealed record TodayItem(TodayKind Kind, decimal Hours, string? Order, string? Pump, string What, string? Why, HeldWork? Part);

public sealed record FloorRow(string Number, string Pump, string JobDescription, OrderState State, string? Place, string? Paused, int StepsDone, int Steps);

public sealed record HappenedRow(DateTimeOffset At, string Person, string? Order, string Subject, string Sentence);

public sealed record TodayView(
    DateOnly Today, IReadOnlyList<TodayItem> Waiting, IReadOnlyList<FloorRow> Floor, IReadOnlyList<OrderRow> Soon, IReadOnlyList<HappenedRow> Happened,
    int ReadyToStart);

/// <summary>A planner's day: what waits for a decision, what stands on the floor, what is to be fitted this week and next.</summary>
public sealed class TodayList(Desk desk, OrderList orders)
{
    public const int MostItems = 60;
    const int MostDrafts = 30;

    static readonly OrderState[] Waits = [OrderState.Open, OrderState.Staged, OrderState.Underway];

    public async Task<TodayView> Planner(CancellationToken ct)
    {
        var soon = await orders.Find(new OrderFilter { States = [OrderState.Open, OrderState.Staged], Sort = OrderSort.FitOn }, null, 200, ct);
        return await desk.Read(async reading =>
        {
            List<TodayItem> waiting =
            [
                .. await Short(reading), .. await Drafts(reading), .. await Deviations(reading), .. await Finished(reading), .. await Paused(reading),
            ];
            return new TodayView(reading.Today,
                [.. waiting.OrderByDescending(w => w.Hours).ThenBy(w => w.Kind).ThenBy(w => w.Order, StringComparer.Ordinal).Take(MostItems)],
                await Floor(reading), soon.Value.Items, await Happened(reading),
                await reading.Db.WorkOrders.CountAsync(o => (o.State == OrderState.Open || o.State == OrderState.Staged)
                    && !reading.Db.DemandLines.Any(l => l.OrderId == o.Id && l.Short > 0 && l.ReleasedById == null), ct));
        }, ct);
    }

    static async Task<IEnumerable<TodayItem>> Short(Reading reading)
    {
        var db = reading.Db;
        var lines = await (from line in db.DemandLines
                           join order in db.WorkOrders on line.OrderId equals order.Id
                           join part in db.Parts on line.PartId equals part.Id
                           where line.Short > 0 && line.ReleasedById == null && Waits.Contains(order.State)
                           select new ShortLine(part.Id, part.Number, part.Description, part.LeadTimeDays, line.Short, order.Number, order.EstimatedHours)).ToListAsync(reading.Ct);
        lines.AddRange(await Pooled(reading));
        var ids = lines.Select(l => l.Id).Distinct().ToList();
        var promised = (await db.Incomings.Where(i => ids.Contains(i.PartId) && i.Received < i.Quantity).ToListAsync(reading.Ct))
            .GroupBy(i => i.PartId).ToDictionary(g => g.Key, g => (On: g.Min(i => i.PromisedOn), Quantity: g.Sum(i => i.Outstanding)));
        return lines.GroupBy(l => l.Id).Select(g =>
            {
                var promise = promised.TryGetValue(g.Key, out var found) ? found : (On: null, Quantity: 0);
                var byOrder = g.DistinctBy(l => l.Order).OrderBy(l => l.Order, StringComparer.Ordinal).ToList();
                var held = new HeldWork(g.First().Number, g.First().Description, g.Sum(l => l.Short), byOrder.Sum(o => o.EstimatedHours ?? 0),
                    [.. byOrder.Select(o => o.Order)], promise.On, promise.On < reading.Today, g.First().LeadTimeDays);
                return (Held: held, Promised: promise.Quantity);
            })
            // What is promised in time and in full asks nobody for a decision.
            .Where(h => h.Promised < h.Held.Short || h.Held.PromisePassed || h.Held.PromisedOn is null)
            .Select(h => new TodayItem(TodayKind.PartShort, h.Held.Hours, null, null, h.Held.Part, null, h.Held));
    }

    sealed record ShortLine(PartId Id, string Number, string Description, int? LeadTimeDays, decimal Short, string Order, decimal? EstimatedHours);

    /// <summary>What a campaign is short of holds up the most pressing of its orders.</summary>
    static async Task<List<ShortLine>> Pooled(Reading reading)
    {
        var db = reading.Db;
        var lines = await (from line in db.PooledLines
                           join part in db.Parts on line.PartId equals part.Id
                           where line.Short > 0 && line.ReleasedById == null
                           select new { line.CampaignId, part.Id, part.Number, part.Description, part.LeadTimeDays, line.Short }).ToListAsync(reading.Ct);
        var places = await CampaignPlaces.Of(db, lines.Select(l => l.CampaignId), reading.Ct);
        var firsts = places.Values.Where(p => p.First is not null).Select(p => p.First!.Value).ToList();
        var hours = await db.WorkOrders.Where(o => firsts.Contains(o.Id)).ToDictionaryAsync(o => o.Id, o => o.EstimatedHours, reading.Ct);
        return [.. lines.Where(l => places[l.CampaignId].First is not null).Select(l => new ShortLine(l.Id, l.Number, l.Description, l.LeadTimeDays, l.Short,
            places[l.CampaignId].FirstNumber, hours[places[l.CampaignId].First!.Value]))];
    }

    /// <summary>The checks of the drafts, judged as of now from the record alone; the lots they would take are judged on their own sheets.</summary>
    static async Task<IEnumerable<TodayItem>> Drafts(Reading reading)
    {
        var db = reading.Db;
        var drafts = await (from order in db.WorkOrders.Include(o => o.Kits)
                            join job in db.Jobs on order.JobId equals job.Id
                            where order.State == OrderState.Draft
                            orderby order.Id descending
                            select new { Order = order, Job = job }).Take(MostDrafts).ToListAsync(reading.Ct);
        var catalogue = await KitCatalogue.Load(db, drafts.SelectMany(d => d.Order.Kits.Select(k => k.KitPartId)).Distinct(), reading.Ct);
        var items = new List<TodayItem>();
        foreach (var draft in drafts)
        {
            var pump = await db.Pumps.SingleAsync(p => p.Id == draft.Order.PumpId, reading.Ct);
            var position = await db.Positions.SingleAsync(p => p.Id == draft.Order.PositionId, reading.Ct);
            var judged = await SuitabilityReading.Judge(db, pump, position, [.. draft.Order.Kits.Select(k => k.KitPartId).OrderBy(k => k.Value)],
                catalogue, [], draft.Order.FitOn, draft.Order.Id, reading.Ct);
            var answered = AnswerCheck.Answered(await db.OrderChecks.Where(c => c.OrderId == draft.Order.Id).ToListAsync(reading.Ct));
            var failed = judged.Where(j => j.Result == CheckResult.Failed).ToList();
            var unknown = judged.Where(j => j.Result == CheckResult.Unknown && !answered.Contains((j.Check, j.Kit))).ToList();
            var open = failed.Count > 0 ? failed : unknown;
            items.Add(open.Count == 0
                ? new TodayItem(TodayKind.ToOpen, draft.Job.Hours ?? 0, draft.Order.Number, position.Tag, draft.Job.Description, null, null)
                : new TodayItem(TodayKind.CheckOpen, draft.Job.Hours ?? 0, draft.Order.Number, position.Tag,
                    failed.Count > 0 ? (failed.Count == 1 ? "one check has failed" : $"{failed.Count} checks have failed")
                        : unknown.Count == 1 ? "one check is unknown" : $"{unknown.Count} checks are unknown",
                    open[0].Reason, null));
        }
        return items;
    }

    static async Task<IEnumerable<TodayItem>> Deviations(Reading reading)
    {
        var db = reading.Db;
        var steps = await (from step in db.OrderSteps
                           join order in db.WorkOrders on step.OrderId equals order.Id
                           join position in db.Positions on order.PositionId equals position.Id
                           where (order.State == OrderState.Underway || order.State == OrderState.Finished) && step.AcceptedAt == null
                               && db.StepResults.Any(r => r.OrderStepId == step.Id && r.Outcome == StepOutcome.NotAsSpecified)
                           orderby order.Id, step.Number
                           select new { Step = step, order.Number, position.Tag, order.EstimatedHours }).ToListAsync(reading.Ct);
        var ids = steps.Select(s => s.Step.Id).ToList();
        var results = (await db.StepResults.Where(r => ids.Contains(r.OrderStepId)).OrderBy(r => r.Id).ToListAsync(reading.Ct)).ToLookup(r => r.OrderStepId);
        return steps.Where(s => StepState.Of(s.Step, [.. results[s.Step.Id]]).Deviates).Select(s => new TodayItem(TodayKind.Deviation, s.EstimatedHours ?? 0,
            s.Number, s.Tag, $"step {s.Step.Number} is not as specified", results[s.Step.Id].Last(r => r.Outcome == StepOutcome.NotAsSpecified).Note ?? s.Step.Text, null));
    }

    static async Task<IEnumerable<TodayItem>> Finished(Reading reading) =>
        (await (from order in reading.Db.WorkOrders
                join position in reading.Db.Positions on order.PositionId equals position.Id
                join job in reading.Db.Jobs on order.JobId equals job.Id
                where order.State == OrderState.Finished
                orderby order.FinishedAt
                select new { order.Number, position.Tag, job.Description, Picked = reading.Db.Reservations.Count(r => r.OrderId == order.Id && r.Picked > r.Fitted + r.Returned + r.Scrapped) })
            .ToListAsync(reading.Ct))
        .Select(o => new TodayItem(TodayKind.ToClose, 0, o.Number, o.Tag, o.Description, o.Picked == 1 ? "1 part to account for" : $"{o.Picked} parts to account for", null));

    static async Task<IEnumerable<TodayItem>> Paused(Reading reading) =>
        (await (from order in reading.Db.WorkOrders
                join position in reading.Db.Positions on order.PositionId equals position.Id
                where order.State == OrderState.Underway && order.Paused != null
                select new { order.Number, position.Tag, order.Paused, order.EstimatedHours }).ToListAsync(reading.Ct))
        .Select(o => new TodayItem(TodayKind.Paused, o.EstimatedHours ?? 0, o.Number, o.Tag, "work stands still", o.Paused, null));

    static async Task<IReadOnlyList<FloorRow>> Floor(Reading reading)
    {
        var db = reading.Db;
        var rows = await (from order in db.WorkOrders
                          join position in db.Positions on order.PositionId equals position.Id
                          join job in db.Jobs on order.JobId equals job.Id
                          where order.State == OrderState.Staged || order.State == OrderState.Underway || order.State == OrderState.Finished
                          orderby order.State == OrderState.Underway descending, order.State == OrderState.Staged descending, order.Id
                          select new
                          {
                              order.Number, position.Tag, job.Description, order.State, order.StagedPlace, order.Paused,
                              Steps = db.OrderSteps.Count(s => s.OrderId == order.Id),
                              Done = db.OrderSteps.Count(s => s.OrderId == order.Id && db.StepResults.Any(r => r.OrderStepId == s.Id)),
                          }).Take(40).ToListAsync(reading.Ct);
        return [.. rows.Select(r => new FloorRow(r.Number, r.Tag, r.Description, r.State, r.StagedPlace, r.Paused, r.Done, r.Steps))];
    }

    static async Task<IReadOnlyList<HappenedRow>> Happened(Reading reading)
    {
        var db = reading.Db;
        var rows = await (from entry in db.Audit
                      join person in db.People on entry.PersonId equals person.Id
                      where entry.OrderId != null || entry.Operation == "receive-lot"
                      orderby entry.Id descending
                      select new HappenedRow(entry.At, person.Name, db.WorkOrders.Where(o => o.Id == entry.OrderId).Select(o => o.Number).FirstOrDefault(),
                          entry.Subject, entry.Sentence)).Take(8).ToListAsync(reading.Ct);
        return rows.ConvertAll(r => r with { At = reading.Plant.TimeOf(r.At) });
    }
}
