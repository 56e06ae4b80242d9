using System.Globalization;
using System.Text.Json;
using KitOrders.Operations.Orders;
using KitOrders.Operations.People;
using KitOrders.Operations.Stock;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;
using Xunit;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>One drawn step: which command, and four numbers from which it chooses among what there is when its turn comes.</summary>
public readonly record struct Step(int What, int A, int B, int C, int D);

/// <summary>Runs drawn steps on the model and on the product and compares the two after each.</summary>
sealed partial class RandomCase
{
    public const int LastCommand = 117;

    /// <summary>Every so many commands one is sent a second time under the same key.</summary>
    const int SentTwice = 6;

    /// <summary>Cases of at most so many steps ask for the truth after every one.</summary>
    const int Short = 12;

    readonly ProofPlant plant;
    readonly PlantModel model;
    readonly Comparison comparison;
    readonly StoppedClock clock = ProofPlant.Clock();
    readonly List<string> told = [];
    ModelOrder? focus;

    RandomCase(ProofPlant plant, string prefix)
    {
        this.plant = plant;
        model = new PlantModel { Prefix = prefix };
        comparison = new Comparison(plant.Rows, model);
    }

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    Desk Desk => plant.Desk(clock);

    /// <summary>How many commands of each name were done, over all cases.</summary>
    public static System.Collections.Concurrent.ConcurrentDictionary<string, int> Done { get; } = new();

    public static async Task Run(ProofPlant plant, Step[] steps)
    {
        var one = new RandomCase(plant, await plant.NextCase());
        foreach (var step in steps)
        {
            one.clock.Now = one.clock.Now.AddMinutes(1);
            one.model.Now = one.clock.Now;
            await one.Take(step);
            var differences = await one.comparison.Differences(Ct);
            one.Same(differences.Count == 0, () => string.Join("\n", differences));
            if (steps.Length <= Short)
                await one.True();
        }
        await one.True();
    }

    async Task True()
    {
        var untruths = await plant.Untruths();
        Same(untruths.Count == 0, () => string.Join("\n", untruths));
    }

    void Same(bool same, Func<string> why)
    {
        if (!same)
            Assert.Fail($"{why()}\nafter\n{string.Join("\n", told)}");
    }

    async Task Take(Step s)
    {
        var (name, expected, run) = Command(s);
        told.Add($"{name} {s}: expected {expected ?? "done"}");
        var call = plant.Call with { Key = ProofPlant.NewKey() };
        var answered = await run(call);
        Same(answered.Code == expected, () => $"{name}: expected {expected ?? "done"}, it was {answered.Code ?? "done"}: {answered.Text}");
        if (s.D % SentTwice == 0)
        {
            var again = await run(call);
            Same(answered == again, () => $"{name} sent twice: first {answered}, then {again}");
        }
        if (expected is null)
            Done.AddOrUpdate(name, 1, (_, n) => n + 1);
    }

    delegate Task<(string? Code, string Text)> Runs(Call call);

    static async Task<(string? Code, string Text)> Said<T>(Task<Outcome<T>> run)
    {
        var outcome = await run;
        return outcome.Refusal is { } refusal ? (refusal.Code, refusal.Sentence) : (null, JsonSerializer.Serialize(outcome.Value));
    }

    (string Name, string? Expected, Runs Run) Command(Step s)
    {
        focus = null;
        return (s.What, model.Orders.Count, model.Lots.Count) switch
        {
            ( < 16, _, _) or (_, _, 0) => Receive(s),
            ( < 23, _, _) or (_, 0, _) => Create(s),
            ( < 55, _, _) => GoOn(s),
            ( < 59, _, _) => Open(s),
            ( < 62, _, _) => Pick(s),
            ( < 63, _, _) => Stage(s),
            ( < 64, _, _) => Unstage(s),
            ( < 65, _, _) => Start(s),
            ( < 66, _, _) => Finish(s),
            ( < 67, _, _) => Reopen(s),
            ( < 68, _, _) => Close(s),
            ( < 71, _, _) => Cancel(s),
            ( < 75, _, _) => Change(s),
            ( < 79, _, _) => TakeOver(s),
            ( < 85, _, _) => Count(s),
            ( < 89, _, _) => Return(s),
            ( < 91, _, _) => Scrap(s),
            ( < 93, _, _) => Transfer(s),
            ( < 95, _, _) => PutAside(s),
            ( < 96, _, _) => LetUseAgain(s),
            ( < 97, _, _) => Inspect(s),
            ( < 99, _, _) => Correct(s),
            ( < 100, _, _) => DaysPass(s),
            ( < 109, _, _) => UseAlternate(s),
            ( < 112, _, _) => TakeBack(s),
            _ => Replan(s),
        };
    }

    /// <summary>Takes one order a step on in its life, so that some come to their end.</summary>
    (string, string?, Runs) GoOn(Step s)
    {
        var living = model.Orders.Where(o => o.State is not ("closed" or "cancelled")).ToList();
        if (living.Count == 0)
            return Create(s);
        focus = living[Math.Min(s.A % living.Count, s.B % living.Count)];
        var onShelf = focus.Lines.Exists(l => l.Held > 0);
        return focus.State switch
        {
            "draft" => Open(s),
            "open" => onShelf ? Pick(s) : Stage(s),
            "staged" => s.C % 6 == 0 ? Unstage(s) : Start(s),
            "underway" => onShelf && s.C % 4 != 0 ? Pick(s) : Finish(s),
            _ => s.C % 6 == 0 ? Reopen(s) : Close(s),
        };
    }

    /// <summary>Mostly one for which the command makes sense, sometimes any.</summary>
    static T Choose<T>(IReadOnlyList<T> fitting, IReadOnlyList<T> all, int by) =>
        fitting.Count > 0 && by % 6 != 0 ? fitting[by / 6 % fitting.Count] : all[by / 6 % all.Count];

    ModelOrder Order(int by, params string[] states) => Choose([.. model.Orders.Where(o => states.Contains(o.State))], model.Orders, by);

    (string, string?, Runs) OnOrder(Step s, string name, string[] states, Func<ModelOrder, string?> expected, Func<Call, ModelOrder, Task<Outcome<string>>> run)
    {
        var order = focus ?? Order(s.A, states);
        var answer = expected(order);
        return (name, answer, call => Said(run(call, order)));
    }

    (string, string?, Runs) DaysPass(Step s)
    {
        clock.Now = clock.Now.AddDays(1 + s.A % 5);
        model.Now = clock.Now;
        return ("days pass", null, _ => Task.FromResult<(string?, string)>((null, "")));
    }

    async Task<Outcome<string>> WorkAndFinish(Call call, ModelOrder order)
    {
        var record = new RecordStep(Desk, new CheckPin(Desk));
        var open = (await new OrderBook(Desk).One(order.Number, Ct)).Value;
        if (open.State == OrderState.Underway)
            foreach (var step in open.Steps.Where(t => !t.Recorded))
                Assert.Null((await record.Run(plant.Call, order.Number, step.Step, new StepInput(StepOutcome.AsSpecified), Ct)).Refusal);
        return await new FinishOrder(Desk).Run(call, order.Number, [new HoursInput("Iris Imports", 2)], null, null, Ct);
    }

    string Part(string part) => $"{model.Prefix}-{part}";

    static string? Iso(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
