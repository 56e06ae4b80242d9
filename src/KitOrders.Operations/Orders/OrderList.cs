using KitOrders.Rules;
using KitOrders.Rules.Orders;

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

/// <summary>A kit of which a newer revision is current than the one the order was opened with.</summary>
public sealed record NewerRevision(string Kit, int Opened, int Current);

public sealed record OrderRow
{
    public required string Number { get; init; }
    public required string Pump { get; init; }
    public required string? Area { get; init; }
    public required string Job { get; init; }
    public required string JobDescription { get; init; }
    /// <summary>Number of the campaign it belongs to.</summary>
    public string? Campaign { get; init; }

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
    public IReadOnlyList<NewerRevision> NewerRevisions { get; init; } = [];
}

/// <param name="All">Orders that have not ended.</param>
public sealed record OrderCounts(int All, int Drafts, int Held, int Covered, int Floor, int Finished, int Late, int Ended, decimal Hours);

/// <summary>The orders of the plant as one list: what each is, how far its parts are covered and what holds it.</summary>
public sealed class OrderList(Desk desk)
{
    public const int LargestPage = 500;

    /// <summary>One page; <c>Next</c> is passed as <paramref name="after"/> for the one that follows.</summary>
    public Task<Outcome<Page<OrderRow>>> Find(OrderFilter filter, string? after, int? pageSize, CancellationToken ct) =>
        desk.Read<Outcome<Page<OrderRow>>>(async reading =>
        {
            if (PageOf.Wrong(pageSize, LargestPage) is { } refusal)
                return refusal;
            var key = after is null ? null : await OrderRows.Key(reading, after);
            if (after is not null && key is null)
                return OrderLookup.Unknown(after);
            var size = pageSize ?? 100;
            var rows = await OrderRows.Read(reading, filter, key, size + 1);
            return new Page<OrderRow>([.. rows.Take(size)], rows.Count > size ? rows[size - 1].Number : null);
        }, ct);

    /// <summary>How many orders each of the usual questions would show, and the hours of work that wait.</summary>
    public Task<OrderCounts> Counts(CancellationToken ct) => desk.Read(async reading =>
    {
        var trip = new Trip(reading.Db).With("today", reading.Today);
        var groups = trip.Ask($"""
            select o.state, o.state = 'open' and exists (select from demand_line l where l.order_id = o.id and l.short > 0),
                   o.fit_on < @today and o.state in ({OrderRows.Unfinished}), count(*), sum(coalesce(o.estimated_hours, j.hours))
            from work_order o join job j on j.id = o.job_id group by 1, 2, 3
            """, row => (State: row.Word<OrderState>(0), Short: row.GetBoolean(1), Late: row.GetBoolean(2), Count: (int)row.GetInt64(3), Hours: row.Maybe<decimal>(4) ?? 0));
        await trip.Send(ct);
        var rows = groups.Rows;
        bool Ended(OrderState state) => state is OrderState.Closed or OrderState.Cancelled;
        return new OrderCounts(
            rows.Where(r => !Ended(r.State)).Sum(r => r.Count),
            rows.Where(r => r.State == OrderState.Draft).Sum(r => r.Count),
            rows.Where(r => r.State == OrderState.Open && r.Short).Sum(r => r.Count),
            rows.Where(r => r.State == OrderState.Open && !r.Short).Sum(r => r.Count),
            rows.Where(r => r.State is OrderState.Staged or OrderState.Underway).Sum(r => r.Count),
            rows.Where(r => r.State == OrderState.Finished).Sum(r => r.Count),
            rows.Where(r => r.Late).Sum(r => r.Count),
            rows.Where(r => Ended(r.State)).Sum(r => r.Count),
            rows.Where(r => !Ended(r.State) && r.State != OrderState.Finished).Sum(r => r.Hours));
    }, ct);

    /// <summary>Anywhere in the text, the letters of the search meaning themselves.</summary>
    internal static string Like(string search) =>
        "%" + search.Trim().Replace(@"\", @"\\", StringComparison.Ordinal).Replace("%", @"\%", StringComparison.Ordinal).Replace("_", @"\_", StringComparison.Ordinal) + "%";
}
