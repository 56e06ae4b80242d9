using KitOrders.Operations.Orders;
using KitOrders.Rules.Procedures;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

/// <summary>What no sensible person sends still ends in a sentence.</summary>
public sealed class HostileInputTests(TestDatabase databases)
{
    [Fact]
    public async Task A_number_or_text_beyond_what_can_be_kept_is_refused_and_nothing_is_written()
    {
        await using var bench = await New(databases);
        var number = await bench.Underway();
        Assert.NotNull((await bench.Record(number, 1, new StepInput(StepOutcome.AsSpecified) { Value = decimal.MaxValue })).Refusal);
        Assert.NotNull((await bench.Record(number, 1, new StepInput(StepOutcome.AsSpecified) { Note = "a\0b" })).Refusal);
        Assert.NotNull((await bench.Record(number, 1, new StepInput(StepOutcome.AsSpecified) { Note = new string('x', 10_000) })).Refusal);
        Assert.Empty((await bench.View(number)).Steps[0].Results);
    }

    [Fact]
    public async Task Names_that_look_like_statements_are_only_names()
    {
        await using var bench = await New(databases);
        var refusal = Refused(await new CreateOrder(bench.Desk).Run(bench.Planner, new NewOrder("P-1'; drop table part; --", "CONV", Today, 5), Ct), "pump-unknown");
        Assert.Contains("drop table", refusal.Sentence, StringComparison.Ordinal);
        Assert.Equal(1m, await bench.Free("K"));
    }
}
