using KitOrders.Operations.People;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Rules.People;
using Xunit;

namespace KitOrders.Operations.Tests.People;

public sealed class ChangePlantTests(TestDatabase databases)
{
    [Theory]
    [InlineData("name", "Kelp Works", true)]
    [InlineData("spare_risk", "0.1", true)]
    [InlineData("spare_risk", "1", false)]
    [InlineData("late_promise_days", "-1", false)]
    [InlineData("time_zone", "Nowhere/At_all", false)]
    [InlineData("units", "furlongs", false)]
    [InlineData("colour", "green", false)]
    public async Task A_setting_is_taken_or_refused_with_a_sentence(string key, string value, bool taken)
    {
        await using var bench = await ImportBench.New(databases);
        var outcome = await new ChangePlant(bench.Desk).Run(new Call(bench.Actor), key, value, TestContext.Current.CancellationToken);
        Assert.Equal(taken, outcome.IsDone);
        var plant = await new PlantView(bench.Desk).Read(TestContext.Current.CancellationToken);
        Assert.Equal(taken && key == "name" ? value : new PlantSettings().Name, plant.Name);
        Assert.Equal(taken && key == "spare_risk" ? 0.1m : 0.05m, plant.SpareRisk);
    }

    [Fact]
    public async Task A_clerk_may_not_change_the_plant()
    {
        await using var bench = await ImportBench.New(databases);
        var clerk = await bench.Add("Carl Clerk", Roles.Storeroom);
        var outcome = await new ChangePlant(bench.Desk).Run(new Call(clerk), "name", "Mine", TestContext.Current.CancellationToken);
        Assert.Equal("not-allowed", outcome.Refusal?.Code);
    }
}
