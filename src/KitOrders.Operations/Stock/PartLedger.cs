using KitOrders.Operations.Kits;
using KitOrders.Operations.Parts;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Planning;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>A part with its lots, what is held of it, what waits for it and what is to come.</summary>
public sealed record PartLedgerView
{
    public required string Part { get; init; }
    public required string Description { get; init; }
    public required Unit Unit { get; init; }
    public required string? Elastomers { get; init; }
    public required string? Barcode { get; init; }
    public required string? Thread { get; init; }
    public required string? Supplier { get; init; }
    public required decimal? HandedOutIn { get; init; }
    public required int? LeadTimeDays { get; init; }

    /// <summary>Catalogue price.</summary>
    public required decimal? UnitCost { get; init; }

    public required decimal? AverageCost { get; init; }
    public required string Currency { get; init; }

    /// <summary>The plant's, for moments in the ledger.</summary>
    public required string TimeZone { get; init; }

    public required DateOnly Today { get; init; }

    /// <summary>Elastomers of the part and of what is in its box that age; empty: no expiry.</summary>
    public required IReadOnlyList<string> Ages { get; init; }

    public required IReadOnlyList<string> Alternates { get; init; }

    /// <summary>What may stand in for it where it is short, in the order in which it is offered.</summary>
    public required IReadOnlyList<StandInRow> StandIns { get; init; }

    /// <summary>The part that takes its place for good; null when none does.</summary>
    public required string? SupersededBy { get; init; }

    /// <summary>Parts whose place it takes.</summary>
    public required IReadOnlyList<string> Supersedes { get; init; }

    public required IReadOnlyList<string> UsedIn { get; init; }

    /// <summary>The day on which usable was judged.</summary>
    public required DateOnly On { get; init; }

    public required IReadOnlyList<LotRow> Lots { get; init; }
    public required StockTotals Totals { get; init; }
    public required IReadOnlyList<HeldRow> Reservations { get; init; }
    public required IReadOnlyList<WaitingRow> Waiting { get; init; }
    public required IReadOnlyList<IncomingRow> Incoming { get; init; }
}

/// <param name="Own">Approved for this part; else it comes from an approval of the other one that counts both ways, or supersedes it.</param>
public sealed record StandInRow(string Part, string Description, int Preference, bool BothWays, bool Supersedes, bool Own);

/// <param name="Available">Free of it: on hand − reserved where it is usable on the day, else 0.</param>
public sealed record LotRow(string Lot, string Bin, decimal OnHand, decimal Reserved, decimal Available, DateOnly? ExpiresOn, bool Usable,
    bool Quarantined, string? QuarantineReason, DateOnly? CuredOn, DateOnly ReceivedOn, DateOnly? InspectedOn, int WalkOrder);

/// <param name="Incoming">Outstanding of purchase lines.</param>
/// <param name="Shortage">What living orders are short of and no planner let go.</param>
public sealed record StockTotals(decimal OnHand, decimal Reserved, decimal Available, decimal Incoming, decimal Shortage);

/// <param name="Order">Number of the order; of the campaign where it holds spares for all its orders.</param>
/// <param name="Pump">Empty for a campaign.</param>
public sealed record HeldRow(string Order, string Pump, string Lot, string Bin, decimal Quantity, DateOnly FitOn, bool FitDateGiven, bool Campaign = false);

public sealed record WaitingRow(string Order, string Pump, decimal Short, int Score, DateOnly FitOn, bool Released, bool Campaign = false);

/// <param name="CountsOn">The day it counts for: a promise that has passed counts later.</param>
public sealed record IncomingRow(string Reference, decimal Quantity, decimal Received, decimal Outstanding, DateOnly? PromisedOn, DateOnly? CountsOn, bool Late, string? Supplier);

/// <summary>Reads one part's ledger, usable judged on a day.</summary>
public sealed class PartLedger(Desk desk)
{
    public Task<Outcome<PartLedgerView>> Read(string number, DateOnly? on, CancellationToken ct) => desk.Read<Outcome<PartLedgerView>>(async reading =>
    {
        var db = reading.Db;
        var part = await db.Parts.AsNoTracking().SingleOrDefaultAsync(p => p.Number == number, ct);
        if (part is null)
            return Refusal.NotFound("part-unknown", $"There is no part {number}. Look it up with /, or import it.");
        var day = on ?? reading.Today;
        var lots = await Lots(reading, part, day);
        var incoming = await Incoming(reading, part);
        var waiting = await Waiting(reading, part);
        var catalogue = await KitCatalogue.Load(db, [part.Id], ct);
        var standIns = await StandInsOf(reading, part);
        return new PartLedgerView
        {
            Part = part.Number,
            Description = part.Description,
            Unit = part.Unit,
            Elastomers = part.Elastomers,
            Barcode = part.Barcode,
            Thread = part.Thread,
            Supplier = part.Supplier,
            HandedOutIn = part.HandedOutIn,
            LeadTimeDays = part.LeadTimeDays,
            UnitCost = part.UnitCost,
            AverageCost = await db.PartStocks.Where(s => s.PartId == part.Id).Select(s => s.AverageCost).SingleAsync(ct),
            Currency = reading.Plant.Currency,
            TimeZone = reading.Plant.TimeZone,
            Today = reading.Today,
            Ages = [.. catalogue.ElastomersOf(part.Id).Where(e => e.Ages).Select(e => e.Code)],
            Alternates = [.. standIns.Where(a => a.Own).Select(a => a.Part)],
            StandIns = standIns,
            SupersededBy = part.SupersededById is null ? null : await db.Parts.Where(p => p.Id == part.SupersededById).Select(p => p.Number).SingleAsync(ct),
            Supersedes = await db.Parts.Where(p => p.SupersededById == part.Id).OrderBy(p => p.Number).Select(p => p.Number).ToListAsync(ct),
            UsedIn = await (from line in db.KitLines where line.PartId == part.Id
                            join revision in db.KitRevisions on line.KitRevisionId equals revision.Id
                            where revision.State == RevisionState.Released
                            join kit in db.Parts on revision.PartId equals kit.Id
                            select kit.Number).Distinct().OrderBy(n => n).ToListAsync(ct),
            On = day,
            Lots = lots,
            Totals = new StockTotals(lots.Sum(l => l.OnHand), lots.Sum(l => l.Reserved), lots.Sum(l => l.Available),
                incoming.Sum(i => i.Outstanding), waiting.Where(w => !w.Released).Sum(w => w.Short)),
            Reservations = await Held(reading, part),
            Waiting = waiting,
            Incoming = incoming,
        };
    }, ct);

    static async Task<List<StandInRow>> StandInsOf(Reading reading, Part part)
    {
        var standIns = await PartStandIns.Of(reading.Db, [part.Id], reading.Ct);
        return [.. standIns.Of(part.Id).Select(s => (StandIn: s, Approved: standIns.Approval(part.Id, s.Part)))
            .Select(s => new StandInRow(standIns.NumberOf(s.StandIn.Part), standIns.Part(s.StandIn.Part).Description, s.StandIn.Preference,
                s.Approved?.BothWays ?? false, s.StandIn.Supersedes, s.Approved?.PartId == part.Id))];
    }

    static async Task<List<LotRow>> Lots(Reading reading, Part part, DateOnly day)
    {
        var rows = await (from stock in reading.Db.BinStocks.AsNoTracking()
                          join lot in reading.Db.Lots on stock.LotId equals lot.Id
                          join bin in reading.Db.Bins on stock.BinId equals bin.Id
                          where stock.PartId == part.Id && stock.OnHand > 0
                          select new { stock, lot, bin }).ToListAsync(reading.Ct);
        return [.. rows
            .OrderBy(r => new LotBalance(part.Id, r.lot.Id, r.lot.Number, r.bin.Id, r.bin.WalkOrder, r.lot.ReceivedOn, r.lot.GoodUntil,
                r.lot.Quarantine is not null, r.stock.OnHand, r.stock.Reserved), Comparer<LotBalance>.Create(LotBalance.FirstOut))
            .Select(r => new LotRow(r.lot.Number, r.bin.Code, r.stock.OnHand, r.stock.Reserved,
                r.lot.IsUsableOn(day) ? r.stock.OnHand - r.stock.Reserved : 0, r.lot.GoodUntil, r.lot.IsUsableOn(day),
                r.lot.Quarantine is not null, r.lot.Quarantine, r.lot.CuredOn, r.lot.ReceivedOn, r.lot.InspectedOn, r.bin.WalkOrder))];
    }

    static async Task<List<HeldRow>> Held(Reading reading, Part part)
    {
        var rows = await (from held in reading.Db.Reservations.AsNoTracking()
                          join order in reading.Db.WorkOrders on held.OrderId equals order.Id
                          join position in reading.Db.Positions on order.PositionId equals position.Id
                          join lot in reading.Db.Lots on held.LotId equals lot.Id
                          join bin in reading.Db.Bins on held.BinId equals bin.Id
                          where held.PartId == part.Id && held.Held > 0
                          select new { order.Number, position.Tag, Lot = lot.Number, bin.Code, held.Held, order.PlannedFitOn, order.NeededBy }).ToListAsync(reading.Ct);
        return [.. rows.Select(r => new HeldRow(r.Number, r.Tag, r.Lot, r.Code, r.Held, r.PlannedFitOn ?? r.NeededBy, r.PlannedFitOn is not null))
            .Concat(await CampaignStock.Held(reading, part.Id)).OrderBy(r => r.FitOn).ThenBy(r => r.Order, StringComparer.Ordinal)];
    }

    static async Task<List<WaitingRow>> Waiting(Reading reading, Part part)
    {
        var rows = await (from line in reading.Db.DemandLines.AsNoTracking()
                          join order in reading.Db.WorkOrders on line.OrderId equals order.Id
                          join position in reading.Db.Positions on order.PositionId equals position.Id
                          where line.PartId == part.Id && line.Short > 0
                              && (order.State == OrderState.Open || order.State == OrderState.Staged || order.State == OrderState.Underway)
                          select new { order, position.Tag, position.Criticality, line.Short, line.ReleasedById }).ToListAsync(reading.Ct);
        return [.. rows.Select(r => (Rank: new Priority(r.order.Number, r.Criticality, r.order.WorkClass, r.order.NeededBy, r.order.OpenedAt),
                Row: new WaitingRow(r.order.Number, r.Tag, r.Short, Priority.ScoreOf(r.Criticality, r.order.WorkClass), r.order.FitOn, r.ReleasedById is not null)))
            .Concat(await CampaignStock.Waiting(reading, part.Id)).OrderBy(r => r.Rank).Select(r => r.Row)];
    }

    static async Task<List<IncomingRow>> Incoming(Reading reading, Part part)
    {
        var promises = new PromiseRule(reading.Today, reading.Plant.LatePromiseDays);
        var lines = await reading.Db.Incomings.AsNoTracking().Where(i => i.PartId == part.Id && i.Received < i.Quantity).ToListAsync(reading.Ct);
        return [.. lines.OrderBy(i => i.PromisedOn ?? DateOnly.MaxValue).ThenBy(i => i.Reference, StringComparer.Ordinal)
            .Select(i => new IncomingRow(i.Reference, i.Quantity, i.Received, i.Outstanding, i.PromisedOn,
                i.PromisedOn is { } promised ? promises.CountsOn(promised) : null, i.PromisedOn is { } day && promises.IsLate(day), i.Supplier))];
    }
}
