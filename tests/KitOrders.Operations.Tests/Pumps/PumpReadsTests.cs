using KitOrders.Operations.Kits;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Pumps;
using KitOrders.Operations.Tests.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Pumps;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Pumps;

public sealed class PumpReadsTests(TestDatabase databases)
{
    [Fact]
    public async Task A_record_says_what_the_pump_is_and_after_closing_what_is_on_it_with_lots()
    {
        await using var bench = await New(databases);
        var before = Must(await new PumpRecord(bench.Desk).One("P-1", Ct));
        Assert.Equal(("S-1", "M30", Control.PilotAir, true, Zone.None, 8), (before.Serial, before.Model, before.Control, before.SensingRod!.Value, before.Zone!.Value, before.Criticality));
        Assert.Empty(before.Fitted);

        var number = await bench.Finished();
        Must(await new CloseOrder(bench.Desk).Run(bench.Planner, number, null, null, Ct));
        var after = Must(await new PumpRecord(bench.Desk).One("P-1", Ct));
        Assert.Equal(("M30-S", Control.Solenoid, 1_000L), (after.Model, after.Control, after.Strokes!.Value));
        var kit = Assert.Single(after.Fitted);
        Assert.Equal(("K", 1, number), (kit.Kit, kit.Revision, kit.Order));
        Assert.Contains(kit.Lots, l => l is { Part: "K", Lot: "K-1", Quantity: 1 });
        var change = Assert.Single(after.History);
        Assert.Equal(("M30", "M30-S", number), (change.ModelBefore, change.ModelAfter, change.Order));
        Assert.Equal([(number, OrderState.Closed)], after.Orders.Select(o => (o.Number, o.State)));
        Assert.Equal([1_000L], after.StrokeReadings.Select(s => s.Strokes));
    }

    [Fact]
    public async Task Pumps_are_listed_by_tag_and_narrowed_by_control_orders_and_words()
    {
        await using var bench = await New(databases);
        await bench.Draft("P-2");
        var list = new PumpList(bench.Desk);
        Assert.Equal(["P-1", "P-2"], Must(await list.Find(new PumpFilter(), null, null, Ct)).Items.Select(p => p.Tag));
        Assert.Equal(["P-2"], Must(await list.Find(new PumpFilter { WithOrders = true }, null, null, Ct)).Items.Select(p => p.Tag));
        Assert.Equal(["P-1"], Must(await list.Find(new PumpFilter { Search = "s-1" }, null, null, Ct)).Items.Select(p => p.Tag));
        Assert.Empty(Must(await list.Find(new PumpFilter { Control = Control.Solenoid }, null, null, Ct)).Items);
        var first = Must(await list.Find(new PumpFilter(), null, 1, Ct));
        Assert.Equal("P-1", first.Next);
        Assert.Equal(["P-2"], Must(await list.Find(new PumpFilter(), first.Next, 1, Ct)).Items.Select(p => p.Tag));
    }

    [Fact]
    public async Task A_kit_is_judged_against_a_pump_by_all_eleven_checks()
    {
        await using var bench = await New(databases);
        var checks = Must(await new SuitabilityOf(bench.Desk).Check("P-1", "K", null, Ct));
        Assert.Equal(Enum.GetValues<Check>(), checks.Select(c => c.Check));
        Assert.All(checks, c => Assert.Equal(CheckResult.Passed, c.Result));
        // A caller can show how the voltage was reckoned.
        Assert.NotEmpty(checks.Single(c => c.Check == Check.Voltage).Numbers);
    }

    [Fact]
    public async Task What_is_not_on_record_is_not_found()
    {
        await using var bench = await New(databases);
        Refused(await new PumpRecord(bench.Desk).One("P-9", Ct), "pump-unknown");
        Refused(await new SuitabilityOf(bench.Desk).Check("P-9", "K", null, Ct), "pump-unknown");
        Refused(await new SuitabilityOf(bench.Desk).Check("P-1", "NONE", null, Ct), "kit-unknown");
        Refused(await new SuitabilityOf(bench.Desk).Check("P-1", "E", null, Ct), "kit-unknown");
        Refused(await new JobsFor(bench.Desk).Pump("P-9", null, Ct), "pump-unknown");
    }

    [Fact]
    public async Task A_job_that_does_not_apply_says_the_first_reason()
    {
        await using var bench = await New(databases);
        var fresh = Assert.Single(Must(await new JobsFor(bench.Desk).Pump("P-1", null, Ct)));
        Assert.Equal(("CONV", true, 0), (fresh.Job, fresh.Applies, fresh.Unknown));
        Assert.Equal(["K rev 1"], fresh.Kits);

        Must(await new CloseOrder(bench.Desk).Run(bench.Planner, await bench.Finished(), null, null, Ct));
        var done = Assert.Single(Must(await new JobsFor(bench.Desk).Pump("P-1", null, Ct)));
        Assert.Equal((false, true, "K is made for other models."), (done.Applies, done.ModelFails, done.Failed));
    }
}
