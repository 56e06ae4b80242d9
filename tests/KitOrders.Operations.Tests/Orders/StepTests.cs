using KitOrders.Operations.Orders;
using KitOrders.Operations.People;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Procedures;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

/// <summary>Steps, hold points, carry-over decisions and deviations: RecordStep, ReleaseHold, AcceptDeviation, PauseOrder, ResumeOrder.</summary>
public sealed class StepTests(TestDatabase databases)
{
    static readonly StepInput asSpecified = new(StepOutcome.AsSpecified);

    [Fact]
    public async Task No_main_step_before_the_preliminaries_and_nothing_past_a_hold_point()
    {
        await using var bench = await New(databases);
        var number = await bench.Underway();
        Refused(await bench.Record(number, 7, asSpecified with { Pass = 1 }), "preliminary-first");
        Refused(await bench.Record(number, 3, asSpecified), "preliminary-order");
        for (var step = 1; step <= 4; step++)
            Must(await bench.Record(number, step, asSpecified));
        Refused(await new ReleaseHold(bench.Desk, new CheckPin(bench.Desk)).Release(bench.Technician, number, 5, bench.Technician.Actor, Ct), "hold-point-not-recorded");
        Must(await bench.Record(number, 5, asSpecified with { Value = 0, Unit = "bar" }));
        Refused(await bench.Record(number, 7, asSpecified with { Pass = 1 }), "hold-point-not-released");
        Must(await new ReleaseHold(bench.Desk, new CheckPin(bench.Desk)).Release(bench.Technician, number, 5, bench.Technician.Actor, Ct));
        Must(await bench.Record(number, 7, asSpecified with { Pass = 1 }));
    }

    [Theory]
    [InlineData(0.4, "bar", "value-outside-limits")]
    [InlineData(null, null, "value-missing")]
    [InlineData(0.0, "psi", "unit-differs")]
    public async Task A_reading_agrees_with_its_limits_or_is_refused(double? value, string? unit, string code)
    {
        await using var bench = await New(databases);
        var number = await bench.Underway();
        for (var step = 1; step <= 4; step++)
            Must(await bench.Record(number, step, asSpecified));
        Refused(await bench.Record(number, 5, asSpecified with { Value = (decimal?)value, Unit = unit }), code);
    }

    [Fact]
    public async Task Torque_takes_two_passes_in_order_within_its_limits_and_is_kept_in_newton_metres()
    {
        await using var bench = await New(databases);
        var number = await bench.Underway();
        await bench.Preliminaries(number);
        Refused(await bench.Record(number, 7, asSpecified with { Value = 9.4m, Unit = "Nm" }), "torque-pass-missing");
        Refused(await bench.Record(number, 7, asSpecified with { Pass = 2, Bolt = 1, Value = 9.4m, Unit = "Nm" }), "torque-pass-order");
        for (var bolt = 1; bolt <= 4; bolt++)
            Must(await bench.Record(number, 7, asSpecified with { Pass = 1, Bolt = bolt, Value = 4.7m, Unit = "Nm" }));
        // 9.4 N·m ± 5 %: 8.93 to 9.87.
        Refused(await bench.Record(number, 7, asSpecified with { Pass = 2, Bolt = 1, Value = 9.9m, Unit = "Nm" }), "value-outside-limits");
        Refused(await bench.Record(number, 7, asSpecified with { Pass = 2, Bolt = 5, Value = 9.4m, Unit = "Nm" }), "torque-bolt-unknown");
        Refused(await bench.Record(number, 7, asSpecified with { Pass = 2, Bolt = 1, Value = 9.4m, Unit = "furlong" }), "unit-unknown");
        // 83 lbf·in × 0.1129848… (NIST SP 811) = 9.3777 N·m.
        Must(await bench.Record(number, 7, asSpecified with { Pass = 2, Bolt = 1, Value = 83, Unit = "lbf·in" }));
        var results = (await bench.View(number)).Steps.Single(s => s.Step == 7).Results;
        Assert.Equal((9.3777m, "N·m"), (results[^1].Value, results[^1].Unit));
        Assert.False((await bench.View(number)).Steps.Single(s => s.Step == 7).Recorded);
    }

    [Fact]
    public async Task A_tool_out_of_calibration_or_out_of_range_is_refused()
    {
        await using var bench = await New(databases);
        await bench.Plant.Good("tools", "tool,description,low,high,unit,calibrated_on,due_on\nW-1,Wrench,2,20,Nm,today-300,today-1\nW-2,Big wrench,20,100,Nm,today-10,today+300\nW-3,Wrench,2,20,Nm,today-10,today\n");
        var number = await bench.Underway();
        await bench.Preliminaries(number);
        Assert.NotNull((await bench.Record(number, 7, asSpecified with { Pass = 1, Tool = "W-1" })).Refusal);
        Assert.NotNull((await bench.Record(number, 7, asSpecified with { Pass = 1, Tool = "W-2" })).Refusal);
        Refused(await bench.Record(number, 7, asSpecified with { Pass = 1, Tool = "W-9" }), "tool-unknown");
        Must(await bench.Record(number, 7, asSpecified with { Pass = 1, Tool = "W-3" }));
    }

    [Fact]
    public async Task A_rejected_part_takes_its_spare_and_without_one_goes_short_and_pauses_the_work()
    {
        await using var bench = await New(databases);
        await bench.Opened("P-1");
        var number = await bench.Picked("P-2");
        Must(await new StageOrder(bench.Desk).Run(bench.Planner, number, null,
            [new LineRelease("C", "x"), new LineRelease("E", "x"), new LineRelease("Q", "one spare is enough")], Ct));
        Must(await new StartOrder(bench.Desk).Run(bench.Technician, number, null, Ct));
        await bench.Preliminaries(number);
        var replace = asSpecified with { Decision = CarryOverDecision.Replace };
        Must(await bench.Record(number, 6, replace));
        Assert.Null((await bench.View(number)).Paused);
        Must(await bench.Record(number, 6, replace));
        var order = await bench.View(number);
        Assert.Contains("spare of Q", order.Paused, StringComparison.Ordinal);
        Assert.Equal((2m, 1m, 1m), order.Demand.Where(l => l.Source == LineSource.CarriedOver).Select(l => (l.Required, l.Picked, l.Short)).Single());
        Must(await new ResumeOrder(bench.Desk).Run(bench.Technician, number, Ct));
        Refused(await new ResumeOrder(bench.Desk).Run(bench.Technician, number, Ct), "order-state");
        Refused(await new PauseOrder(bench.Desk).Run(bench.Technician, number, "", Ct), "reason-missing");
        Must(await new PauseOrder(bench.Desk).Run(bench.Technician, number, "lunch", Ct));
    }

    [Fact]
    public async Task A_correction_points_at_what_it_corrects_and_nothing_is_overwritten()
    {
        await using var bench = await New(databases);
        var number = await bench.Underway();
        Must(await bench.Record(number, 1, new StepInput(StepOutcome.NotAsSpecified) { Note = "card missing" }));
        Refused(await bench.Record(number, 2, asSpecified), "preliminary-order");
        var wrong = (await bench.View(number)).Steps[0].Results.Single();
        Must(await bench.Record(number, 1, asSpecified with { Corrects = wrong.Id, Note = "card found" }));
        var step = (await bench.View(number)).Steps[0];
        Assert.Equal([true, false], step.Results.Select(r => r.Corrected));
        Assert.False(step.Deviates);
        Must(await bench.Record(number, 2, asSpecified));
    }

    [Fact]
    public async Task A_planner_accepts_a_deviation_by_reason_and_it_stays_on_record()
    {
        await using var bench = await New(databases);
        var number = await bench.Underway();
        Must(await bench.Record(number, 1, new StepInput(StepOutcome.NotAsSpecified) { Note = "glasses scratched" }));
        Refused(await new AcceptDeviation(bench.Desk).Run(bench.Technician, number, 1, "fine", Ct), "not-allowed");
        Refused(await new AcceptDeviation(bench.Desk).Run(bench.Planner, number, 2, "fine", Ct), "nothing-to-accept");
        Must(await new AcceptDeviation(bench.Desk).Run(bench.Planner, number, 1, "spare glasses used", Ct));
        var step = (await bench.View(number)).Steps[0];
        Assert.Equal(("Petra Planner", false), (step.AcceptedBy, step.Deviates));
        Assert.Equal(StepOutcome.NotAsSpecified, step.Results.Single().Outcome);
        Must(await bench.Record(number, 2, asSpecified));
    }
}
