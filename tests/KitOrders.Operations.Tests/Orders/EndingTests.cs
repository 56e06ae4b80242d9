using KitOrders.Operations.Orders;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

/// <summary>Finishing, reopening, closing and cancelling: FinishOrder, ReopenOrder, CloseOrder, CancelOrder.</summary>
public sealed class EndingTests(TestDatabase databases)
{
    [Fact]
    public async Task Closing_writes_back_what_the_pump_has_become()
    {
        await using var bench = await New(databases);
        var number = await bench.Finished();
        Must(await new CloseOrder(bench.Desk).Run(bench.Planner, number, null, [new RemovedInput("Q", 1, RemovedTo.Scrap)], Ct));
        var order = await bench.View(number);
        Assert.Equal((OrderState.Closed, "M30-S"), (order.State, order.Model));
        // Kit 200, elbow 6 and two valves at 30; three hours at 50.
        Assert.Equal((266m, 150m), (order.Cost.Actual.Parts, order.Cost.Actual.Labour));
        await using var db = bench.Db();
        var pump = await db.Pumps.SingleAsync(p => p.Serial == "S-1", Ct);
        Assert.Equal(1_000, pump.StrokeCount);
        Assert.Equal(1, await db.FittedKits.CountAsync(f => f.PumpId == pump.Id, Ct));
        Assert.Equal(["E-1", "K-1", "Q-1"], await (from f in db.FittedLots join l in db.Lots on f.LotId equals l.Id orderby l.Number select l.Number).ToListAsync(Ct));
        Assert.Contains("M30 became M30-S", (await db.PumpChanges.SingleAsync(c => c.PumpId == pump.Id, Ct)).What, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_not_used_goes_back_to_its_bin_and_serves_whoever_waits()
    {
        await using var bench = await New(databases);
        var number = await bench.Finished();
        var waiting = await bench.Opened("P-2");
        Assert.Equal(1m, (await bench.Line(waiting, "Q")).Short);
        var order = await bench.View(number);
        var accounts = order.Demand.SelectMany(l => l.Reservations.Select(r => l.Part == "Q"
            ? new PartAccount(r.Id, 0, 2, 0) : new PartAccount(r.Id, r.Picked, 0, 0))).ToList();
        Refused(await new CloseOrder(bench.Desk).Run(bench.Planner, number, accounts[..1], null, Ct), "parts-unaccounted");
        Refused(await new CloseOrder(bench.Desk).Run(bench.Planner, number, [.. accounts.Select(a => a with { Fitted = a.Fitted + 1 })], null, Ct), "parts-unaccounted");
        Must(await new CloseOrder(bench.Desk).Run(bench.Planner, number, accounts, null, Ct));
        Assert.Equal(0m, (await bench.Line(waiting, "Q")).Short);
        Assert.Equal(3m, (await bench.Ledger("Q")).Totals.OnHand);
    }

    [Fact]
    public async Task Closing_waits_for_every_step_and_for_hours()
    {
        await using var bench = await New(databases);
        var number = await bench.Underway();
        Refused(await new CloseOrder(bench.Desk).Run(bench.Planner, number, null, null, Ct), "order-state");
        var finish = new FinishOrder(bench.Desk);
        Refused(await finish.Run(bench.Technician, number, [], null, null, Ct), "hours-missing");
        Refused(await finish.Run(bench.Technician, number, [new HoursInput("Nobody Known", 1)], null, null, Ct), "person-unknown");
        Refused(await finish.Run(bench.Technician, number, [new HoursInput("Tess Technician", -1)], null, null, Ct), "hours-range");
        Must(await finish.Run(bench.Technician, number, [new HoursInput("Tess Technician", 1)], null, null, Ct));
        Refused(await new CloseOrder(bench.Desk).Run(bench.Planner, number, null, null, Ct), "steps-open");
        Refused(await new ReopenOrder(bench.Desk).Run(bench.Planner, number, "", Ct), "reason-missing");
        Must(await new ReopenOrder(bench.Desk).Run(bench.Planner, number, "steps missing", Ct));
        Assert.Equal(OrderState.Underway, (await bench.View(number)).State);
    }

    [Fact]
    public async Task Removed_parts_for_others_must_be_decontaminated()
    {
        await using var bench = await New(databases);
        var number = await bench.Finished();
        var close = new CloseOrder(bench.Desk);
        Refused(await close.Run(bench.Planner, number, null, [new RemovedInput("Q", 1, RemovedTo.Vendor)], Ct), "decontamination-missing");
        Refused(await close.Run(bench.Planner, number, null, [new RemovedInput("NONE", 1, RemovedTo.Scrap)], Ct), "part-unknown");
        Must(await close.Run(bench.Planner, number, null, [new RemovedInput("Q", 1, RemovedTo.Vendor, "rinsed, T. Technician")], Ct));
    }

    [Fact]
    public async Task A_meter_does_not_run_backwards()
    {
        await using var bench = await New(databases);
        var number = await bench.Finished();
        Must(await new CloseOrder(bench.Desk).Run(bench.Planner, number, null, null, Ct));
        await using var db = bench.Db();
        Assert.Equal(1_000, await db.Pumps.Where(p => p.Serial == "S-1").Select(p => p.StrokeCount).SingleAsync(Ct));
        Refused(await new FinishOrder(bench.Desk).Run(bench.Technician, number, [new HoursInput("Tess Technician", 1)], null, 999, Ct), "stroke-count");
    }

    [Fact]
    public async Task Cancelling_frees_what_is_held_and_serves_whoever_waits()
    {
        await using var bench = await New(databases);
        var first = await bench.Opened("P-1");
        var second = await bench.Opened("P-2");
        Assert.Equal(1m, (await bench.Line(second, "E")).Short);
        Refused(await new CancelOrder(bench.Desk).Run(bench.Planner, first, "", null, Ct), "reason-missing");
        Must(await new CancelOrder(bench.Desk).Run(bench.Planner, first, "not needed", null, Ct));
        Assert.Equal((1m, 0m), ((await bench.Line(second, "E")).Reserved, (await bench.Line(second, "E")).Short));
        Assert.Equal(1m, await bench.Free("K"));
        Refused(await new CancelOrder(bench.Desk).Run(bench.Planner, first, "again", null, Ct), "order-state");
    }

    [Fact]
    public async Task After_start_a_cancelled_order_says_what_the_pump_is_now()
    {
        await using var bench = await New(databases);
        var number = await bench.Underway();
        Refused(await new CancelOrder(bench.Desk).Run(bench.Planner, number, "broken off", null, Ct), "pump-is-missing");
        Must(await new CancelOrder(bench.Desk).Run(bench.Planner, number, "broken off", PumpAfterCancel.PartlyConverted, Ct));
        await using var db = bench.Db();
        Assert.Contains("broken off", (await db.Pumps.SingleAsync(p => p.Serial == "S-1", Ct)).OutOfService, StringComparison.Ordinal);
        // What was picked waits to be given back by hand.
        Assert.Equal(2m, (await bench.View(number)).Demand.Single(l => l.Part == "Q").Reservations.Single().Picked);
    }

    [Fact]
    public async Task Two_orders_of_one_pump_that_close_at_the_same_moment_close_one_after_the_other()
    {
        await using var bench = await New(databases);
        await bench.Plant.Good("parts", "part,description,unit\nG,Gasket kit,each\n");
        await bench.Plant.Good("kits", "kit,revision,line,part,quantity,source\nG,1,1,P,1,inTheBox\n");
        await bench.Plant.Good("fits", "kit,revision,model\nG,1,M30\n");
        await bench.Plant.Good("procedures", "procedure,revision,step,part_of,kind,text\nPG,1,1,preliminary,instruction,Isolate and lock.\nPG,1,2,main,instruction,Fit it.\nPG,1,3,closeUp,functionTest,Run it.\n");
        await bench.Plant.Good("jobs", "job,description,procedure,kits,crew,hours\nGASK,Gasket,PG,G,Fitters,1\n");
        await bench.Plant.Good("stock", "part,lot,bin,quantity,received_on\nG,G-1,A-1,2,today-3\n");
        var numbers = new List<string>();
        for (var n = 0; n < 2; n++)
        {
            var number = Must(await new CreateOrder(bench.Desk).Run(bench.Planner, new NewOrder("P-1", "GASK", Today.AddDays(5), 5), Ct));
            Must(await new OpenOrder(bench.Desk).Run(bench.Planner, number, Ct));
            Must(await new PickLines(bench.Desk).Run(bench.Clerk, number, [.. (await bench.Held(number)).Select(r => new PickInput(r.Id, r.Quantity))], Ct));
            Must(await new StageOrder(bench.Desk).Run(bench.Clerk, number, "S-1", null, Ct));
            Must(await new StartOrder(bench.Desk).Run(bench.Technician, number, null, Ct));
            for (var step = 1; step <= 3; step++)
                Must(await bench.Record(number, step, new StepInput(StepOutcome.AsSpecified)));
            Must(await new FinishOrder(bench.Desk).Run(bench.Technician, number, [new HoursInput("Tess Technician", 1)], null, 1_000 + n, Ct));
            numbers.Add(number);
        }
        var closed = await Task.WhenAll(numbers.Select(n => Task.Run(() => new CloseOrder(bench.Desk).Run(bench.Planner, n, null, null, Ct))));
        Assert.All(closed, c => Assert.True(c.IsDone, c.Refusal?.Sentence));
        await using var db = bench.Db();
        Assert.Equal(2, await db.PumpChanges.CountAsync(Ct));
    }
}
