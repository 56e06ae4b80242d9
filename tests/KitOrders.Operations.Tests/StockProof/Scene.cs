using System.Globalization;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Rules;
using Npgsql;
using Xunit;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>One operation of a contended pair, on the product and on the model.</summary>
sealed record Act(Func<Scene, PlantModel, string?> Expected, Func<Scene, Desk, Call, Task<string?>> Run);

/// <summary>
/// A little stock and a few orders in which two people get in each other's way. The same is arranged in the database and in as
/// many models as needed.
/// </summary>
sealed class Scene
{
    readonly ProofPlant plant;
    readonly string prefix;
    readonly StoppedClock clock = ProofPlant.Clock();
    readonly List<Func<PlantModel, string?>> script = [];

    Scene(ProofPlant plant, string prefix)
    {
        this.plant = plant;
        this.prefix = prefix;
    }

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    Desk Desk => plant.Desk(clock);

    public static async Task<Scene> Of(ProofPlant plant) => new(plant, await plant.NextCase());

    /// <summary>A desk whose every step waits for its side's turn.</summary>
    public Desk TakingTurns(Side side) => new(new TakingTurns(plant.Database.AppConnectionString, side), clock);

    public string Part(string part) => $"{prefix}-{part}";

    public string Number(int order) => string.Create(CultureInfo.InvariantCulture, $"{prefix}-{order}");

    public static Func<PlantModel, ModelOrder> Order(int serial) => model => model.Orders[serial - 1];

    public async Task Receive(string part, decimal quantity, string bin = "B-1", string lot = "L1", DateOnly? cured = null) => await Both(
        m => m.Receive(part, quantity, bin, lot, cured),
        new ReceiveLot(Desk).Run(plant.Call, new Receipt(Part(part), quantity, bin) { Lot = lot, CuredOn = cured?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) }, Ct));

    /// <summary>Drafts an order; the first is number 1. Position 0 is the most pressing.</summary>
    public async Task Draft(int serial, int position, string kit, decimal quantity = 1)
    {
        var needed = ProofPlant.FirstDay.AddDays(10);
        await Both(
            m => m.Create(new ModelOrder(Number(serial), serial, ProofPlant.Criticalities[position], new() { [kit] = quantity }) { WorkClass = 5, NeededBy = needed }),
            new CreateOrder(Desk).Run(plant.Call, new NewOrder(ProofPlant.Tag(prefix, position), "JOB", needed, 5) { Number = Number(serial), Kits = [new KitAsk(Part(kit), quantity)] }, Ct));
    }

    public async Task Open(int serial, int position, string kit, decimal quantity = 1)
    {
        await Draft(serial, position, kit, quantity);
        await OpenDrafted(serial);
    }

    public Task OpenDrafted(int serial) => Both(m => m.Open(Order(serial)(m)), new OpenOrder(Desk).Run(plant.Call, Number(serial), Ct));

    public Task UsesAlternate(int serial, string part, string alternate) => Both(m => m.UseAlternate(Order(serial)(m), part, alternate, 1, null),
        new UseAlternate(Desk).Run(plant.Call, Number(serial), new AlternateAsk(Part(part), Part(alternate), 1, "it stands still"), Ct));

    /// <summary>The database holds what was arranged and nothing else.</summary>
    public async Task IsAsArranged()
    {
        Assert.Empty(await new Comparison(plant.Rows, Model()).Differences(Ct));
        Assert.Empty(await plant.Untruths());
    }

    async Task Both<T>(Func<PlantModel, string?> expected, Task<Outcome<T>> run)
    {
        script.Add(expected);
        Assert.Null((await run).Refusal);
    }

    PlantModel Model()
    {
        var model = new PlantModel { Prefix = prefix, Now = clock.Now };
        Assert.All(script, step => Assert.Null(step(model)));
        return model;
    }

    /// <summary>Number of the first reservation that the order has of the part.</summary>
    public int Reservation(int order, string part) => arranged!.Orders[order - 1].Holds.First(h => h.Line.Part == part && h.Hold.Held + h.Hold.Picked > 0).Hold.Id;

    PlantModel? arranged;

    /// <summary>
    /// Runs the pair under every schedule, each in a scene of its own. The outcome must be that of the one before the other or of
    /// the other before the one, as the model has them, answers and stock alike; nothing may end in an exception or a deadlock.
    /// </summary>
    /// <param name="mostInterruptions">How often a side that could go on is made to wait, at most.</param>
    /// <param name="losesTo">A refusal that either side may get instead when the other went first; then only the other was done.</param>
    public static async Task<int> EveryOrder(ProofPlant plant, Func<Scene, Task> arrange, Act a, Act b, int mostInterruptions, string? losesTo = null)
    {
        await using var watch = new NpgsqlConnection(plant.Database.OwnerConnectionString);
        await watch.OpenAsync(Ct);
        // The first two runs, one side after the other, find out what the two write.
        var contended = new HashSet<string>();
        foreach (var first in new[] { 0, 1 })
        {
            var scene = await Of(plant);
            await arrange(scene);
            contended.UnionWith(Turns.Written((await scene.Once(watch, a, b, [first], null, losesTo)).Steps));
        }
        Assert.NotEmpty(contended);
        var schedules = new Stack<List<int>>([[]]);
        var (runs, waited) = (0, false);
        while (schedules.TryPop(out var schedule))
        {
            var scene = await Of(plant);
            await arrange(scene);
            var (turns, _) = await scene.Once(watch, a, b, schedule, contended, losesTo);
            runs++;
            waited |= turns.Waited;
            for (var n = schedule.Count; n < turns.Choices.Count; n++)
            {
                // The first choice interrupts nobody; any other than to go on does.
                if (n == 0 || turns.Interruptions[n - 1] < mostInterruptions)
                    schedules.Push([.. turns.Choices.Take(n), 1 - turns.Choices[n]]);
            }
        }
        Assert.True(waited, "Under no schedule did one wait for the other: the two do not get in each other's way.");
        return runs;
    }

    async Task<(Turns Turns, List<string> Steps)> Once(NpgsqlConnection watch, Act a, Act b, List<int> schedule, HashSet<string>? contended, string? losesTo)
    {
        arranged = Model();
        Assert.Empty(await new Comparison(plant.Rows, arranged).Differences(Ct));
        var (one, other) = (new Side(), new Side());
        var turns = new Turns(watch, one, other);
        var first = one.Run(() => a.Run(this, TakingTurns(one), plant.Call));
        var second = other.Run(() => b.Run(this, TakingTurns(other), plant.Call));
        var what = $"Schedule {string.Join("", schedule)}";
        try
        {
            await turns.Run(schedule, step => contended is null || Side.Commits(step) || contended.Any(t => Names(step, t)));
        }
        catch (InvalidOperationException e)
        {
            Assert.Fail($"{what}: {e.Message}\n{Told(one, other)}");
        }
        var answers = (await first, await second);
        var ending = await Ending(a, b, answers, losesTo);
        Assert.True(ending.Differences.Count == 0, $"{what}: answered {answers}; nearest, {ending.Name}:\n{string.Join("\n", ending.Differences)}\n{Told(one, other)}");
        Assert.Empty(await plant.Untruths());
        return (turns, [.. one.Steps, .. other.Steps]);
    }

    static bool Names(string step, string table) => System.Text.RegularExpressions.Regex.IsMatch(step, $@"\b{table}\b");

    static string Told(Side one, Side other) => string.Join("\n", one.Steps.Select(s => $"one: {FirstLine(s)}").Concat(other.Steps.Select(s => $"other: {FirstLine(s)}")));

    static string FirstLine(string step) => step.ReplaceLineEndings(" ")[..Math.Min(140, step.ReplaceLineEndings(" ").Length)];

    /// <summary>The serial order that the outcome is equal to, or the one that it is nearest to.</summary>
    async Task<(string Name, IReadOnlyList<string> Differences)> Ending(Act a, Act b, (string?, string?) answers, string? losesTo)
    {
        var nearest = (Name: "", Differences: (IReadOnlyList<string>)[]);
        foreach (var (name, run) in Serial(a, b, losesTo))
        {
            var model = Model();
            var expected = run(model);
            IReadOnlyList<string> differences = await new Comparison(plant.Rows, model).Differences(Ct);
            if (expected != answers)
                differences = [$"expected answers {expected}", .. differences];
            if (nearest.Name.Length == 0 || differences.Count < nearest.Differences.Count)
                nearest = (name, differences);
        }
        return nearest;
    }

    IEnumerable<(string Name, Func<PlantModel, (string?, string?)> Run)> Serial(Act a, Act b, string? losesTo)
    {
        yield return ("one before other", m => (a.Expected(this, m), b.Expected(this, m)));
        yield return ("other before one", m =>
        {
            var second = b.Expected(this, m);
            return (a.Expected(this, m), second);
        });
        if (losesTo is null)
            yield break;
        yield return ("one alone", m => (a.Expected(this, m), losesTo));
        yield return ("other alone", m => (losesTo, b.Expected(this, m)));
    }
}
