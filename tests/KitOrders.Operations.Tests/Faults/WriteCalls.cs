using System.Text.Json;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Pumps;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Faults;

/// <summary>What an operation answered.</summary>
sealed record Said(bool Done, string Words)
{
    public static async Task<Said> Of<T>(Task<Outcome<T>> call) =>
        await call is { } outcome && outcome.IsDone
            ? new Said(true, JsonSerializer.Serialize(outcome.Value, Json.Options)) : new Said(false, (await call).Refusal!.Code);
}

/// <summary>One call of a write that succeeds on a copy of the plant.</summary>
sealed record WriteCall(Func<Desk, PlantNames, CommandKey?, Task<Said>> Run)
{
    /// <summary>Whether it takes a key, so that the same call again answers the same.</summary>
    public bool Keyed { get; init; } = true;

    public bool OnEmpty { get; init; }
}

/// <summary>A call for every operation that writes, by its class and method.</summary>
static partial class WriteCalls
{
    static readonly byte[] picture = [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0, 0, 0, 13, .. "IHDR"u8, 0, 0, 0, 1, 0, 0, 0, 1, 8, 2, 0, 0, 0, 0, 0, 0, 0];

    public static IReadOnlyDictionary<string, WriteCall> Stock { get; } = new Dictionary<string, WriteCall>
    {
        ["ReceiveLot.Run"] = new((desk, n, key) => Said.Of(new ReceiveLot(desk).Run(new(n.Clerk, key), new Receipt("C", 2, "A-1") { Incoming = "PO-1", UnitCost = 41 }, Ct))),
        ["CountBin.Run"] = new((desk, n, key) => Said.Of(new CountBin(desk).Run(new(n.Clerk, key), Counted(n), Ct))),
        ["ReturnStock.Run"] = new((desk, n, key) => Said.Of(new ReturnStock(desk).Run(new(n.Clerk, key), new Return(n.Picked, Of(n.Picks, "E").Reservation, 1), Ct))),
        ["ScrapStock.Run"] = new((desk, n, key) => Said.Of(new ScrapStock(desk).Run(new(n.Clerk, key), new Scrap("P", "A-2", "P-2", 2, "bent"), Ct))),
        ["TransferStock.Run"] = new((desk, n, key) => Said.Of(new TransferStock(desk).Run(new(n.Clerk, key), new Transfer("P", "P-2", "A-2", "B-1", 3), Ct))),
        ["TakeOver.Run"] = new((desk, n, key) => Said.Of(new TakeOver(desk).Run(new(n.Planner, key), n.Short, new TakeOverAsk(n.Open, "E", 1, "more pressing"), Ct))),
        ["UseAlternate.Run"] = new((desk, n, key) => Said.Of(new UseAlternate(desk).Run(new(n.Planner, key), n.Short, new AlternateAsk("E", "E2", 1, "it stands still"), Ct))),
        ["TakeBackAlternate.Run"] = new((desk, n, key) => Said.Of(new TakeBackAlternate(desk).Run(new(n.Planner, key), n.StoodIn, new AlternateBack("E", "E2", "the elbow came"), Ct))),
        ["ReplanOrder.Run"] = new((desk, n, key) => Said.Of(new ReplanOrder(desk).Run(new(n.Planner, key), n.Open, new ReplanAsk(n.Replan, Steps: true), Ct))),
        ["CorrectMovement.Run"] = new((desk, n, key) => Said.Of(new CorrectMovement(desk).Run(new(n.Clerk, key), n.Receipt, "typed wrong", Ct))),
        ["QuarantineLot.Run"] = new((desk, n, key) => Said.Of(new QuarantineLot(desk).Run(new(n.Clerk, key), "Q", Of(n.Holds, "Q").Lot, "smells", Ct))),
        ["ReleaseQuarantine.Run"] = new((desk, n, key) => Said.Of(new ReleaseQuarantine(desk).Run(new(n.Clerk, key), "S", "S-9", "label found", "2026-01-05", Ct))),
        ["RecordStrokes.Run"] = new((desk, n, key) => Said.Of(new RecordStrokes(desk).Run(new(n.Technician, key), "P-14", new StrokesInput(120_000, null, true, "a new meter"), Ct))),
        ["SwapPump.Run"] = new((desk, n, key) => Said.Of(new SwapPump(desk).Run(new(n.Planner, key), "P-14", new SwapInput("S-15", "it knocks", null, "P-15"), Ct))),
        ["InspectLot.Run"] = new((desk, n, key) => Said.Of(new InspectLot(desk).Run(new(n.Clerk, key), "S", "S-1", true, "soft and whole", Ct))),
    };

    public static IReadOnlyDictionary<string, WriteCall> Orders { get; } = new Dictionary<string, WriteCall>
    {
        ["CreateOrder.Run"] = new((desk, n, key) => Said.Of(new CreateOrder(desk).Run(new(n.Planner, key), new NewOrder("P-1", "CONV", Today.AddDays(9), 4), Ct))),
        ["OpenOrder.Run"] = new((desk, n, key) => Said.Of(new OpenOrder(desk).Run(new(n.Planner, key), n.Draft, Ct))),
        ["ChangeOrder.Run"] = new((desk, n, key) => Said.Of(new ChangeOrder(desk).Run(new(n.Planner, key), n.Open, new OrderChange(PlannedFitOn: Today.AddYears(40)), Ct))),
        ["CancelOrder.Run"] = new((desk, n, key) => Said.Of(new CancelOrder(desk).Run(new(n.Planner, key), n.Open, "not needed", null, Ct))),
        ["PickLines.Run"] = new((desk, n, key) => Said.Of(new PickLines(desk).Run(new(n.Clerk, key), n.Open,
            [.. n.Holds.Select(h => h.Part == "Q" ? new PickInput(h.Reservation, h.Quantity - 1, "one is cracked") : new PickInput(h.Reservation, h.Quantity))], Ct))),
        ["StageOrder.Run"] = new((desk, n, key) => Said.Of(new StageOrder(desk).Run(new(n.Clerk, key), n.Picked, "S-3", null, Ct))),
        ["UnstageOrder.Run"] = new((desk, n, key) => Said.Of(new UnstageOrder(desk).Run(new(n.Clerk, key), n.Staged, "place is needed", Ct))),
        ["StartOrder.Run"] = new((desk, n, key) => Said.Of(new StartOrder(desk).Run(new(n.Technician, key), n.Staged, [new PermitInput("lockout", "L-7", Today)], Ct))),
        ["PauseOrder.Run"] = new((desk, n, key) => Said.Of(new PauseOrder(desk).Run(new(n.Technician, key), n.Underway, "no light", Ct))),
        ["ResumeOrder.Run"] = new((desk, n, key) => Said.Of(new ResumeOrder(desk).Run(new(n.Technician, key), n.Paused, Ct))),
        ["FinishOrder.Run"] = new((desk, n, key) => Said.Of(new FinishOrder(desk).Run(new(n.Technician, key), n.Done, [new HoursInput(n.Technician.Name, 2)], 3, 2_000, Ct))),
        ["ReopenOrder.Run"] = new((desk, n, key) => Said.Of(new ReopenOrder(desk).Run(new(n.Technician, key), n.Finished, "a leak", Ct))),
        ["CloseOrder.Run"] = new((desk, n, key) => Said.Of(new CloseOrder(desk).Run(new(n.Planner, key), n.Finished, null, [new RemovedInput("Q", 1, RemovedTo.Scrap)], Ct))),
        ["AnswerCheck.Run"] = new((desk, n, key) => Said.Of(new AnswerCheck(desk).Run(new(n.Planner, key), n.Unanswered, Check.Materials, "K", "passed", "asked the maker", Ct))),
        ["RecordPermit.Run"] = new((desk, n, key) => Said.Of(new RecordPermit(desk).Run(new(n.Planner, key), n.Underway, new PermitInput("hot work", "H-1", Today), Ct))),
        ["NoteOrder.Run"] = new((desk, n, key) => Said.Of(new NoteOrder(desk).Run(new(n.Technician, key), n.Open, "gate is locked", Ct))),
        ["RecordStep.Record"] = new((desk, n, key) => Said.Of(new RecordStep(desk, new(desk)).Run(new(n.Technician, key), n.Underway, 1, new StepInput(StepOutcome.AsSpecified), Ct))),
        ["ReleaseHold.Release"] = new((desk, n, key) => Said.Of(new ReleaseHold(desk, new(desk)).Release(new(n.Technician, key), n.Held, 5, n.Technician, Ct))),
        ["AcceptDeviation.Run"] = new((desk, n, key) => Said.Of(new AcceptDeviation(desk).Run(new(n.Planner, key), n.Deviating, 1, "it can be read", Ct))),
        ["KeepPhotograph.Run"] = new((desk, n, key) => Said.Of(new KeepPhotograph(desk).Run(new(n.Technician, key), n.Underway, 1, picture, Ct))),
    };

    static Piece Of(List<Piece> pieces, string part) => pieces.First(p => p.Part == part);

    /// <summary>Less than the open order holds, so that it loses what it held.</summary>
    static Count Counted(PlantNames n) => new("K", Of(n.Holds, "K").Bin, Of(n.Holds, "K").Lot, 0) { Accept = true, Reason = "it is gone" };
}
