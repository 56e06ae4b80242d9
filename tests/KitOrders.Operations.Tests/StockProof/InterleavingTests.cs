using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using Xunit;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>One plant for all tests of a class.</summary>
public sealed class SharedPlant(TestDatabase databases) : IAsyncLifetime
{
    public ProofPlant Plant { get; private set; } = null!;

    public async ValueTask InitializeAsync() => Plant = await ProofPlant.New(databases);

    public ValueTask DisposeAsync() => Plant.DisposeAsync();
}

/// <summary>
/// Contended pairs under every order of their steps, on two connections. Steps that touch nothing which either of the two
/// writes count as one with the step after them. The quick run interrupts a side once at most, the long one as often as can be.
/// </summary>
public sealed class InterleavingTests(SharedPlant shared, ITestOutputHelper output) : IClassFixture<SharedPlant>
{
    const int Once = 1;
    const int AsOftenAsCanBe = int.MaxValue;

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    static async Task<string?> Said<T>(Task<Outcome<T>> run) => (await run).Refusal?.Code;

    static Act Open(int order) => new((_, m) => m.Open(m.Orders[order - 1]), (s, desk, call) => Said(new OpenOrder(desk).Run(call, s.Number(order), Ct)));

    static Act Cancel(int order) => new((_, m) => m.Cancel(m.Orders[order - 1], true),
        (s, desk, call) => Said(new CancelOrder(desk).Run(call, s.Number(order), "not needed", null, Ct)));

    static Act Receive(string part, decimal quantity, string lot = "L1") => new((_, m) => m.Receive(part, quantity, "B-1", lot, null),
        (s, desk, call) => Said(new ReceiveLot(desk).Run(call, new Receipt(s.Part(part), quantity, "B-1") { Lot = lot }, Ct)));

    static ModelHold HoldOf(PlantModel m, int order, string part) => m.Orders[order - 1].Holds.First(h => h.Line.Part == part).Hold;

    static Act Pick(int order, string part, decimal quantity) => new(
        (_, m) => m.Pick(m.Orders[order - 1], [(HoldOf(m, order, part), quantity, false, null)]),
        (s, desk, call) => Said(new PickLines(desk).Run(call, s.Number(order), [new PickInput(s.Reservation(order, part), quantity)], Ct)));

    static Act Count(string part, decimal counted, bool accept) => new((_, m) => m.Count(m.Lot(part, "L1"), "B-1", counted, accept),
        (s, desk, call) => Said(new CountBin(desk).Run(call, new Count(s.Part(part), "B-1", "L1", counted) { Accept = accept }, Ct)));

    static Act TakeOver(int order, int from, string part, decimal quantity) => new((_, m) => m.TakeOver(m.Orders[order - 1], m.Orders[from - 1], part, quantity),
        (s, desk, call) => Said(new TakeOver(desk).Run(call, s.Number(order), new TakeOverAsk(s.Number(from), s.Part(part), quantity, "it stands still"), Ct)));

    static Act Stage(int order) => new((_, m) => PlantModel.Stage(m.Orders[order - 1], true), (s, desk, call) => Said(new StageOrder(desk).Run(call, s.Number(order), null,
        [.. new[] { "A", "S", "M" }.Select(p => new LineRelease(s.Part(p), "not needed"))], Ct)));

    static Act UseAlternate(int order, string part, string alternate) => new((_, m) => m.UseAlternate(m.Orders[order - 1], part, alternate, 1, null),
        (s, desk, call) => Said(new UseAlternate(desk).Run(call, s.Number(order), new AlternateAsk(s.Part(part), s.Part(alternate), 1, "it stands still"), Ct)));

    static Act TakeBack(int order, string part, string alternate) => new((_, m) => m.TakeBack(m.Orders[order - 1], part, alternate),
        (s, desk, call) => Said(new TakeBackAlternate(desk).Run(call, s.Number(order), new AlternateBack(s.Part(part), s.Part(alternate), "it came"), Ct)));

    static Act Replan(int order) => new((_, m) => m.Replan(m.Orders[order - 1]), async (s, desk, call) =>
        await new ReplanDifferences(desk).Of(s.Number(order), Ct) is { Refusal: null, Value: var shown }
            ? await Said(new ReplanOrder(desk).Run(call, s.Number(order), new ReplanAsk(shown.Seen), Ct)) : "not shown");

    static readonly DateOnly cured = new(2025, 6, 30);

    static readonly Dictionary<string, (Func<Scene, Task> Arrange, Act One, Act Other, string? LosesTo)> pairs = new()
    {
        ["open and open for the last piece"] = (async s =>
        {
            await s.Receive("A", 1);
            await s.Draft(1, 0, "J");
            await s.Draft(2, 1, "J");
        }, Open(1), Open(2), null),
        ["open and open on the same lots"] = (async s =>
        {
            await s.Receive("A", 2);
            await s.Receive("A", 1, "B-2", "L2");
            await s.Receive("V", 1);
            await s.Receive("M", 0.6m);
            await s.Draft(1, 0, "K");
            await s.Draft(2, 1, "J");
        }, Open(1), Open(2), null),
        ["pick and count of what is held"] = (async s =>
        {
            await s.Receive("A", 1);
            await s.Open(1, 0, "J");
        }, Pick(1, "A", 1), Count("A", 0, true), null),
        ["pick and a count that asks first"] = (async s =>
        {
            await s.Receive("A", 1);
            await s.Open(1, 0, "J");
        }, Pick(1, "A", 1), Count("A", 0, false), null),
        ["receive and cancel of who waits"] = (async s =>
        {
            await s.Open(1, 0, "J");
            await s.Open(2, 1, "J");
        }, Receive("A", 1), Cancel(1), null),
        ["receive and cancel of who holds"] = (async s =>
        {
            await s.Receive("A", 1);
            await s.Open(1, 0, "J");
            await s.Open(2, 1, "J", 2);
        }, Receive("A", 2), Cancel(1), null),
        ["take over and pick of the same piece"] = (async s =>
        {
            await s.Receive("A", 1);
            await s.Open(1, 2, "J");
            await s.Open(2, 0, "J");
        }, TakeOver(2, 1, "A", 1), Pick(1, "A", 1), null),
        ["receive and staging without"] = (s => s.Open(1, 0, "J"), Receive("A", 2), Stage(1), null),
        ["open and cancel of one draft"] = (async s =>
        {
            await s.Receive("A", 1);
            await s.Open(1, 0, "J");
            await s.Receive("A", 1);
            await s.Draft(2, 1, "J");
        }, Open(2), Cancel(2), "changed-meanwhile"),
        ["an alternate and another for the last of it"] = (async s =>
        {
            await s.Receive("S", 3, cured: cured);
            await s.Open(1, 0, "J");
            await s.Open(2, 1, "J");
        }, UseAlternate(1, "A", "S"), UseAlternate(2, "A", "S"), null),
        ["an alternate and the cancelling of its order"] = (async s =>
        {
            await s.Receive("S", 2, cured: cured);
            await s.Open(1, 0, "J");
        }, UseAlternate(1, "A", "S"), Cancel(1), null),
        ["an alternate taken back and its pick"] = (async s =>
        {
            await s.Receive("S", 2, cured: cured);
            await s.Open(1, 0, "J");
            await s.UsesAlternate(1, "A", "S");
        }, TakeBack(1, "A", "S"), Pick(1, "S", 2), null),
        ["a new plan and the receipt of what it lacks"] = (async s =>
        {
            await s.Receive("A", 1);
            await s.Open(1, 1, "J");
            await s.Open(2, 0, "J");
        }, Replan(1), Receive("A", 2), "replan-changed"),
    };

    public static TheoryData<string> Pairs => [.. pairs.Keys];

    [Theory]
    [MemberData(nameof(Pairs))]
    public Task Contention_ends_as_if_one_had_come_after_the_other(string pair) => Run(pair, Once);

    [Theory]
    [Trait("Length", "Long")]
    [MemberData(nameof(Pairs))]
    public Task Contention_ends_so_in_every_order_of_the_steps(string pair) => Run(pair, AsOftenAsCanBe);

    [Fact]
    public async Task Parts_that_an_order_asks_for_meanwhile_are_not_touched_without_their_locks()
    {
        var scene = await Scene.Of(shared.Plant);
        await scene.Receive("A", 1);
        await scene.Draft(1, 0, "J");
        var side = new Side();
        var cancelled = side.Run(() => Cancel(1).Run(scene, scene.TakingTurns(side), shared.Plant.Call));
        await side.GoUntil(step => step.Contains("work_order", StringComparison.Ordinal) && step.Contains("for no key update", StringComparison.Ordinal));
        await scene.OpenDrafted(1);
        await side.GoUntil(_ => false);
        Assert.Equal("changed-meanwhile", await cancelled);
        await scene.IsAsArranged();
    }

    async Task Run(string pair, int mostInterruptions)
    {
        var (arrange, one, other, losesTo) = pairs[pair];
        output.WriteLine($"{await Scene.EveryOrder(shared.Plant, arrange, one, other, mostInterruptions, losesTo)} orders of steps");
    }
}
