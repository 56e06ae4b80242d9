using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>Reads an order whole. It is the same for a screen, for the API and for an operation that answers with it.</summary>
internal static class OrderReading
{
    public static async Task<Outcome<OrderView>> View(Reading reading, string number)
    {
        var views = await Views(reading, reading.Db.WorkOrders.Where(o => o.Number == number));
        return views.Count == 1 ? views[0] : OrderLookup.Unknown(number);
    }

    /// <summary>As many orders as are asked for, by id, with as many questions as one takes.</summary>
    public static async Task<IReadOnlyList<OrderView>> Views(Reading reading, IQueryable<WorkOrder> orders)
    {
        var (db, ct) = (reading.Db, reading.Ct);
        var heads = await (from order in orders.Include(o => o.Kits)
                           join position in db.Positions on order.PositionId equals position.Id
                           join pump in db.Pumps on order.PumpId equals pump.Id
                           join model in db.PumpModels on pump.ModelId equals model.Id
                           join job in db.Jobs on order.JobId equals job.Id
                           orderby order.Id
                           select new OrderFacts(order, position, pump, model, job)).AsNoTracking().ToListAsync(ct);
        if (heads.Count == 0)
            return [];
        var campaignIds = heads.Select(h => h.Order.CampaignId).OfType<CampaignId>().Distinct().ToList();
        var campaigns = campaignIds.Count == 0 ? [] : await db.Campaigns.Where(c => campaignIds.Contains(c.Id)).ToDictionaryAsync(c => c.Id, c => c.Number, ct);
        var names = await db.People.AsNoTracking().ToDictionaryAsync(p => p.Id, p => p.Name, ct);
        var drafts = await DraftReading.Read(reading, [.. heads.Where(h => h.IsDraft)], names);
        var ids = heads.Where(h => !h.IsDraft).Select(h => h.Order.Id).ToList();
        var procedures = await ProceduresOf(reading, heads);
        var kits = await KitsOf(reading, heads);
        var demand = await DemandReading.Kept(reading, ids, names);
        var steps = await StepReading.Of(reading, ids, names);
        var checks = await ChecksOf(reading, ids, names);
        var all = heads.ConvertAll(h => h.Order.Id);
        var hours = (await db.HoursWorked.AsNoTracking().Where(h => all.Contains(h.OrderId)).OrderBy(h => h.Id).ToListAsync(ct)).ToLookup(h => h.OrderId);
        var permits = (await db.Permits.AsNoTracking().Where(p => all.Contains(p.OrderId)).OrderBy(p => p.Id).ToListAsync(ct)).ToLookup(p => p.OrderId);
        var removed = await RemovedOf(reading, ids);
        var history = (await db.Audit.AsNoTracking().Where(a => a.OrderId != null && all.Contains(a.OrderId.Value)).OrderBy(a => a.Id).ToListAsync(ct)).ToLookup(a => a.OrderId!.Value);
        return [.. heads.Select(h =>
        {
            var (order, position, pump, model, job) = h;
            var draft = drafts.GetValueOrDefault(order.Id);
            var lines = draft?.Demand ?? [.. demand[order.Id]];
            var inPlace = lines.ToLookup(l => l.Part, l => l.ReplacedBy);
            var worked = hours[order.Id].ToList();
            return new OrderView
            {
                Number = order.Number,
                State = order.State,
                Pump = position.Tag,
                Serial = pump.Serial,
                Model = model.Code,
                Job = job.Code,
                Campaign = order.CampaignId is { } campaign ? campaigns[campaign] : null,
                JobDescription = job.Description,
                Procedure = procedures(h)?.Code,
                ProcedureRevision = procedures(h)?.Number,
                Score = Priority.ScoreOf(position.Criticality, order.WorkClass),
                Criticality = position.Criticality,
                WorkClass = order.WorkClass,
                NeededBy = order.NeededBy,
                PlannedFitOn = order.PlannedFitOn,
                FitOn = order.FitOn,
                Breakdown = order.Breakdown,
                Paused = order.Paused,
                StagedPlace = order.StagedPlace,
                CancelReason = order.CancelReason,
                PumpIs = order.PumpIs,
                EstimatedHours = order.EstimatedHours ?? job.Hours,
                DowntimeHours = order.DowntimeHours,
                StrokeCount = order.StrokeCount,
                MadeAt = order.MadeAt,
                OpenedAt = order.OpenedAt,
                StartedAt = order.StartedAt,
                FinishedAt = order.FinishedAt,
                ClosedAt = order.ClosedAt,
                Version = order.Version,
                Kits = kits(order),
                DemandRefused = draft?.Refused?.Sentence,
                Demand = lines,
                Steps = draft?.Steps ?? [.. steps[order.Id].Select(s => s.Part is { } named && inPlace.Contains(named)
                    ? s with { InItsPlace = [.. inPlace[named].SelectMany(r => r).Select(r => r.Part).Distinct()] } : s)],
                Suitability = draft?.Checks ?? [.. checks[order.Id]],
                Cost = OrderCost.Of(reading.Plant.Currency, order, lines, worked, draft is not null ? job.Hours : null, draft?.HourlyRate),
                Permits = [.. permits[order.Id].Select(p => new PermitView(p.Kind, p.Reference, p.ValidTo, names[p.RecordedById], p.RecordedAt))],
                Hours = [.. worked.Select(w => new HoursView(w.Person, w.Hours))],
                Removed = [.. removed[order.Id]],
                History = [.. history[order.Id].Select(a => new EventView(a.At, names[a.PersonId], a.Operation, a.Sentence))],
            };
        })];
    }

    /// <summary>The revision an order was opened with; of one that was not, its job's current one.</summary>
    static async Task<Func<OrderFacts, (string Code, int Number)?>> ProceduresOf(Reading reading, IReadOnlyList<OrderFacts> heads)
    {
        var opened = heads.Where(h => h.Order.ProcedureRevisionId is not null).Select(h => h.Order.ProcedureRevisionId!.Value).Distinct().ToList();
        var planned = heads.Where(h => h.Order.ProcedureRevisionId is null).Select(h => h.Job.ProcedureId).Distinct().ToList();
        var found = await (from p in reading.Db.Procedures
                           join r in reading.Db.ProcedureRevisions on p.Id equals r.ProcedureId
                           where opened.Contains(r.Id) || (planned.Contains(p.Id) && r.State == RevisionState.Released)
                           select new { p.Id, Revision = r.Id, r.State, p.Code, r.Number }).ToListAsync(reading.Ct);
        return head => found.Find(f => head.Order.ProcedureRevisionId is { } revision
            ? f.Revision == revision : f.Id == head.Job.ProcedureId && f.State == RevisionState.Released) is { } of ? (of.Code, of.Number) : null;
    }

    static async Task<Func<WorkOrder, IReadOnlyList<OrderKitView>>> KitsOf(Reading reading, IReadOnlyList<OrderFacts> heads)
    {
        var ids = heads.SelectMany(h => h.Order.Kits).Select(k => k.KitPartId).Distinct().ToList();
        var parts = await reading.Db.Parts.AsNoTracking().Where(p => ids.Contains(p.Id)).ToDictionaryAsync(p => p.Id, reading.Ct);
        var revisions = (await reading.Db.KitRevisions.AsNoTracking().Where(r => ids.Contains(r.PartId))
            .Select(r => new { r.Id, r.PartId, r.Number, r.State }).ToListAsync(reading.Ct)).ToLookup(r => r.PartId);
        return order => [.. order.Kits.OrderBy(k => parts[k.KitPartId].Number, StringComparer.Ordinal).Select(k =>
        {
            var current = revisions[k.KitPartId].SingleOrDefault(r => r.State == RevisionState.Released)?.Number;
            var opened = k.KitRevisionId is { } id ? revisions[k.KitPartId].Single(r => r.Id == id).Number : current;
            return new OrderKitView(parts[k.KitPartId].Number, parts[k.KitPartId].Description, opened, k.Quantity,
                current > opened ? current : null);
        })];
    }

    static async Task<ILookup<OrderId, CheckView>> ChecksOf(Reading reading, IReadOnlyList<OrderId> orders, IReadOnlyDictionary<PersonId, string> names)
    {
        var judgements = await reading.Db.OrderJudgements.AsNoTracking().Where(j => orders.Contains(j.OrderId)).ToListAsync(reading.Ct);
        var answers = await reading.Db.OrderChecks.AsNoTracking().Where(c => orders.Contains(c.OrderId))
            .ToDictionaryAsync(c => (c.OrderId, c.Check, c.Kit), reading.Ct);
        return judgements.SelectMany(j => ChecksKept.Read(j).Select(kept => (j.OrderId, Kept: kept)))
            .OrderBy(j => j.Kept.Kit, StringComparer.Ordinal).ThenBy(j => j.Kept.Check)
            .ToLookup(j => j.OrderId, j => ViewOf(j.Kept, answers.GetValueOrDefault((j.OrderId, j.Kept.Check, j.Kept.Kit)), names));
    }

    static CheckView ViewOf(ChecksKept.Kept kept, OrderCheck? answer, IReadOnlyDictionary<PersonId, string> names) =>
        new(kept.Check, kept.Kit, kept.Result, kept.Reason, kept.Numbers, kept.OnCondition, kept.Answerable, kept.Caution,
            answer?.Answer, answer?.AnswerNote, answer?.AnsweredById is { } by ? names[by] : null, answer?.AnsweredAt);

    static async Task<ILookup<OrderId, RemovedView>> RemovedOf(Reading reading, IReadOnlyList<OrderId> orders) =>
        (await (from removed in reading.Db.RemovedParts
                join part in reading.Db.Parts on removed.PartId equals part.Id
                where orders.Contains(removed.OrderId)
                orderby removed.Id
                select new { removed.OrderId, View = new RemovedView(part.Number, part.Description, removed.Quantity, removed.To, removed.Decontaminated) })
            .ToListAsync(reading.Ct)).ToLookup(r => r.OrderId, r => r.View);
}

/// <summary>An order with what it stands on.</summary>
internal sealed record OrderFacts(WorkOrder Order, Position Position, Pump Pump, PumpModel Model, Job Job)
{
    public bool IsDraft => Order.State == OrderState.Draft || Order.OpenedAt is null;
}
