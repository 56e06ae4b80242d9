using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using KitOrders.Rules;
using Xunit;

namespace KitOrders.Operations.Tests.Faults;

/// <summary>
/// Every write of the product with every one of its database commands failing, before and after it is done: each time all of
/// it stands or nothing, and the same command again has its one effect.
/// </summary>
public abstract partial class EveryWriteFails(FaultPlant plant)
{
    static readonly Fault[] everyFault = Enum.GetValues<Fault>();

    /// <summary>One that comes before the command is done and one after it, for the run of every day.</summary>
    static readonly Fault[] oneOfEach = [Fault.Refused, Fault.CutAfter];

    protected Task Stands_whole_or_not_at_all(string operation) => All_or_nothing(operation, oneOfEach);

    protected Task Stands_whole_or_not_at_all_whatever_the_fault(string operation) => All_or_nothing(operation, everyFault);

    async Task All_or_nothing(string operation, Fault[] faults)
    {
        var call = WriteCalls.All.Single(c => c.Key == operation).Value;
        await using var undisturbed = await FaultedCall.On(plant, call);
        var (said, exchanges) = await undisturbed.Count();
        Assert.True(said.Done, $"The call of the table was refused: {said.Words}");
        var whole = await undisturbed.Digest.Effect();
        await Digest.IsTrue(undisturbed.Desk);

        await Fails_before_the_commit(call, exchanges, said, whole, faults);
        foreach (var fault in faults.Where(IsAfter))
            await Fails_after_the_commit(call, exchanges, said, whole, fault);
    }

    static bool IsAfter(Fault fault) => fault is Fault.CutAfter or Fault.FailedAfter;

    async Task Fails_before_the_commit(WriteCall call, IReadOnlyList<int> exchanges, Said said, string whole, Fault[] faults)
    {
        await using var run = await FaultedCall.On(plant, call);
        var before = await run.Digest.Whole();
        var commit = exchanges.Count - 1;
        for (var n = 0; n <= commit; n++)
        {
            foreach (var fault in faults.Where(f => n < commit || !IsAfter(f)))
                for (var statement = 0; statement < (fault == Fault.Refused ? exchanges[n] : 1); statement++)
                    await Nothing(run, before, fault, n, statement);
        }
        await run.Digest.WindBack();
        var again = await run.Run();
        Assert.True(again.Done, $"After failing it is refused: {again.Words}");
        Same(whole, await run.Digest.Effect(), "after failing and being called again");
        await Once(run, call, said);
    }

    static async Task Nothing(FaultedCall run, string before, Fault fault, int exchange, int statement = 0)
    {
        await run.Fail(fault, exchange, statement);
        Same(before, await run.Digest.Whole(), $"after {fault} at exchange {exchange}, statement {statement}");
    }

    async Task Fails_after_the_commit(WriteCall call, IReadOnlyList<int> exchanges, Said said, string whole, Fault fault)
    {
        await using var run = await FaultedCall.On(plant, call);
        await run.Fail(fault, exchanges.Count - 1);
        Same(whole, await run.Digest.Effect(), $"after {fault} at the commit");
        await Once(run, call, said);
    }

    /// <summary>The same command again answers what it answered and changes nothing.</summary>
    static async Task Once(FaultedCall run, WriteCall call, Said said)
    {
        if (call.Keyed)
        {
            var before = await run.Digest.Whole();
            Assert.Equal(said, await run.Run());
            Same(before, await run.Digest.Whole(), "after the same command once more");
        }
        await Digest.IsTrue(run.Desk);
    }

    static void Same(string expected, string actual, string when) =>
        Assert.True(expected == actual, $"Other than it should be {when}: {Digest.Difference(expected, actual)}");

    private protected static IEnumerable<TheoryDataRow<string>> Rows(IReadOnlyDictionary<string, WriteCall> calls) => calls.Keys.Select(k => new TheoryDataRow<string>(k));

    /// <summary>Class and method of every body that is handed to the desk to write with.</summary>
    internal static IReadOnlyList<string> Writes =>
        [.. from type in typeof(Desk).Assembly.GetTypes()
            from method in type.GetMethods((System.Reflection.BindingFlags)(-1) & ~System.Reflection.BindingFlags.FlattenHierarchy)
            // The work, and what was asked first where there is such.
            where Outermost(type) != typeof(Desk) && method.GetParameters() is [{ ParameterType: var first }, ..] and { Length: <= 2 } && first == typeof(Work)
                && method.ReturnType.IsGenericType && method.ReturnType.GetGenericArguments() is [{ IsGenericType: true } answer]
                && answer.GetGenericTypeDefinition() == typeof(Outcome<>) && Body().Match(method.Name) is { Success: true }
            select $"{Outermost(type).Name}.{Body().Match(method.Name).Groups[1].Value}"];

    static Type Outermost(Type type)
    {
        while (type.DeclaringType is { } outer)
            type = outer;
        return type;
    }

    [GeneratedRegex("^<(\\w+)>b__")]
    private static partial Regex Body();
}

public sealed class EveryStockWriteFails(FaultPlant plant) : EveryWriteFails(plant), IClassFixture<FaultPlant>
{
    public static IEnumerable<TheoryDataRow<string>> Calls => Rows(WriteCalls.Stock);

    [Theory, MemberData(nameof(Calls))]
    public Task A_write_of_stock_stands_whole_or_not_at_all(string operation) => Stands_whole_or_not_at_all(operation);
}

public sealed class EveryOrderWriteFails(FaultPlant plant) : EveryWriteFails(plant), IClassFixture<FaultPlant>
{
    public static IEnumerable<TheoryDataRow<string>> Calls => Rows(WriteCalls.Orders);

    [Theory, MemberData(nameof(Calls))]
    public Task A_write_of_an_order_stands_whole_or_not_at_all(string operation) => Stands_whole_or_not_at_all(operation);
}

public sealed class EveryCampaignWriteFails(FaultPlant plant) : EveryWriteFails(plant), IClassFixture<FaultPlant>
{
    public static IEnumerable<TheoryDataRow<string>> Calls => Rows(WriteCalls.Campaigns);

    [Theory, MemberData(nameof(Calls))]
    public Task A_write_of_a_campaign_stands_whole_or_not_at_all(string operation) => Stands_whole_or_not_at_all(operation);
}

/// <summary>The whole table, with every kind of fault.</summary>
[Trait("Length", "Long")]
public sealed class EveryWriteOfTheProductFails(FaultPlant plant) : EveryWriteFails(plant), IClassFixture<FaultPlant>
{
    public static IEnumerable<TheoryDataRow<string>> Calls => WriteCalls.All.Select(c => new TheoryDataRow<string>(c.Key));

    [Theory, MemberData(nameof(Calls))]
    public Task A_write_stands_whole_or_not_at_all_whatever_the_fault(string operation) => Stands_whole_or_not_at_all_whatever_the_fault(operation);
}

public sealed class WriteCallsTests
{
    [Fact]
    public void Every_write_of_the_product_is_in_the_table()
    {
        Assert.True(EveryWriteFails.Writes.Count > 40, $"Found only {EveryWriteFails.Writes.Count} writes; look whether they are still written the same way.");
        Assert.Equal(EveryWriteFails.Writes.Order(StringComparer.Ordinal), WriteCalls.All.Select(c => c.Key).Order(StringComparer.Ordinal));
    }
}
