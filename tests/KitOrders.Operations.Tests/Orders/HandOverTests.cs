using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Orders;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

/// <summary>Picking, staging and starting: PickLines, StageOrder, UnstageOrder, StartOrder.</summary>
public sealed class HandOverTests(TestDatabase databases)
{
    [Fact]
    public async Task What_is_picked_leaves_the_shelf_with_the_order_named()
    {
        await using var bench = await New(databases);
        var number = await bench.Picked();
        var line = await bench.Line(number, "Q");
        Assert.Equal((2m, 0m, 0m), (line.Picked, line.Reserved, line.Short));
        Assert.Equal((1m, 0m), ((await bench.Ledger("Q")).Totals.OnHand, (await bench.Ledger("Q")).Totals.Reserved));
    }

    [Fact]
    public async Task A_short_pick_writes_off_what_is_not_there_and_takes_another_piece_where_one_is_free()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        var held = (await bench.Held(number)).Single(r => r.Lot == "Q-1");
        Must(await new PickLines(bench.Desk).Run(bench.Clerk, number, [new PickInput(held.Id, 1, "one is broken")], Ct));
        var line = await bench.Line(number, "Q");
        // Three were on the shelf: one picked, one written off, the third is held now.
        Assert.Equal((1m, 1m, 0m), (line.Picked, line.Reserved, line.Short));
        Assert.Equal(1m, (await bench.Ledger("Q")).Totals.OnHand);
    }

    [Fact]
    public async Task A_short_pick_with_a_counted_shelf_leaves_what_was_counted()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        var held = (await bench.Held(number)).Single(r => r.Lot == "Q-1");
        Must(await new PickLines(bench.Desk).Run(bench.Clerk, number, [new PickInput(held.Id, 1, "bin empty", OnShelf: 0)], Ct));
        var line = await bench.Line(number, "Q");
        Assert.Equal((1m, 0m, 1m), (line.Picked, line.Reserved, line.Short));
        Assert.Equal(0m, (await bench.Ledger("Q")).Totals.OnHand);
    }

    [Fact]
    public async Task A_pick_that_cannot_be_says_why_and_moves_nothing()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        var held = (await bench.Held(number)).Single(r => r.Lot == "Q-1");
        var pick = new PickLines(bench.Desk);
        Refused(await pick.Run(bench.Clerk, number, [new PickInput(held.Id, 3)], Ct), "pick-too-many");
        Refused(await pick.Run(bench.Clerk, number, [new PickInput(held.Id, 1)], Ct), "short-pick-reason");
        Refused(await pick.Run(bench.Clerk, number, [new PickInput(held.Id, 1.5m, "half")], Ct), "quantity");
        Refused(await pick.Run(bench.Clerk, number, [new PickInput(held.Id, -1, "minus")], Ct), "quantity");
        Refused(await pick.Run(bench.Clerk, number, [new PickInput(held.Id, 1, "half", OnShelf: 0.5m)], Ct), "quantity");
        Refused(await pick.Run(bench.Clerk, number, [new PickInput(held.Id, 1, "minus", OnShelf: -1)], Ct), "quantity");
        Refused(await pick.Run(bench.Clerk, number, [new PickInput(9_999, 1)], Ct), "reservation-unknown");
        Refused(await pick.Run(bench.Clerk, number, [new PickInput(held.Id, 1, "a"), new PickInput(held.Id, 1, "b")], Ct), "pick-twice");
        Refused(await pick.Run(bench.Planner, number, [new PickInput(held.Id, 2)], Ct), "not-allowed");
        Assert.Equal(2m, (await bench.Line(number, "Q")).Reserved);
    }

    [Fact]
    public async Task Work_does_not_start_with_a_lot_that_went_into_quarantine_after_it_was_picked()
    {
        await using var bench = await New(databases);
        var number = await bench.Picked();
        Must(await new StageOrder(bench.Desk).Run(bench.Clerk, number, "S-1", null, Ct));
        Must(await new QuarantineLot(bench.Desk).Run(bench.Clerk, "Q", "Q-1", "the batch was recalled", Ct));

        var refused = Refused(await new StartOrder(bench.Desk).Run(bench.Technician, number, null, Ct), "suitability-failed");

        Assert.Contains("Q lot Q-1", refused.Sentence);
        Must(await new ReleaseQuarantine(bench.Desk).Run(bench.Clerk, "Q", "Q-1", "recall withdrawn", null, Ct));
        Must(await new StartOrder(bench.Desk).Run(bench.Technician, number, null, Ct));
    }

    [Fact]
    public async Task Two_clerks_pick_the_same_line_and_the_second_hears_that_it_is_gone()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        var held = (await bench.Held(number)).Single(r => r.Lot == "Q-1");
        var outcomes = await Task.WhenAll(Enumerable.Range(0, 2).Select(_ =>
            new PickLines(bench.Desk).Run(bench.Clerk, number, [new PickInput(held.Id, 2)], Ct)));
        Assert.Single(outcomes, o => o.IsDone);
        Assert.Equal(2m, (await bench.Line(number, "Q")).Picked);
    }

    [Fact]
    public async Task A_kit_is_staged_when_it_is_complete_and_started_after_that()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        Refused(await new StageOrder(bench.Desk).Run(bench.Clerk, number, "S-1", null, Ct), "lines-not-picked");
        Refused(await new StartOrder(bench.Desk).Run(bench.Technician, number, null, Ct), "order-state");
        Must(await new PickLines(bench.Desk).Run(bench.Clerk, number, [.. (await bench.Held(number)).Select(r => new PickInput(r.Id, r.Quantity))], Ct));
        Must(await new StageOrder(bench.Desk).Run(bench.Clerk, number, "S-1", null, Ct));
        Assert.Equal("S-1", (await bench.View(number)).StagedPlace);
        Refused(await new UnstageOrder(bench.Desk).Run(bench.Clerk, number, " ", Ct), "reason-missing");
        Must(await new UnstageOrder(bench.Desk).Run(bench.Clerk, number, "place needed", Ct));
        Assert.Equal(OrderState.Open, (await bench.View(number)).State);
        Must(await new StageOrder(bench.Desk).Run(bench.Clerk, number, "S-2", null, Ct));
        Must(await new StartOrder(bench.Desk).Run(bench.Technician, number, [new PermitInput("lockout", "L-1", Today)], Ct));
        Assert.Equal("L-1", (await bench.View(number)).Permits.Single().Reference);
    }

    [Fact]
    public async Task A_short_line_goes_only_with_a_planners_reason_for_that_line()
    {
        await using var bench = await New(databases);
        await bench.Opened("P-1");
        var number = await bench.Picked("P-2");
        Refused(await new StageOrder(bench.Desk).Run(bench.Clerk, number, null, null, Ct), "lines-short");
        var release = new[] { new LineRelease("C", "comes by van"), new LineRelease("E", "old one is good"), new LineRelease("Q", "one spare is enough") };
        Refused(await new StageOrder(bench.Desk).Run(bench.Clerk, number, null, release, Ct), "release-needs-planner");
        Refused(await new StageOrder(bench.Desk).Run(bench.Planner, number, null, release[..2], Ct), "lines-short");
        Refused(await new StageOrder(bench.Desk).Run(bench.Planner, number, null, [.. release, new LineRelease("B", "why")], Ct), "line-not-short");
        Must(await new StageOrder(bench.Desk).Run(bench.Planner, number, null, release, Ct));
        var line = await bench.Line(number, "C");
        Assert.Equal(("Petra Planner", "comes by van", 1m), (line.ReleasedBy, line.ReleaseReason, line.Short));
    }

    [Fact]
    public async Task A_permit_that_ran_out_is_not_taken()
    {
        await using var bench = await New(databases);
        var number = await bench.Picked();
        Must(await new StageOrder(bench.Desk).Run(bench.Clerk, number, null, null, Ct));
        Refused(await new StartOrder(bench.Desk).Run(bench.Technician, number, [new PermitInput("lockout", "L-0", Today.AddDays(-1))], Ct), "permit-expired");
        Refused(await new RecordPermit(bench.Desk).Run(bench.Planner, number, new PermitInput("", "L-0"), Ct), "permit-kind");
        Assert.Equal(OrderState.Staged, (await bench.View(number)).State);
    }
}
