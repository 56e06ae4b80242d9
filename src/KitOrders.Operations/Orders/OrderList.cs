using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>How the list is sorted; ties always end on the order they were made in.</summary>
public enum OrderSort
{
    /// <summary>Score, highest first; then the earlier fit date.</summary>
    Score,

    /// <summary>Fit date, earliest first; then the higher score.</summary>
    FitOn,

    /// <summary>The newest first.</summary>
    Newest,
}

/// <summary>Which orders are wanted. What is left out does not narrow the list.</summary>
public sealed record OrderFilter
{
    /// <summary>Without states, every order that has not ended.</summary>
    public IReadOnlyList<OrderState> States { get; init; } = [];

    /// <summary>Not finished although its fit date has passed.</summary>
    public bool Late { get; init; }

    /// <summary>True: at least one line is short. False: opened, and nothing is short.</summary>
    public bool? Short { get; init; }

    public DateOnly? FitBefore { get; init; }

    public int? WorkClass { get; init; }

    /// <summary>Number, pump, job or a part that is needed.</summary>
    public string? Search { get; init; }

    public OrderSort Sort { get; init; }
}

/// <summary>A line of an order that is short, as the list names it.</summary>
public sealed record HoldingPart(string Part, string Description, decimal Short, DateOnly? PromisedOn, bool PromisePassed);

public sealed record OrderRow
{
    public required string Number { get; init; }
    public required string Pump { get; init; }
    public required string? Area { get; init; }
    public required string Job { get; init; }
    public required string JobDescription { get; init; }
    public required OrderState State { get; init; }
    public required string? Paused { get; init; }
    public required string? StagedPlace { get; init; }
    public required bool Breakdown { get; init; }
    public required int Score { get; init; }
    public required int Criticality { get; init; }
    public required int WorkClass { get; init; }
    public required DateOnly NeededBy { get; init; }
    public required DateOnly FitOn { get; init; }

    /// <summary>Days past the fit date while work is not finished; 0 when it is in time.</summary>
    public required int DaysLate { get; init; }

    public required decimal Picked { get; init; }
    public required decimal Reserved { get; init; }
    public required decimal Short { get; init; }

    /// <summary>How much of what is short is promised.</summary>
    public required decimal Incoming { get; init; }

    public required int Lines { get; init; }
    public required int LinesCovered { get; init; }
    public required decimal? Hours { get; init; }
    public required IReadOnlyList<HoldingPart> Holds { get; init; }
}

/// <param name="All">Orders that have not ended.</param>
public sealed record OrderCounts(int All, int Drafts, int Held, int Covered, int Floor, int Finished, int Late, int Ended, decimal Hours);

/// <summary>The orders of the plant as one list: what each is, how far its parts are covered and what holds it.</summary>
public sealed class OrderList(Desk desk)
{
    public const int LargestPage = 500;

    static readonly OrderState[] Living = [OrderState.Draft, OrderState.Open, OrderState.Staged, OrderState.Underway, OrderState.Finished];
    static readonly OrderState[] Unfinished = [OrderState.Draft, OrderState.Open, OrderState.Staged, OrderState.Underway];

    /// <summary>One page; <c>Next</c> is passed as <paramref name="after"/> for the one that follows.</summary>
    public Task<Outcome<Page<OrderRow>>> Find(OrderFilter filter, string? after, int? pageSize, CancellationToken ct) =>
        desk.Read<Outcome<Page<OrderRow>>>(async reading =>
        {
            if (PageOf.Wrong(pageSize, LargestPage) is { } refusal)
                return refusal;
            var last = after is null ? null : await Heads(reading).SingleOrDefaultAsync(h => h.Number == after, ct);
            if (after is not null && last is null)
                return OrderLookup.Unknown(after);
            var size = pageSize ?? 100;
            var heads = await Sorted(After(Narrowed(reading, Heads(reading), filter), filter.Sort, last), filter.Sort).Take(size + 1).ToListAsync(ct);
            var rows = await Rows(reading, [.. heads.Take(size)]);
            return new Page<OrderRow>(rows, heads.Count > size ? rows[^1].Number : null);
        }, ct);

    /// <summary>How many orders each of the usual questions would show, and the hours of work that wait.</summary>
    public Task<OrderCounts> Counts(CancellationToken ct) => desk.Read(async reading =>
    {
        var rows = await Heads(reading).GroupBy(h => new
        {
            h.State,
            Short = h.Short > 0,
            Late = Unfinished.Contains(h.State) && h.FitOn < reading.Today,
        }).Select(g => new { g.Key.State, g.Key.Short, g.Key.Late, Count = g.Count(), Hours = g.Sum(h => h.Hours) ?? 0 }).ToListAsync(ct);
        return new OrderCounts(
            rows.Where(r => Living.Contains(r.State)).Sum(r => r.Count),
            rows.Where(r => r.State == OrderState.Draft).Sum(r => r.Count),
            rows.Where(r => r.State == OrderState.Open && r.Short).Sum(r => r.Count),
            rows.Where(r => r.State == OrderState.Open && !r.Short).Sum(r => r.Count),
            rows.Where(r => r.State is OrderState.Staged or OrderState.Underway).Sum(r => r.Count),
            rows.Where(r => r.State == OrderState.Finished).Sum(r => r.Count),
            rows.Where(r => r.Late).Sum(r => r.Count),
            rows.Where(r => r.State is OrderState.Closed or OrderState.Cancelled).Sum(r => r.Count),
            rows.Where(r => Unfinished.Contains(r.State)).Sum(r => r.Hours));
    }, ct);

    internal static IQueryable<OrderHead> Heads(Reading reading) =>
        from order in reading.Db.WorkOrders
        join position in reading.Db.Positions on order.PositionId equals position.Id
        join job in reading.Db.Jobs on order.JobId equals job.Id
        select new OrderHead
        {
            Id = order.Id, Number = order.Number, Pump = position.Tag, Area = position.Area, Job = job.Code, JobDescription = job.Description,
            State = order.State, Paused = order.Paused, StagedPlace = order.StagedPlace, Breakdown = order.Breakdown,
            Score = position.Criticality * order.WorkClass, Criticality = position.Criticality, WorkClass = order.WorkClass,
            NeededBy = order.NeededBy, FitOn = order.PlannedFitOn ?? order.NeededBy, Hours = order.EstimatedHours ?? job.Hours,
            Short = reading.Db.DemandLines.Where(l => l.OrderId == order.Id).Sum(l => l.Short),
        };

    static IQueryable<OrderHead> Narrowed(Reading reading, IQueryable<OrderHead> heads, OrderFilter filter)
    {
        IReadOnlyList<OrderState> states = filter.States.Count > 0 ? filter.States : Living;
        heads = heads.Where(h => states.Contains(h.State));
        if (filter.Late)
            heads = heads.Where(h => Unfinished.Contains(h.State) && h.FitOn < reading.Today);
        if (filter.Short is { } isShort)
            heads = heads.Where(h => h.State != OrderState.Draft && h.Short > 0 == isShort);
        if (filter.FitBefore is { } before)
            heads = heads.Where(h => h.FitOn < before);
        if (filter.WorkClass is { } workClass)
            heads = heads.Where(h => h.WorkClass == workClass);
        if (!string.IsNullOrWhiteSpace(filter.Search))
        {
            var like = Like(filter.Search);
            heads = heads.Where(h => EF.Functions.ILike(h.Number, like) || EF.Functions.ILike(h.Pump, like) || EF.Functions.ILike(h.Job, like)
                || EF.Functions.ILike(h.JobDescription, like)
                || reading.Db.DemandLines.Any(l => l.OrderId == h.Id && reading.Db.Parts.Any(p => p.Id == l.PartId && EF.Functions.ILike(p.Number, like))));
        }
        return heads;
    }

    /// <summary>Anywhere in the text, the letters of the search meaning themselves.</summary>
    internal static string Like(string search) =>
        "%" + search.Trim().Replace(@"\", @"\\", StringComparison.Ordinal).Replace("%", @"\%", StringComparison.Ordinal).Replace("_", @"\_", StringComparison.Ordinal) + "%";

    static IQueryable<OrderHead> Sorted(IQueryable<OrderHead> heads, OrderSort sort) => sort switch
    {
        OrderSort.FitOn => heads.OrderBy(h => h.FitOn).ThenByDescending(h => h.Score).ThenBy(h => h.Id),
        OrderSort.Newest => heads.OrderByDescending(h => h.Id),
        _ => heads.OrderByDescending(h => h.Score).ThenBy(h => h.FitOn).ThenBy(h => h.Id),
    };

    static IQueryable<OrderHead> After(IQueryable<OrderHead> heads, OrderSort sort, OrderHead? last)
    {
        if (last is null)
            return heads;
        var id = last.Id.Value;
        return sort switch
        {
            OrderSort.FitOn => heads.Where(h => h.FitOn > last.FitOn || (h.FitOn == last.FitOn
                && (h.Score < last.Score || (h.Score == last.Score && (int)(object)h.Id > id)))),
            OrderSort.Newest => heads.Where(h => (int)(object)h.Id < id),
            _ => heads.Where(h => h.Score < last.Score || (h.Score == last.Score
                && (h.FitOn > last.FitOn || (h.FitOn == last.FitOn && (int)(object)h.Id > id)))),
        };
    }

    static async Task<IReadOnlyList<OrderRow>> Rows(Reading reading, IReadOnlyList<OrderHead> heads)
    {
        var ids = heads.Select(h => h.Id).ToList();
        var sums = await reading.Db.DemandLines.Where(l => ids.Contains(l.OrderId) && l.Required > 0).GroupBy(l => l.OrderId)
            .Select(g => new { g.Key, Picked = g.Sum(l => l.Picked), Reserved = g.Sum(l => l.Reserved), Lines = g.Count(), Covered = g.Count(l => l.Short == 0) })
            .ToDictionaryAsync(s => s.Key, reading.Ct);
        var holds = await Holds(reading, ids);
        return [.. heads.Select(h =>
        {
            var sum = sums.GetValueOrDefault(h.Id);
            var parts = holds[h.Id].ToList();
            return new OrderRow
            {
                Number = h.Number, Pump = h.Pump, Area = h.Area, Job = h.Job, JobDescription = h.JobDescription, State = h.State,
                Paused = h.Paused, StagedPlace = h.StagedPlace, Breakdown = h.Breakdown, Score = h.Score, Criticality = h.Criticality,
                WorkClass = h.WorkClass, NeededBy = h.NeededBy, FitOn = h.FitOn,
                DaysLate = Unfinished.Contains(h.State) ? Math.Max(0, reading.Today.DayNumber - h.FitOn.DayNumber) : 0,
                Picked = sum?.Picked ?? 0, Reserved = sum?.Reserved ?? 0, Short = h.Short,
                Incoming = parts.Sum(p => p.Incoming), Lines = sum?.Lines ?? 0, LinesCovered = sum?.Covered ?? 0, Hours = h.Hours,
                Holds = [.. parts.Select(p => p.Part)],
            };
        })];
    }

    /// <summary>What is short of each order with its earliest promise, the most first.</summary>
    internal static async Task<ILookup<OrderId, (HoldingPart Part, decimal Incoming)>> Holds(Reading reading, IReadOnlyList<OrderId> orders)
    {
        var db = reading.Db;
        var lines = await (from line in db.DemandLines
                           join part in db.Parts on line.PartId equals part.Id
                           where orders.Contains(line.OrderId) && line.Short > 0
                           select new { line.OrderId, part.Id, part.Number, part.Description, line.Short }).ToListAsync(reading.Ct);
        var parts = lines.Select(l => l.Id).Distinct().ToList();
        var promised = await (from incoming in db.Incomings
                              where parts.Contains(incoming.PartId) && incoming.Received < incoming.Quantity
                              group incoming by incoming.PartId into part
                              select new { part.Key, Quantity = part.Sum(i => i.Quantity - i.Received), On = part.Min(i => i.PromisedOn) })
            .ToDictionaryAsync(p => p.Key, reading.Ct);
        return lines.GroupBy(l => (l.OrderId, l.Id)).Select(g =>
            {
                var promise = promised.GetValueOrDefault(g.Key.Id);
                var lacking = g.Sum(l => l.Short);
                return (g.Key.OrderId, Part: new HoldingPart(g.First().Number, g.First().Description, lacking, promise?.On, promise?.On < reading.Today),
                    Incoming: Math.Min(lacking, promise?.Quantity ?? 0));
            })
            .OrderBy(h => h.Part.PromisedOn is not null).ThenByDescending(h => h.Part.Short).ThenBy(h => h.Part.Part, StringComparer.Ordinal)
            .ToLookup(h => h.OrderId, h => (h.Part, h.Incoming));
    }
}

/// <summary>What the list sorts and narrows by.</summary>
internal sealed record OrderHead
{
    public required OrderId Id { get; init; }
    public required string Number { get; init; }
    public required string Pump { get; init; }
    public required string? Area { get; init; }
    public required string Job { get; init; }
    public required string JobDescription { get; init; }
    public required OrderState State { get; init; }
    public required string? Paused { get; init; }
    public required string? StagedPlace { get; init; }
    public required bool Breakdown { get; init; }
    public required int Score { get; init; }
    public required int Criticality { get; init; }
    public required int WorkClass { get; init; }
    public required DateOnly NeededBy { get; init; }
    public required DateOnly FitOn { get; init; }
    public required decimal? Hours { get; init; }
    public required decimal Short { get; init; }
}
