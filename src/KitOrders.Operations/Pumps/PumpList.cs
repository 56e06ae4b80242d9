using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

public sealed record PumpFilter
{
    public Control? Control { get; init; }

    /// <summary>True: at least one order that has not ended.</summary>
    public bool WithOrders { get; init; }

    /// <summary>Tag, serial, model, area or fluid.</summary>
    public string? Search { get; init; }
}

public sealed record PumpRow
{
    public required string Tag { get; init; }
    public required string Serial { get; init; }
    public required string Model { get; init; }
    public required Control Control { get; init; }
    public required bool? SensingRod { get; init; }
    public required string? Area { get; init; }
    public required Zone? Zone { get; init; }
    public required string? Fluid { get; init; }
    public required int Criticality { get; init; }
    public required long? Strokes { get; init; }
    public required string? OutOfService { get; init; }
    public required IReadOnlyList<string> Fitted { get; init; }
    public required int OpenOrders { get; init; }
}

/// <summary>The pumps that stand at a position now, by tag.</summary>
public sealed class PumpList(Desk desk)
{
    public const int LargestPage = 500;

    static readonly OrderState[] Ended = [OrderState.Closed, OrderState.Cancelled];

    /// <summary>One page; <c>Next</c> is passed as <paramref name="after"/> for the one that follows.</summary>
    public Task<Outcome<Page<PumpRow>>> Find(PumpFilter filter, string? after, int? pageSize, CancellationToken ct) =>
        desk.Read<Outcome<Page<PumpRow>>>(async reading =>
        {
            if (PageOf.Wrong(pageSize, LargestPage) is { } refusal)
                return refusal;
            var db = reading.Db;
            var rows = from pump in db.Pumps
                       join position in db.Positions on pump.PositionId equals position.Id
                       join model in db.PumpModels on pump.ModelId equals model.Id
                       join fluid in db.Fluids on position.FluidId equals fluid.Id into fluids
                       from fluid in fluids.DefaultIfEmpty()
                       select new
                       {
                           pump.Id, position.Tag, pump.Serial, model.Code, model.Control, pump.SensingRod, position.Area, position.Zone,
                           Fluid = fluid == null ? null : fluid.Name, position.Criticality, pump.StrokeCount, pump.OutOfService,
                           Orders = db.WorkOrders.Count(o => o.PumpId == pump.Id && !Ended.Contains(o.State)),
                       };
            if (filter.Control is { } control)
                rows = rows.Where(r => r.Control == control);
            if (filter.WithOrders)
                rows = rows.Where(r => r.Orders > 0);
            if (!string.IsNullOrWhiteSpace(filter.Search))
            {
                var like = OrderList.Like(filter.Search);
                rows = rows.Where(r => EF.Functions.ILike(r.Tag, like) || EF.Functions.ILike(r.Serial, like) || EF.Functions.ILike(r.Code, like)
                    || (r.Area != null && EF.Functions.ILike(r.Area, like)) || (r.Fluid != null && EF.Functions.ILike(r.Fluid, like)));
            }
            if (after is not null)
                rows = rows.Where(r => string.Compare(r.Tag, after) > 0);
            var size = pageSize ?? 100;
            var page = await rows.OrderBy(r => r.Tag).Take(size + 1).ToListAsync(ct);
            var ids = page.Select(r => r.Id).ToList();
            var fitted = (await (from kit in db.FittedKits
                                 join part in db.Parts on kit.KitPartId equals part.Id
                                 where ids.Contains(kit.PumpId)
                                 orderby part.Number
                                 select new { kit.PumpId, part.Number }).ToListAsync(ct)).ToLookup(f => f.PumpId, f => f.Number);
            var items = page.Take(size).Select(r => new PumpRow
            {
                Tag = r.Tag, Serial = r.Serial, Model = r.Code, Control = r.Control, SensingRod = r.SensingRod, Area = r.Area, Zone = r.Zone,
                Fluid = r.Fluid, Criticality = r.Criticality, Strokes = r.StrokeCount, OutOfService = r.OutOfService,
                Fitted = [.. fitted[r.Id]], OpenOrders = r.Orders,
            }).ToList();
            return new Page<PumpRow>(items, page.Count > size ? items[^1].Tag : null);
        }, ct);
}
