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
        var db = reading.Db;
        var order = await db.WorkOrders.AsNoTracking().Include(o => o.Kits).SingleOrDefaultAsync(o => o.Number == number, reading.Ct);
        if (order is null)
            return OrderLookup.Unknown(number);
        var position = await db.Positions.AsNoTracking().SingleAsync(p => p.Id == order.PositionId, reading.Ct);
        var pump = await db.Pumps.AsNoTracking().SingleAsync(p => p.Id == order.PumpId, reading.Ct);
        var model = await db.PumpModels.AsNoTracking().SingleAsync(m => m.Id == pump.ModelId, reading.Ct);
        var job = await db.Jobs.AsNoTracking().SingleAsync(j => j.Id == order.JobId, reading.Ct);
        var procedure = await ProcedureOf(reading, order, job);
        var names = await db.People.AsNoTracking().ToDictionaryAsync(p => p.Id, p => p.Name, reading.Ct);
        var draft = order.State == OrderState.Draft || order.OpenedAt is null
            ? await DraftReading.Read(reading, order, pump, position, job, names) : null;
        var demand = draft?.Demand ?? await DemandReading.Kept(reading, order, names);
        var hours = await db.HoursWorked.AsNoTracking().Where(h => h.OrderId == order.Id).OrderBy(h => h.Id).ToListAsync(reading.Ct);
        return new OrderView
        {
            Number = order.Number,
            State = order.State,
            Pump = position.Tag,
            Serial = pump.Serial,
            Model = model.Code,
            Job = job.Code,
            JobDescription = job.Description,
            Procedure = procedure.Code,
            ProcedureRevision = procedure.Number,
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
            Kits = await KitsOf(reading, order),
            DemandRefused = draft?.Refused?.Sentence,
            Demand = demand,
            Steps = draft?.Steps ?? await StepReading.Of(reading, order.Id, names),
            Suitability = draft?.Checks ?? await ChecksOf(reading, order.Id, names),
            Cost = OrderCost.Of(reading.Plant.Currency, order, demand, hours, draft is not null ? job.Hours : null, draft?.HourlyRate),
            Permits = [.. (await db.Permits.AsNoTracking().Where(p => p.OrderId == order.Id).OrderBy(p => p.Id).ToListAsync(reading.Ct))
                .Select(p => new PermitView(p.Kind, p.Reference, p.ValidTo, names[p.RecordedById], p.RecordedAt))],
            Hours = [.. hours.Select(h => new HoursView(h.Person, h.Hours))],
            Removed = await RemovedOf(reading, order.Id),
            History = [.. (await db.Audit.AsNoTracking().Where(a => a.OrderId == order.Id).OrderBy(a => a.Id).ToListAsync(reading.Ct))
                .Select(a => new EventView(a.At, names[a.PersonId], a.Operation, a.Sentence))],
        };
    }

    static async Task<(string? Code, int? Number)> ProcedureOf(Reading reading, WorkOrder order, Job job)
    {
        var found = await (from p in reading.Db.Procedures
                           join r in reading.Db.ProcedureRevisions on p.Id equals r.ProcedureId
                           where order.ProcedureRevisionId == null
                               ? p.Id == job.ProcedureId && r.State == RevisionState.Released
                               : r.Id == order.ProcedureRevisionId
                           select new { p.Code, r.Number }).FirstOrDefaultAsync(reading.Ct);
        return (found?.Code, found?.Number);
    }

    static async Task<IReadOnlyList<OrderKitView>> KitsOf(Reading reading, WorkOrder order)
    {
        var ids = order.Kits.Select(k => k.KitPartId).ToList();
        var parts = await reading.Db.Parts.AsNoTracking().Where(p => ids.Contains(p.Id)).ToDictionaryAsync(p => p.Id, reading.Ct);
        var revisions = await reading.Db.KitRevisions.AsNoTracking().Where(r => ids.Contains(r.PartId))
            .Select(r => new { r.Id, r.PartId, r.Number, r.State }).ToListAsync(reading.Ct);
        return [.. order.Kits.OrderBy(k => parts[k.KitPartId].Number, StringComparer.Ordinal).Select(k =>
        {
            var current = revisions.SingleOrDefault(r => r.PartId == k.KitPartId && r.State == RevisionState.Released)?.Number;
            var opened = k.KitRevisionId is { } id ? revisions.Single(r => r.Id == id).Number : current;
            return new OrderKitView(parts[k.KitPartId].Number, parts[k.KitPartId].Description, opened, k.Quantity,
                current > opened ? current : null);
        })];
    }

    static async Task<IReadOnlyList<CheckView>> ChecksOf(Reading reading, OrderId order, IReadOnlyDictionary<PersonId, string> names) =>
        [.. (await reading.Db.OrderChecks.AsNoTracking().Where(c => c.OrderId == order && c.Result != null).ToListAsync(reading.Ct))
            .OrderBy(c => c.Kit, StringComparer.Ordinal).ThenBy(c => c.Check)
            .Select(c =>
            {
                var kept = ChecksKept.Read(c);
                return new CheckView(c.Check, c.Kit, c.Result!.Value, c.Reason!, kept.Numbers, kept.OnCondition, kept.Answerable,
                    kept.Caution, c.Answer, c.AnswerNote, c.AnsweredById is { } by ? names[by] : null, c.AnsweredAt);
            })];

    static async Task<IReadOnlyList<RemovedView>> RemovedOf(Reading reading, OrderId order) =>
        await (from removed in reading.Db.RemovedParts
               join part in reading.Db.Parts on removed.PartId equals part.Id
               where removed.OrderId == order
               orderby removed.Id
               select new RemovedView(part.Number, part.Description, removed.Quantity, removed.To, removed.Decontaminated)).ToListAsync(reading.Ct);
}
