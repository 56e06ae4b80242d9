using System.Collections.Concurrent;
using System.Text.Json;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>What somebody was told had been done: which operation, and how it changed what lies on the shelves.</summary>
sealed record Acknowledged(string Key, string Operation)
{
    /// <summary>Signed, by part.</summary>
    public IReadOnlyList<(string Part, decimal Quantity)> OnHand { get; init; } = [];

    /// <summary>How many movements of each kind that must have left.</summary>
    public IReadOnlyList<(MovementKind Kind, int Count)> Movements { get; init; } = [];
}

/// <summary>
/// Many people at once on few parts. Each sends commands under keys of their own, some of them twice, one after the other or at
/// the same time, and keeps what they were told.
/// </summary>
sealed partial class Crowd(ProofPlant plant, string prefix)
{
    /// <summary>What contention and honest mistakes may end in.</summary>
    static readonly HashSet<string> truthful =
    [
        "order-state", "suitability-failed", "changed-meanwhile", "pick-too-many", "short-pick-reason", "reservation-unknown", "count-below-reserved", "not-enough-stock", "stock-reserved",
        "same-order", "take-over-not-needed", "take-over-not-held", "return-too-many", "lines-not-picked", "lines-short", "line-not-short",
        "alternate-not-needed", "alternate-not-used", "alternate-picked", "alternate-replaced", "replan-picked", "replan-changed",
        "movement-corrected", "movement-is-correction", "lot-quarantined", "lot-not-quarantined", "parts-unaccounted", "preliminary-order",
    ];

    static readonly string[] lots = ["L1", "L2", "L3"];

    readonly ConcurrentDictionary<int, string> orders = [];

    public ConcurrentBag<Acknowledged> Told { get; } = [];

    public ConcurrentDictionary<string, int> Refused { get; } = [];

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    Desk Desk { get; } = plant.Desk(ProofPlant.Clock());

    string Part(string part) => $"{prefix}-{part}";

    public async Task Stock()
    {
        var start = new Random(0);
        foreach (var part in new[] { "A", "S", "M", "X", "V" })
            foreach (var lot in lots)
                await Receive(start, part, lot, part is "A" or "S" ? 12 : 4);
    }

    /// <summary>One person's day.</summary>
    public async Task Work(int seed, int commands)
    {
        var random = new Random(seed);
        for (var n = 0; n < commands; n++)
            await (random.Next(109) switch
            {
                < 12 => Receive(random, AnyPart(random), AnyLot(random), 1 + random.Next(4)),
                < 24 => CreateAndOpen(random),
                < 29 => Open(random),
                < 47 => Pick(random),
                < 54 => Return(random),
                < 64 => Through(random),
                < 69 => Cancel(random),
                < 74 => Change(random),
                < 79 => TakeOver(random),
                < 86 => Count(random),
                < 90 => Scrap(random),
                < 94 => Transfer(random),
                < 97 => Quarantine(random),
                < 100 => Correct(random),
                < 103 => UseAlternate(random),
                < 105 => TakeBack(random),
                _ => Replan(random),
            });
    }

    static string AnyPart(Random random) => "AAASSMXV"[random.Next(8)].ToString();

    static string AnyLot(Random random) => lots[random.Next(lots.Length)];

    static string AnyBin(Random random) => ProofPlant.Bins[random.Next(3)];

    static decimal Some(Random random, string part) => part == "M" ? 0.35m * (1 + random.Next(4)) : 1 + random.Next(2);

    string? AnyOrder(Random random) => orders.IsEmpty ? null : orders.GetValueOrDefault(Math.Max(1, orders.Count - random.Next(Math.Min(orders.Count, 24))));

    /// <summary>Sends it, perhaps twice, and keeps what was told. Two answers to one key must be the same.</summary>
    async Task<T?> Send<T>(Random random, string operation, Func<Call, Task<Outcome<T>>> run, Func<T, Acknowledged, Acknowledged> told)
    {
        var call = plant.Call with { Key = ProofPlant.NewKey() };
        var answers = random.Next(10) switch
        {
            0 or 1 => [await run(call), await run(call)],
            2 or 3 => await Task.WhenAll(Task.Run(() => run(call), Ct), Task.Run(() => run(call), Ct)),
            _ => new[] { await run(call) },
        };
        foreach (var refusal in answers.Where(a => !a.IsDone).Select(a => a.Refusal!))
        {
            Assert.True(truthful.Contains(refusal.Code), $"{operation}: {refusal.Code}: {refusal.Sentence}");
            Assert.False(refusal.Sentence.Contains("any more. Nothing was changed", StringComparison.Ordinal), $"{operation} ran into a constraint: {refusal.Sentence}");
            Refused.AddOrUpdate(refusal.Code, 1, (_, n) => n + 1);
        }
        var done = answers.Where(a => a.IsDone).Select(a => a.Value).ToList();
        if (done.Count == 0)
            return default;
        Assert.Single(done.Select(d => JsonSerializer.Serialize(d)).Distinct());
        Told.Add(told(done[0], new Acknowledged(call.Key!.Key, operation)));
        return done[0];
    }

    Acknowledged Moved(Acknowledged told, string part, decimal quantity, MovementKind kind, int count = 1) =>
        told with { OnHand = [(Part(part), quantity)], Movements = [(kind, count)] };

    Task Receive(Random random, string part, string lot, decimal quantity)
    {
        var receipt = new Receipt(Part(part), quantity, AnyBin(random)) { Lot = lot, CuredOn = Kits.Ages(part) ? "2025-04-30" : null };
        return Send(random, "receive-lot", call => new ReceiveLot(Desk).Run(call, receipt, Ct), (_, t) => Moved(t, part, quantity, MovementKind.Receipt));
    }

    async Task CreateAndOpen(Random random)
    {
        var kits = random.Next(3) == 0 ? new[] { new KitAsk(Part("K"), 1) } : [new KitAsk(Part("J"), 1 + random.Next(2))];
        var wanted = new NewOrder(ProofPlant.Tag(prefix, random.Next(4)), "JOB", ProofPlant.FirstDay.AddDays(2 + random.Next(20)), 1 + random.Next(5)) { Kits = kits };
        var number = await Send(random, "create-order", call => new CreateOrder(Desk).Run(call, wanted, Ct), (_, t) => t);
        Assert.NotNull(number);
        orders[Interlocked.Increment(ref made)] = number;
        if (random.Next(3) > 0)
            await Send(random, "open-order", call => new OpenOrder(Desk).Run(call, number, Ct), (_, t) => t);
    }

    int made;

    Task Open(Random random) => AnyOrder(random) is not { } order ? Task.CompletedTask
        : Send(random, "open-order", call => new OpenOrder(Desk).Run(call, order, Ct), (_, t) => t);

    async Task<OrderView?> Look(Random random) => AnyOrder(random) is { } order ? (await new OrderBook(Desk).One(order, Ct)).Value : null;

    async Task Pick(Random random)
    {
        if (await Look(random) is not { } order)
            return;
        var held = order.Demand.SelectMany(d => d.Reservations.Where(r => r is { Id: > 0, Quantity: > 0 }).Select(r => (d.Part, Line: new PickInput(r.Id, r.Quantity)))).ToList();
        if (held.Count > 0)
            await Send(random, "pick-lines", call => new PickLines(Desk).Run(call, order.Number, held.ConvertAll(h => h.Line), Ct), (_, t) => t with
            {
                OnHand = held.ConvertAll(h => (h.Part, -h.Line.Quantity)), Movements = [(MovementKind.Pick, held.Count)],
            });
    }

    async Task Return(Random random)
    {
        if (await Look(random) is not { } order)
            return;
        var inHand = order.Demand.SelectMany(d => d.Reservations).Where(r => r.Picked - r.Fitted - r.Returned - r.Scrapped > 0).ToList();
        if (inHand.Count == 0)
            return;
        var one = inHand[random.Next(inHand.Count)];
        var back = new Return(order.Number, one.Id, one.Picked - one.Fitted - one.Returned - one.Scrapped) { Bin = AnyBin(random), Sealed = random.Next(2) == 0 };
        await Send(random, "return-stock", call => new ReturnStock(Desk).Run(call, back, Ct), (answer, t) => t with
        {
            OnHand = [.. answer.Returned.Select(r => (r.Part, r.Quantity))], Movements = [(MovementKind.Return, answer.Returned.Count)],
        });
    }

    Task Cancel(Random random) => AnyOrder(random) is not { } order ? Task.CompletedTask
        : Send(random, "cancel-order", call => new CancelOrder(Desk).Run(call, order, "not needed", PumpAfterCancel.Unchanged, Ct), (_, t) => t);

    Task Change(Random random)
    {
        var change = new OrderChange(PlannedFitOn: ProofPlant.FirstDay.AddDays(random.Next(30)), WorkClass: 1 + random.Next(5));
        return AnyOrder(random) is not { } order ? Task.CompletedTask
            : Send(random, "change-order", call => new ChangeOrder(Desk).Run(call, order, change, Ct), (_, t) => t);
    }

    async Task TakeOver(Random random)
    {
        if (await Look(random) is not { } order || AnyOrder(random) is not { } from || order.Demand.FirstOrDefault(d => d.Short > 0) is not { } wanting)
            return;
        var ask = new TakeOverAsk(from, wanting.Part, wanting.Part == Part("M") ? wanting.Short : 1, "it stands still");
        await Send(random, "take-over", call => new TakeOver(Desk).Run(call, order.Number, ask, Ct), (_, t) => t);
    }
}
