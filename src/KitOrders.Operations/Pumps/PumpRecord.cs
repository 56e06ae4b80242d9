using System.Linq.Expressions;
using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>A pump as every screen and the HTTP API see it: what it is, what is on it, what was done to it.</summary>
public sealed record PumpView
{
    /// <summary>Tag of the position where it stands; empty in the store, where nothing of a position is recorded.</summary>
    public required string Tag { get; init; }

    public bool InStore => Tag.Length == 0;

    public required string Serial { get; init; }
    public required string Model { get; init; }
    public required string? ModelDescription { get; init; }
    public required Control Control { get; init; }
    public required bool? SensingRod { get; init; }
    public required string? Area { get; init; }
    public required Zone? Zone { get; init; }
    public required string? ExGroup { get; init; }
    public required string? TemperatureClass { get; init; }
    public required SupplyKind? SupplyKind { get; init; }
    public required decimal? SupplyVolts { get; init; }
    public required decimal? CableM { get; init; }
    public required decimal? CableMm2 { get; init; }
    public required string? Fluid { get; init; }
    public required string? FluidHazard { get; init; }
    public required decimal? FluidTempC { get; init; }
    public required int Criticality { get; init; }
    public required DateOnly? CommissionedOn { get; init; }
    public required long? Strokes { get; init; }
    public required int? StrokesPerPulse { get; init; }
    public required string? OutOfService { get; init; }
    public required string Currency { get; init; }

    /// <summary>The day it is where the plant stands.</summary>
    public required DateOnly Today { get; init; }
    public required IReadOnlyList<FittedKitView> Fitted { get; init; }
    public required IReadOnlyList<StrokesView> StrokeReadings { get; init; }
    public required IReadOnlyList<PumpChangeView> History { get; init; }
    public required IReadOnlyList<PumpOrderView> Orders { get; init; }

    /// <summary>Where it stood, oldest first; nothing before the first move that was recorded.</summary>
    public required IReadOnlyList<PumpStayView> Stays { get; init; }

    /// <summary>Which pumps stood at its position before it.</summary>
    public required IReadOnlyList<PumpStayView> Before { get; init; }
}

/// <param name="From">Null: since before moves were recorded.</param>
/// <param name="Until">Null while it stands there.</param>
public sealed record PumpStayView(string Tag, string Serial, DateOnly? From, DateOnly? Until, string? Came, string? Left);

public sealed record FittedKitView(string Kit, string Description, int Revision, DateOnly FittedOn, string? Order, IReadOnlyList<FittedLotView> Lots);

public sealed record FittedLotView(string Part, string Description, string Lot, decimal Quantity, DateOnly FittedOn);

public sealed record StrokesView(DateOnly On, long Strokes)
{
    /// <summary>The meter was replaced or set back since the reading before.</summary>
    public bool MeterReplaced { get; init; }

    public string? Note { get; init; }

    /// <summary>Null where it came with an order that was closed.</summary>
    public string? ReadBy { get; init; }
}

public sealed record PumpChangeView(DateOnly On, string What, string ModelBefore, string ModelAfter, Control ControlBefore, Control ControlAfter,
    long? Strokes, string? Order);

public sealed record PumpOrderView(string Number, string Job, string JobDescription, OrderState State, DateOnly FitOn, DateTimeOffset? ClosedAt,
    decimal? Hours, long? Strokes, decimal? Cost, decimal Short);

/// <summary>The record of the pump that stands at a position now, or of one in the store by its serial number.</summary>
public sealed class PumpRecord(Desk desk)
{
    public Task<Outcome<PumpView>> One(string tag, CancellationToken ct) =>
        desk.Read<Outcome<PumpView>>(async reading =>
        {
            var db = reading.Db;
            var found = (await (from stands in db.Pumps
                                join of in db.PumpModels on stands.ModelId equals of.Id
                                join place in db.Positions on stands.PositionId equals place.Id into at
                                from place in at.DefaultIfEmpty()
                                where place.Tag == tag || (place == null && stands.Serial == tag)
                                orderby place.Tag == tag descending
                                select new { Position = place, Pump = stands, Model = of }).Take(1).ToListAsync(ct)).SingleOrDefault();
            if (found is null)
                return Unknown(tag, await db.Positions.AnyAsync(p => p.Tag == tag, ct));
            var (pump, model) = (found.Pump, found.Model);
            // In the store nothing of a position applies.
            var position = found.Position ?? new Position { Tag = "", Criticality = 0 };
            var fluid = position.FluidId is { } id ? await db.Fluids.SingleAsync(f => f.Id == id, ct) : null;
            return new PumpView
            {
                Tag = position.Tag, Serial = pump.Serial, Model = model.Code, ModelDescription = model.Description, Control = model.Control,
                SensingRod = pump.SensingRod, Area = position.Area, Zone = position.Zone, ExGroup = position.ExGroup,
                TemperatureClass = position.TemperatureClass, SupplyKind = position.SupplyKind, SupplyVolts = position.SupplyVolts,
                CableM = position.CableM, CableMm2 = position.CableMm2, Fluid = fluid?.Name, FluidHazard = fluid?.Hazard,
                FluidTempC = position.FluidTempC, Criticality = position.Criticality, CommissionedOn = pump.CommissionedOn,
                Strokes = pump.StrokeCount, StrokesPerPulse = pump.StrokesPerPulse, OutOfService = pump.OutOfService, Currency = reading.Plant.Currency, Today = reading.Today,
                Fitted = await FittedOf(reading, pump.Id),
                StrokeReadings = await db.StrokeReadings.Where(s => s.PumpId == pump.Id).OrderBy(s => s.ReadOn).ThenBy(s => s.Id)
                    .Select(s => new StrokesView(s.ReadOn, s.Strokes)
                    {
                        MeterReplaced = s.MeterReplaced, Note = s.Note, ReadBy = db.People.Where(p => p.Id == s.ReadById).Select(p => p.Name).FirstOrDefault(),
                    }).ToListAsync(ct),
                Stays = await StaysOf(reading, s => s.PumpId == pump.Id),
                Before = found.Position is { } here ? await StaysOf(reading, s => s.PositionId == here.Id && s.PumpId != pump.Id) : [],
                History = await HistoryOf(reading, pump.Id),
                Orders = await OrdersOf(reading, pump.Id),
            };
        }, ct);

    internal static Refusal Unknown(string tag, bool position = false) => Refusal.NotFound("pump-unknown", position
        ? $"No pump stands at {tag} now. Record which pump stands there first."
        : $"There is no position with the tag {tag}. Look it up under Pumps, or import it first.");

    static async Task<IReadOnlyList<FittedKitView>> FittedOf(Reading reading, PumpId pump)
    {
        var db = reading.Db;
        var kits = await (from kit in db.FittedKits
                          join part in db.Parts on kit.KitPartId equals part.Id
                          join revision in db.KitRevisions on kit.KitRevisionId equals revision.Id
                          where kit.PumpId == pump
                          orderby kit.FittedOn, part.Number
                          select new { part.Number, part.Description, Revision = revision.Number, kit.FittedOn, kit.OrderId }).ToListAsync(reading.Ct);
        var lots = (await (from fitted in db.FittedLots
                           join part in db.Parts on fitted.PartId equals part.Id
                           join lot in db.Lots on fitted.LotId equals lot.Id
                           where fitted.PumpId == pump
                           orderby part.Number, lot.Number
                           select new { fitted.OrderId, Row = new FittedLotView(part.Number, part.Description, lot.Number, fitted.Quantity, fitted.FittedOn) })
            .ToListAsync(reading.Ct)).ToLookup(l => (OrderId?)l.OrderId, l => l.Row);
        var orders = kits.Where(k => k.OrderId is not null).Select(k => k.OrderId!.Value).ToList();
        var numbers = await db.WorkOrders.Where(o => orders.Contains(o.Id)).ToDictionaryAsync(o => o.Id, o => o.Number, reading.Ct);
        var told = new HashSet<OrderId>();
        // Lots are kept by order; an order that fitted several kits tells them once, under the first.
        return [.. kits.Select(k => new FittedKitView(k.Number, k.Description, k.Revision, k.FittedOn,
            k.OrderId is { } of ? numbers[of] : null, k.OrderId is { } order && told.Add(order) ? [.. lots[order]] : []))];
    }

    static async Task<IReadOnlyList<PumpStayView>> StaysOf(Reading reading, Expression<Func<PumpStay, bool>> which)
    {
        var db = reading.Db;
        return await (from stay in db.PumpStays.Where(which)
                      join place in db.Positions on stay.PositionId equals place.Id
                      join pump in db.Pumps on stay.PumpId equals pump.Id
                      orderby stay.From ?? DateOnly.MinValue, stay.Until ?? DateOnly.MaxValue, stay.Id
                      select new PumpStayView(place.Tag, pump.Serial, stay.From, stay.Until, stay.Came, stay.Left)).ToListAsync(reading.Ct);
    }

    static async Task<IReadOnlyList<PumpChangeView>> HistoryOf(Reading reading, PumpId pump)
    {
        var db = reading.Db;
        return await (from change in db.PumpChanges
                      join before in db.PumpModels on change.ModelBefore equals before.Id
                      join after in db.PumpModels on change.ModelAfter equals after.Id
                      where change.PumpId == pump
                      orderby change.On, change.Id
                      select new PumpChangeView(change.On, change.What, before.Code, after.Code, before.Control, after.Control, change.StrokeCount,
                          db.WorkOrders.Where(o => o.Id == change.OrderId).Select(o => o.Number).FirstOrDefault())).ToListAsync(reading.Ct);
    }

    static async Task<IReadOnlyList<PumpOrderView>> OrdersOf(Reading reading, PumpId pump)
    {
        var db = reading.Db;
        return await (from order in db.WorkOrders
                      join job in db.Jobs on order.JobId equals job.Id
                      where order.PumpId == pump
                      orderby order.Id descending
                      select new PumpOrderView(order.Number, job.Code, job.Description, order.State, order.PlannedFitOn ?? order.NeededBy, order.ClosedAt,
                          order.ClosedAt == null ? order.EstimatedHours ?? job.Hours : db.HoursWorked.Where(h => h.OrderId == order.Id).Sum(h => h.Hours),
                          order.StrokeCount, order.ActualParts + order.ActualLabour,
                          db.DemandLines.Where(l => l.OrderId == order.Id).Sum(l => l.Short))).ToListAsync(reading.Ct);
    }
}
