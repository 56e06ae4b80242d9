using KitOrders.Operations.Kits;
using KitOrders.Operations.Parts;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Planning;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>What the pump is, and what the order makes of it.</summary>
/// <param name="Strokes">The meter as last recorded.</param>
/// <param name="Becomes">Null where the job leaves the model as it is.</param>
public sealed record PumpNowAndAfter(string? Area, string Model, string? ModelDescription, Control Control, bool? SensingRod, long? Strokes,
    DateOnly? StrokesReadOn, string? OutOfService, IReadOnlyList<string> Fitted, string? Becomes, Control? ControlAfter, string? SupplyAfter);

/// <summary>A part of the order that is not in hand.</summary>
/// <param name="On">The day on which all of it can be in hand; null when that is not known.</param>
/// <param name="Uncovered">What no promise covers; it has to be bought.</param>
/// <param name="Late">A promise that has passed stands in it.</param>
public sealed record AwaitedPart(string Part, string Description, LineSource Source, DateOnly? On, decimal Uncovered, bool Late, bool Binds);

/// <summary>The first day on which all parts can be in hand.</summary>
public sealed record OrderDay(DateOnly AsOf, DateOnly? ReadyOn, DateOnly? ReadyIfBoughtToday, IReadOnlyList<AwaitedPart> Waiting);

/// <summary>An order that holds the part on the shelf and presses less.</summary>
public sealed record HolderOf(string Number, int Score, decimal Held);

/// <param name="Free">Free of it and usable on the fit date.</param>
/// <param name="Supersedes">It takes the part's place for good.</param>
public sealed record AlternateOf(string Part, string Description, decimal Free, string? Bin, int Preference = 1, bool Supersedes = false);

/// <summary>The ways out of one part's shortage.</summary>
public sealed record WaysOut(string Part, IReadOnlyList<HolderOf> Holders, IReadOnlyList<AlternateOf> Alternates);

/// <param name="Rank">Its place among the open and staged orders by priority, from 1; null when it is served no more.</param>
public sealed record OrderSheetView(OrderView Order, PumpNowAndAfter Pump, OrderDay? Day, IReadOnlyList<WaysOut> Ways, DateOnly Today, int? Rank, int Ranked);

/// <summary>An order with all that its page says beside it: the pump now and after, the day, the ways out of each shortage.</summary>
public sealed class OrderSheet(Desk desk)
{
    static readonly OrderState[] Served = [OrderState.Open, OrderState.Staged];

    public Task<Outcome<OrderSheetView>> One(string number, CancellationToken ct) =>
        desk.Read<Outcome<OrderSheetView>>(async reading =>
        {
            var found = await OrderReading.View(reading, number);
            if (found.Refusal is { } refusal)
                return refusal;
            var view = found.Value;
            var order = await reading.Db.WorkOrders.Include(o => o.Kits).SingleAsync(o => o.Number == number, ct);
            var partIds = await PartIds(reading, view);
            var waits = view.State is OrderState.Draft or OrderState.Open or OrderState.Staged;
            var others = waits ? await Ranked(reading) : [];
            var rank = waits ? 1 + others.Count(o => o.Id != order.Id && Priority.MostPressingFirst.Compare(o.Priority, PriorityOf(view)) < 0) : (int?)null;
            return new OrderSheetView(InPlantTime(view, reading.Plant), await PumpOf(reading, order, view),
                waits ? await Day(reading, order, view, others, partIds) : null,
                await Ways(reading, order, view, partIds), reading.Today, rank, others.Count(o => o.Id != order.Id) + 1);
        }, ct);

    /// <summary>The same moments, written as the clocks of the plant show them.</summary>
    static OrderView InPlantTime(OrderView view, PlantSettings plant) => view with
    {
        MadeAt = plant.TimeOf(view.MadeAt),
        OpenedAt = plant.TimeOf(view.OpenedAt),
        StartedAt = plant.TimeOf(view.StartedAt),
        FinishedAt = plant.TimeOf(view.FinishedAt),
        ClosedAt = plant.TimeOf(view.ClosedAt),
        History = [.. view.History.Select(h => h with { At = plant.TimeOf(h.At) })],
        Permits = [.. view.Permits.Select(p => p with { RecordedAt = plant.TimeOf(p.RecordedAt) })],
        Suitability = [.. view.Suitability.Select(c => c with { AnsweredAt = plant.TimeOf(c.AnsweredAt) })],
        Steps = [.. view.Steps.Select(s => s with
        {
            ReleasedAt = plant.TimeOf(s.ReleasedAt),
            Results = [.. s.Results.Select(r => r with { RecordedAt = plant.TimeOf(r.RecordedAt), ReceivedAt = plant.TimeOf(r.ReceivedAt) })],
        })],
    };

    sealed record RankedOrder(OrderId Id, Priority Priority, DateOnly FitOn);

    static Priority PriorityOf(OrderView view) => new(view.Number, view.Criticality, view.WorkClass, view.NeededBy, view.OpenedAt);

    static async Task<List<RankedOrder>> Ranked(Reading reading) =>
        (await (from order in reading.Db.WorkOrders
                join position in reading.Db.Positions on order.PositionId equals position.Id
                where Served.Contains(order.State)
                select new { order.Id, order.Number, order.WorkClass, order.NeededBy, order.PlannedFitOn, order.OpenedAt, position.Criticality })
            .ToListAsync(reading.Ct))
        .ConvertAll(o => new RankedOrder(o.Id, new Priority(o.Number, o.Criticality, o.WorkClass, o.NeededBy, o.OpenedAt), o.PlannedFitOn ?? o.NeededBy));

    static async Task<Dictionary<string, PartId>> PartIds(Reading reading, OrderView view)
    {
        var numbers = view.Demand.Select(d => d.Part).Distinct().ToList();
        return await reading.Db.Parts.Where(p => numbers.Contains(p.Number)).ToDictionaryAsync(p => p.Number, p => p.Id, reading.Ct);
    }

    /// <summary>
    /// Every part is served by itself, so it is enough to look at the parts of this order, with everybody who waits for them.
    /// A draft stands where it would stand once opened.
    /// </summary>
    static async Task<OrderDay> Day(Reading reading, WorkOrder order, OrderView view, List<RankedOrder> others, Dictionary<string, PartId> partIds)
    {
        var db = reading.Db;
        var ids = partIds.Values.ToList();
        var rows = await (from line in db.DemandLines
                          join owner in db.WorkOrders on line.OrderId equals owner.Id
                          where Served.Contains(owner.State) && owner.Id != order.Id && ids.Contains(line.PartId) && line.Short > 0 && line.ReleasedById == null
                          select new { line.OrderId, line.Id, line.PartId, line.Required, line.Picked, line.Reserved }).ToListAsync(reading.Ct);
        var pooled = await db.PooledLines.AsNoTracking().Where(l => ids.Contains(l.PartId) && l.Short > 0 && l.ReleasedById == null).ToListAsync(reading.Ct);
        var places = await CampaignPlaces.Of(db, pooled.Select(l => l.CampaignId), Served, reading.Ct);
        var lines = rows.Select(r => (r.OrderId, Fact: new LineFact(r.Id, r.PartId, r.Required, r.Picked, r.Reserved)))
            .Concat(pooled.Where(l => places[l.CampaignId].First is { } first && first != order.Id)
                .Select(l => (OrderId: places[l.CampaignId].First!.Value, Fact: new LineFact(l.Id, l.PartId, l.Required, l.Picked, l.Reserved))))
            .ToLookup(l => l.OrderId, l => l.Fact);
        // On a draft nothing is held; what it would reserve is reserved in the reading, so that it does not count as free twice.
        var own = view.Demand.Select((d, n) => new LineFact(new DemandLineId(-1 - n), partIds[d.Part], d.Required, d.Picked, view.State == OrderState.Draft ? 0 : d.Reserved)).ToList();
        var released = view.Demand.Select((d, n) => (d, n)).Where(x => x.d.ReleasedBy is not null).Select(x => x.n).ToHashSet();
        var facts = new ReadinessFacts(
            new PromiseRule(reading.Today, reading.Plant.LatePromiseDays),
            [.. others.Where(o => o.Id != order.Id).Append(new RankedOrder(order.Id, PriorityOf(view), view.FitOn))
                .OrderBy(o => o.Priority, Priority.MostPressingFirst)
                .Select(o => new OrderFact(o.Id, o.FitOn, o.Id == order.Id ? [.. own.Where((_, n) => !released.Contains(n))] : [.. lines[o.Id]]))],
            await Shelves.Of(db, ids, reading.Ct),
            await db.Incomings.Where(i => ids.Contains(i.PartId) && i.Received < i.Quantity)
                .Select(i => new IncomingFact(i.PartId, i.Reference, i.PromisedOn, i.Quantity - i.Received)).ToListAsync(reading.Ct),
            await db.Parts.Where(p => ids.Contains(p.Id)).ToDictionaryAsync(p => p.Id, p => new LeadFact(p.Id, p.Number, p.LeadTimeDays), reading.Ct));
        var day = Readiness.Of(facts).Single(r => r.Order == order.Id);
        return new OrderDay(reading.Today, day.ReadyOn, day.ReadyIfBoughtToday,
            [.. day.Waiting.Select(w =>
            {
                var line = view.Demand[-1 - w.Line.Value];
                var bought = w.Uncovered > 0 ? (line.LeadTimeDays is { } days ? reading.Today.AddDays(days) : (DateOnly?)null) : null;
                var promised = w.Promises.Count > 0 ? w.Promises.Max(p => p.On) : (DateOnly?)null;
                var on = w.Uncovered > 0 ? (bought is { } b && promised > b ? promised : bought) : w.ReadyOn;
                return new AwaitedPart(line.Part, line.Description, line.Source, on, w.Uncovered, w.Promises.Any(p => p.Late), w.Part == day.BindingPart);
            })]);
    }

    static async Task<PumpNowAndAfter> PumpOf(Reading reading, WorkOrder order, OrderView view)
    {
        var db = reading.Db;
        var pump = await db.Pumps.SingleAsync(p => p.Id == order.PumpId, reading.Ct);
        var position = await db.Positions.SingleAsync(p => p.Id == order.PositionId, reading.Ct);
        // Once it is closed the pump is what it became; the page still says what it was.
        var change = await db.PumpChanges.Where(c => c.OrderId == order.Id).OrderByDescending(c => c.Id).FirstOrDefaultAsync(reading.Ct);
        var beforeId = change?.ModelBefore ?? pump.ModelId;
        var kits = order.Kits.Select(k => k.KitPartId).ToList();
        var opened = order.Kits.Where(k => k.KitRevisionId is not null).Select(k => k.KitRevisionId!.Value).ToList();
        var fits = await (from fit in db.KitFits
                          join revision in db.KitRevisions on fit.KitRevisionId equals revision.Id
                          where fit.ModelId == beforeId && kits.Contains(revision.PartId)
                              && (opened.Count > 0 ? opened.Contains(revision.Id) : revision.State == RevisionState.Released)
                          select fit).ToListAsync(reading.Ct);
        var converts = fits.Find(f => f.ConvertsToId is not null);
        var afterId = change is null ? converts?.ConvertsToId : change.ModelAfter == beforeId ? null : change.ModelAfter;
        var models = await db.PumpModels.Where(m => m.Id == beforeId || m.Id == afterId).ToDictionaryAsync(m => m.Id, reading.Ct);
        var fitted = await (from kit in db.FittedKits
                            join part in db.Parts on kit.KitPartId equals part.Id
                            join revision in db.KitRevisions on kit.KitRevisionId equals revision.Id
                            where kit.PumpId == pump.Id && kit.OrderId != order.Id
                            orderby part.Number
                            select part.Number + " rev " + revision.Number).ToListAsync(reading.Ct);
        var read = await db.StrokeReadings.Where(s => s.PumpId == pump.Id).OrderByDescending(s => s.ReadOn).Select(s => (DateOnly?)s.ReadOn).FirstOrDefaultAsync(reading.Ct);
        var before = models[beforeId];
        var after = afterId is { } id ? models[id] : null;
        return new PumpNowAndAfter(position.Area, before.Code, before.Description, before.Control, pump.SensingRod, pump.StrokeCount, read,
            pump.OutOfService, fitted, after?.Code, after?.Control, Supply(converts));
    }

    static string? Supply(KitFit? fit) => fit?.Volts is { } volts
        ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{volts:0.##} V {SupplyWords.Of(fit.SupplyKind)}").TrimEnd() : null;

    static async Task<IReadOnlyList<WaysOut>> Ways(Reading reading, WorkOrder order, OrderView view, Dictionary<string, PartId> partIds)
    {
        if (view.State is not (OrderState.Draft or OrderState.Open or OrderState.Staged or OrderState.Underway))
            return [];
        var db = reading.Db;
        var lacking = view.Demand.Where(d => d.Short > 0).Select(d => partIds[d.Part]).Distinct().ToList();
        var holders = (await (from held in db.Reservations
                              join owner in db.WorkOrders on held.OrderId equals owner.Id
                              join position in db.Positions on owner.PositionId equals position.Id
                              join lot in db.Lots on held.LotId equals lot.Id
                              where lacking.Contains(held.PartId) && held.OrderId != order.Id && held.Held > 0 && Served.Contains(owner.State)
                                  && lot.Quarantine == null && lot.ExpiresOn >= view.FitOn
                              select new { held.PartId, owner.Number, Score = position.Criticality * owner.WorkClass, held.Held }).ToListAsync(reading.Ct))
            .GroupBy(h => (h.PartId, h.Number, h.Score))
            .Select(g => (g.Key.PartId, Holder: new HolderOf(g.Key.Number, g.Key.Score, g.Sum(h => h.Held))))
            .Where(h => h.Holder.Score < view.Score).OrderBy(h => h.Holder.Score).ThenBy(h => h.Holder.Number, StringComparer.Ordinal)
            .ToLookup(h => h.PartId, h => h.Holder);
        var standIns = await PartStandIns.Of(db, lacking, reading.Ct);
        var otherIds = lacking.SelectMany(id => standIns.Of(id).Select(s => s.Part)).Distinct().ToList();
        var free = (await Shelves.Of(db, otherIds, reading.Ct)).Where(b => b.Free > 0 && b.UsableOn(view.FitOn)).ToLookup(b => b.Part);
        var binIds = free.SelectMany(g => g).Select(b => b.Bin).Distinct().ToList();
        var bins = await db.Bins.Where(b => binIds.Contains(b.Id)).ToDictionaryAsync(b => b.Id, b => b.Code, reading.Ct);
        return [.. lacking.Select(id => new WaysOut(partIds.First(p => p.Value == id).Key, [.. holders[id]],
            [.. standIns.Of(id).Select(s => new AlternateOf(standIns.NumberOf(s.Part), standIns.Part(s.Part).Description,
                free[s.Part].Sum(b => b.Free),
                free[s.Part].OrderBy(b => b, Comparer<Rules.Stock.LotBalance>.Create(Rules.Stock.LotBalance.FirstOut)).Select(b => bins[b.Bin]).FirstOrDefault(),
                s.Preference, s.Supersedes))]))];
    }
}

/// <summary>How kinds of supply are written for people.</summary>
static class SupplyWords
{
    public static string Of(SupplyKind? kind) => kind switch
    {
        SupplyKind.Dc => "DC",
        SupplyKind.Ac50 => "AC 50 Hz",
        SupplyKind.Ac60 => "AC 60 Hz",
        _ => "",
    };
}
