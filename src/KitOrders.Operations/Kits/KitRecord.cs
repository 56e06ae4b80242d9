using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>A kit with its revisions, and one of them whole.</summary>
public sealed record KitView
{
    public required string Kit { get; init; }
    public required string Description { get; init; }
    public required string Currency { get; init; }
    public required IReadOnlyList<KitRevisionView> Revisions { get; init; }

    /// <summary>The one that is shown: as asked for, else the released one, else the newest.</summary>
    public required KitRevisionView Shown { get; init; }

    /// <summary>Lines in the order of the tree, assemblies opened with their current revision.</summary>
    public required IReadOnlyList<KitTreeLine> Lines { get; init; }

    public required IReadOnlyList<KitFitView> Fits { get; init; }

    /// <summary>Free boxed stock.</summary>
    public required decimal Boxed { get; init; }

    public required IReadOnlyList<UsedByJob> Jobs { get; init; }

    /// <summary>Kits and assemblies whose current revision holds it.</summary>
    public required IReadOnlyList<UsedInKit> InKits { get; init; }

    public required IReadOnlyList<UsedByOrder> Orders { get; init; }

    /// <summary>Pumps that have it on them.</summary>
    public required int FittedOn { get; init; }
}

/// <param name="Orders">Orders opened with it that have not ended.</param>
/// <param name="Pumps">Pumps on which it is fitted.</param>
public sealed record KitRevisionView(int Number, RevisionState State, DateOnly? ReleasedOn, bool Buildable, int Lines, int Orders, int Pumps)
{
    /// <summary>Who released it in the editor; null for drafts and for what was imported.</summary>
    public string? ReleasedBy { get; init; }
}

/// <param name="Path">"1", "1.3", "1.3.2": the line numbers from the kit down.</param>
/// <param name="Depth">0 for the kit's own lines.</param>
/// <param name="LastAt">For each level down to its own: whether the line there is the last of its parent.</param>
/// <param name="SinceBefore">Against the revision before: what is new or changed; null when it is as it was.</param>
public sealed record KitTreeLine(string Path, int Depth, IReadOnlyList<bool> LastAt, string Part, string Description, Unit Unit, decimal Quantity, LineSource Source,
    SparePolicy SparePolicy, decimal? RejectRate, decimal? Wraps, IReadOnlyList<int> WrapsFor, bool Buildable, IReadOnlyList<string> Alternates, decimal? UnitCost, string? SinceBefore)
{
    /// <summary>The part that takes this one's place for good; null when none does.</summary>
    public string? SupersededBy { get; init; }
}

public sealed record KitFitView(string Model, Control From, string? ConvertsTo, Control? To, bool NeedsSensingRod, string? Ports, string? Supply,
    string? Marking, IReadOnlyList<string> Materials, bool Once, IReadOnlyList<string> Requires, IReadOnlyList<string> Excludes);

public sealed record UsedByJob(string Job, string Description, decimal Quantity);

public sealed record UsedInKit(string Kit, string Description, int Revision, decimal Quantity);

public sealed record UsedByOrder(string Number, string Pump, OrderState State, int? Revision, decimal Quantity);

/// <summary>A kit as it is read: revisions, the lines as a tree, the pumps it fits, where it is used.</summary>
public sealed class KitRecord(Desk desk)
{
    static readonly OrderState[] Ended = [OrderState.Closed, OrderState.Cancelled];

    public Task<Outcome<KitView>> One(string number, int? revision, CancellationToken ct) =>
        desk.Read<Outcome<KitView>>(async reading =>
        {
            var db = reading.Db;
            var part = await db.Parts.SingleOrDefaultAsync(p => p.Number == number, ct);
            var revisions = part is null ? [] : await db.KitRevisions.Include(r => r.Lines).Include(r => r.Fits).AsSplitQuery()
                .Where(r => r.PartId == part.Id).OrderBy(r => r.Number).ToListAsync(ct);
            if (part is null || revisions.Count == 0)
                return Refusal.NotFound("kit-unknown", part is null
                    ? $"There is no kit {number}. Look it up under Kits, or import it first." : $"{number} is a part without a list of its own; it is no kit.");
            var shown = revision is null ? revisions.Find(r => r.State == RevisionState.Released) ?? revisions[^1] : revisions.Find(r => r.Number == revision);
            if (shown is null)
                return Refusal.NotFound("revision-unknown", $"Kit {number} has no revision {revision}. It has {string.Join(", ", revisions.Select(r => r.Number))}.");
            return new KitView
            {
                Kit = part.Number, Description = part.Description, Currency = reading.Plant.Currency,
                Revisions = await RevisionsOf(db, revisions, ct),
                Shown = (await RevisionsOf(db, [shown], ct))[0],
                Lines = await Tree(db, shown, revisions.LastOrDefault(r => r.Number < shown.Number), ct),
                Fits = await FitsOf(db, shown, ct),
                Boxed = await db.BinStocks.Where(s => s.PartId == part.Id).SumAsync(s => s.OnHand - s.Reserved, ct),
                Jobs = await db.Jobs.SelectMany(j => j.Kits, (j, k) => new { k.KitPartId, j.Code, j.Description, k.Quantity })
                    .Where(j => j.KitPartId == part.Id).OrderBy(j => j.Code).Select(j => new UsedByJob(j.Code, j.Description, j.Quantity)).ToListAsync(ct),
                InKits = await (from line in db.KitLines
                                join holder in db.KitRevisions on line.KitRevisionId equals holder.Id
                                join kit in db.Parts on holder.PartId equals kit.Id
                                where line.PartId == part.Id && holder.State == RevisionState.Released
                                orderby kit.Number
                                select new UsedInKit(kit.Number, kit.Description, holder.Number, line.Quantity)).ToListAsync(ct),
                Orders = await OrdersOf(db, part.Id, ct),
                FittedOn = await db.FittedKits.CountAsync(f => f.KitPartId == part.Id, ct),
            };
        }, ct);

    static async Task<IReadOnlyList<KitRevisionView>> RevisionsOf(KitOrdersDb db, IReadOnlyList<KitRevision> revisions, CancellationToken ct)
    {
        var ids = revisions.Select(r => r.Id).ToList();
        var orders = await db.OrderKits.Where(k => k.KitRevisionId != null && ids.Contains(k.KitRevisionId.Value)
                && db.WorkOrders.Any(o => o.Id == k.OrderId && !Ended.Contains(o.State)))
            .GroupBy(k => k.KitRevisionId!.Value).Select(g => new { g.Key, Count = g.Count() }).ToDictionaryAsync(g => g.Key, g => g.Count, ct);
        var pumps = await db.FittedKits.Where(f => ids.Contains(f.KitRevisionId)).GroupBy(f => f.KitRevisionId)
            .Select(g => new { g.Key, Count = g.Count() }).ToDictionaryAsync(g => g.Key, g => g.Count, ct);
        var people = revisions.Select(r => r.ReleasedBy).OfType<Rules.People.PersonId>().Distinct().ToList();
        var names = await db.People.Where(p => people.Contains(p.Id)).ToDictionaryAsync(p => p.Id, p => p.Name, ct);
        return [.. revisions.Select(r => new KitRevisionView(r.Number, r.State, r.ReleasedOn, r.Buildable, r.Lines.Count,
            orders.GetValueOrDefault(r.Id), pumps.GetValueOrDefault(r.Id)) { ReleasedBy = r.ReleasedBy is { } by ? names[by] : null })];
    }

    static async Task<IReadOnlyList<KitTreeLine>> Tree(KitOrdersDb db, KitRevision shown, KitRevision? before, CancellationToken ct)
    {
        var trees = await KitTreeReading.Load(db, shown.Lines.Select(l => l.PartId), ct);
        return trees.Of(KitCatalogue.StructureOf(shown), before is null ? null : (await DifferenceReading.Of(db, before, shown, ct)).Since);
    }

    static async Task<IReadOnlyList<KitFitView>> FitsOf(KitOrdersDb db, KitRevision shown, CancellationToken ct)
    {
        var ids = shown.Fits.Select(f => f.ModelId).Concat(shown.Fits.Where(f => f.ConvertsToId is not null).Select(f => f.ConvertsToId!.Value)).Distinct().ToList();
        var models = await db.PumpModels.Where(m => ids.Contains(m.Id)).ToDictionaryAsync(m => m.Id, ct);
        return [.. shown.Fits.OrderBy(f => models[f.ModelId].Code, StringComparer.Ordinal).Select(f =>
        {
            var to = f.ConvertsToId is { } id ? models[id] : null;
            return new KitFitView(models[f.ModelId].Code, models[f.ModelId].Control, to?.Code, to?.Control, f.NeedsSensingRod, f.Ports,
                KitLineWords.Coil(f), f.ExMarking, f.Materials, f.Once, f.RequiresKits, f.ExcludesKits);
        })];
    }

    static async Task<IReadOnlyList<UsedByOrder>> OrdersOf(KitOrdersDb db, PartId kit, CancellationToken ct) =>
        await (from of in db.OrderKits
               join order in db.WorkOrders on of.OrderId equals order.Id
               join position in db.Positions on order.PositionId equals position.Id
               where of.KitPartId == kit && !Ended.Contains(order.State)
               orderby order.Id
               select new UsedByOrder(order.Number, position.Tag, order.State,
                   db.KitRevisions.Where(r => r.Id == of.KitRevisionId).Select(r => (int?)r.Number).FirstOrDefault(), of.Quantity)).ToListAsync(ct);
}

/// <summary>How what a kit line says is written for people.</summary>
public static class KitLineWords
{
    public static string Of(LineSource source) => source switch
    {
        LineSource.InTheBox => "in the box",
        LineSource.BoughtSeparately => "bought separately",
        LineSource.ShopSupply => "shop supply",
        LineSource.CarriedOver => "carried over",
        _ => throw new ArgumentOutOfRangeException(nameof(source), source, null),
    };

    public static string Of(SparePolicy policy, decimal? rate) => policy switch
    {
        SparePolicy.None => "none",
        SparePolicy.All => "all",
        _ => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"by rate {rate:0.####}"),
    };

    internal static string? Coil(KitFit fit)
    {
        if (fit is { Volts: null, Amps: null, SupplyKind: null })
            return null;
        var volts = fit.Volts is { } v ? FormattableString.Invariant($"{v:0.##} V") : "volts not recorded";
        var tolerance = fit.VoltsTolerancePct is { } t ? FormattableString.Invariant($" ±{t:0.##} %") : "";
        var amps = fit.Amps is { } a ? FormattableString.Invariant($", {a:0.##} A") : "";
        return $"{volts} {Orders.SupplyWords.Of(fit.SupplyKind)}".TrimEnd() + tolerance + amps;
    }
}
