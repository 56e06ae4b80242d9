using KitOrders.Operations;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;

namespace KitOrders.Web.Api;

/// <summary>Orders over HTTP. Every call answers the whole order.</summary>
static class OrdersApi
{
    sealed record NewOrderBody
    {
        public required string Pump { get; init; }
        public required string Job { get; init; }
        public required DateOnly NeededBy { get; init; }
        public required int WorkClass { get; init; }
        public DateOnly? PlannedFitOn { get; init; }
        public IReadOnlyList<KitAsk>? Kits { get; init; }
        public string? Number { get; init; }
        public bool? Breakdown { get; init; }
    }

    sealed record Nothing;

    sealed record ReasonBody(string? Reason = null);

    sealed record StageBody(string? Place = null, IReadOnlyList<LineRelease>? Release = null);

    sealed record StartBody(IReadOnlyList<PermitInput>? Permits = null);

    sealed record FinishBody(IReadOnlyList<HoursInput>? Hours = null, decimal? DowntimeHours = null, long? StrokeCount = null);

    sealed record CloseBody(IReadOnlyList<PartAccount>? Parts = null, IReadOnlyList<RemovedInput>? Removed = null);

    sealed record CancelBody(string? Reason = null, PumpAfterCancel? PumpIs = null);

    sealed record AnswerBody(Check? Check = null, string? Kit = null, string? Answer = null, string? Note = null);

    sealed record PickBody(IReadOnlyList<PickInput>? Lines = null);

    sealed record ReleaseBody(string? Person = null, string? Pin = null);

    public static void Map(RouteGroupBuilder api)
    {
        var orders = api.MapGroup("/orders").WithTags("Orders");
        orders.MapGet("/", async (OrderBook book, string? state, string? after, int? pageSize, CancellationToken ct) =>
        {
            OrderState? wanted = null;
            if (!string.IsNullOrEmpty(state))
            {
                if (!Word.TryRead<OrderState>(state, out var read))
                    return Problem.Of(Refusal.Field("state", "state-unknown", $"state must be one of {string.Join(", ", Word.All<OrderState>())}."));
                wanted = read;
            }
            return ApiCall.Read(await book.List(wanted, string.IsNullOrEmpty(after) ? null : after, pageSize, ct));
        }).Does<Page<OrderView>>("Orders in the order in which they were made, by state; next is passed as after.");
        orders.MapGet("/{number}", async (ApiCall call, OrderBook book, string number, CancellationToken ct) => call.ReadOrder(await book.One(PathName.Of(number), ct)))
            .Does<OrderView>("One order whole.");
        orders.MapPost("/", (ApiCall call, CreateOrder create, OrderBook book) => call.Write<NewOrderBody, string, OrderView>(
            (c, b) => create.Run(c, new NewOrder(b.Pump, b.Job, b.NeededBy, b.WorkClass)
            {
                PlannedFitOn = b.PlannedFitOn, Kits = b.Kits, Number = b.Number, Breakdown = b.Breakdown ?? false,
            }, call.Ct), Whole(book, call), StatusCodes.Status201Created)).Does<NewOrderBody, OrderView>("Drafts an order; nothing is held yet.", StatusCodes.Status201Created);
        Move<Nothing, OpenOrder>(orders, "/open", "Opens a draft: freezes its steps, reserves every part, records what is short.", (op, c, number, _, ct) => op.Run(c, number, ct));
        Move<OrderChange, ChangeOrder>(orders, "/change", "Changes the dates or the work class before work starts; lots are judged again for a new fit date.", (op, c, number, b, ct) => op.Run(c, number, b, ct));
        Move<StageBody, StageOrder>(orders, "/stage", "The complete kit waits at a place; a planner releases short lines one by one with a reason.", (op, c, number, b, ct) => op.Run(c, number, b.Place, b.Release, ct));
        Move<ReasonBody, UnstageOrder>(orders, "/unstage", "Takes a staged kit back.", (op, c, number, b, ct) => op.Run(c, number, b.Reason ?? "", ct));
        Move<StartBody, StartOrder>(orders, "/start", "Hands the kit over and starts the work; all checks run again.", (op, c, number, b, ct) => op.Run(c, number, b.Permits, ct));
        Move<ReasonBody, PauseOrder>(orders, "/pause", "Marks work underway as standing still.", (op, c, number, b, ct) => op.Run(c, number, b.Reason ?? "", ct));
        Move<Nothing, ResumeOrder>(orders, "/resume", "Takes the mark off again.", (op, c, number, _, ct) => op.Run(c, number, ct));
        Move<FinishBody, FinishOrder>(orders, "/finish", "The work is done: hours by person, downtime, the meter.", (op, c, number, b, ct) => op.Run(c, number, b.Hours ?? [], b.DowntimeHours, b.StrokeCount, ct));
        Move<ReasonBody, ReopenOrder>(orders, "/reopen", "Takes finished work up again.", (op, c, number, b, ct) => op.Run(c, number, b.Reason ?? "", ct));
        Move<CloseBody, CloseOrder>(orders, "/close", "Closes a finished order and writes back what the pump has become. Without parts, every picked part was fitted.", (op, c, number, b, ct) => op.Run(c, number, b.Parts, b.Removed, ct));
        Move<CancelBody, CancelOrder>(orders, "/cancel", "Ends an order that will not be done; after start, says what the pump is now.", (op, c, number, b, ct) => op.Run(c, number, b.Reason ?? "", b.PumpIs, ct));
        Move<AnswerBody, AnswerCheck>(orders, "/suitability-answers", "A named person answers a check that the record cannot answer.", (op, c, number, b, ct) => b.Check is { } check
            ? op.Run(c, number, check, b.Kit, b.Answer ?? "", b.Note, ct)
            : Task.FromResult<Outcome<string>>(Refusal.Field("check", "check-missing", $"Name the check: {string.Join(", ", Word.All<Check>())}.")));
        Move<PermitInput, RecordPermit>(orders, "/permits", "Records a permit.", (op, c, number, b, ct) => op.Run(c, number, b, ct));
        Move<PickBody, PickLines>(orders, "/picks", "Picks reserved parts; a short pick says why.", (op, c, number, b, ct) => op.Run(c, number, b.Lines ?? [], ct));
        Move<TakeOverAsk, TakeOver>(orders, "/take-over", "Takes a held part over from another order, with the reason; what is picked stays.", (op, c, number, b, ct) => op.Run(c, number, b, ct));
        Move<AlternateAsk, UseAlternate>(orders, "/use-alternate", "Uses an approved alternate for what is short, with the reason; what is free of it is reserved.", (op, c, number, b, ct) => op.Run(c, number, b, ct));
        Move<AlternateBack, TakeBackAlternate>(orders, "/take-back-alternate", "Takes an alternate back while nothing of it is picked.", (op, c, number, b, ct) => op.Run(c, number, b, ct));
        orders.MapGet("/{number}/replan", async (ReplanDifferences differences, string number, CancellationToken ct) => ApiCall.Read(await differences.Of(PathName.Of(number), ct)))
            .Does<ReplanView>("What planning an open order again would change, line by line; nothing is kept.");
        Move<ReplanAsk, ReplanOrder>(orders, "/replan", "Plans an open order again as its differences were shown; seen says which.", (op, c, number, b, ct) => op.Run(c, number, b, ct));
        orders.MapPost("/{number}/steps/{step:int}/results", (ApiCall call, RecordStep record, OrderBook book, string number, int step) =>
            call.Write<StepInput, string, OrderView>((c, b) => record.Run(c, PathName.Of(number), step, b, call.Ct), Whole(book, call)))
            .Does<StepInput, OrderView>("Appends a result to a step of an order underway.");
        orders.MapPost("/{number}/steps/{step:int}/release", (ApiCall call, ReleaseHold release, OrderBook book, string number, int step) =>
            call.Write<ReleaseBody, string, OrderView>((c, b) => release.Run(c, PathName.Of(number), step, b.Person ?? c.Actor.Name, b.Pin, call.Ct), Whole(book, call)))
            .Does<ReleaseBody, OrderView>("A named person releases a hold point by their pin.");
        orders.MapPost("/{number}/steps/{step:int}/accept", (ApiCall call, AcceptDeviation accept, OrderBook book, string number, int step) =>
            call.Write<ReasonBody, string, OrderView>((c, b) => accept.Run(c, PathName.Of(number), step, b.Reason ?? "", call.Ct), Whole(book, call)))
            .Does<ReasonBody, OrderView>("A planner takes a result that was not as specified, with the reason.");
    }

    static void Move<TBody, TOperation>(RouteGroupBuilder orders, string path, string does, Func<TOperation, Call, string, TBody, CancellationToken, Task<Outcome<string>>> run)
        where TOperation : notnull =>
        orders.MapPost("/{number}" + path, (ApiCall call, TOperation operation, OrderBook book, string number) =>
            call.Write<TBody, string, OrderView>((c, body) => run(operation, c, PathName.Of(number), body, call.Ct), Whole(book, call)))
            .Does<TBody, OrderView>(does);

    static Func<string, Task<Outcome<OrderView>>> Whole(OrderBook book, ApiCall call) => number => book.One(number, call.Ct);
}
