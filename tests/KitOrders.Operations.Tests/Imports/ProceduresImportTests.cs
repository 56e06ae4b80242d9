using KitOrders.Rules.Kits;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.Imports;

public sealed class ProceduresImportTests(TestDatabase databases)
{
    const string Header = "procedure,revision,step,part_of,kind,text,signal_word,hazard,consequence,avoid,bolts,sequence,target,low,high,unit,tolerance_pct,passes,hold_point,part,minutes\n";
    const string Steps = "P-1,1,1,preliminary,instruction,Stop: the pump,WARNING,Pressure,It hurts,Wait,,,,,,,,,yes,,5\n"
        + "P-1,1,2,main,torque,Tighten,,,,,6,star,54,,,Nm,8,2,,,\n"
        + "P-1,1,3,closeUp,functionTest,Run it,,,,,,,,,,,,,,,\n";

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_revision_arrives_released_and_tells_what_energy_steps_it_lacks()
    {
        await using var bench = await ImportBench.New(databases);
        var report = await bench.Good("procedures", Header + Steps);
        Assert.Contains(report.Warnings, w => w.StartsWith("Procedure P-1 revision 1: No preliminary step says \"Isolate:\"", StringComparison.Ordinal));
        Assert.DoesNotContain(report.Warnings, w => w.Contains("function test", StringComparison.Ordinal));
        await using var db = bench.Db();
        var revision = await db.ProcedureRevisions.Include(r => r.Steps).SingleAsync(Ct);
        Assert.Equal((RevisionState.Released, 3), (revision.State, revision.Steps.Count));
        var torque = revision.Steps.Single(s => s.Number == 2);
        Assert.Equal((StepKind.Torque, 6, BoltSequence.Star, 54m, 8m, 2), (torque.Kind, torque.Bolts, torque.Sequence, torque.Target, torque.TolerancePct, torque.Passes));
        Assert.True(revision.Steps.Single(s => s.Number == 1).HoldPoint);
    }

    [Fact]
    public async Task A_missing_function_test_is_a_warning()
    {
        await using var bench = await ImportBench.New(databases);
        var report = await bench.Good("procedures", Header + Steps.Replace("functionTest", "check", StringComparison.Ordinal));
        Assert.Contains(report.Warnings, w => w.Contains("No step is a function test", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("preliminary")]
    [InlineData("main")]
    [InlineData("closeUp")]
    public async Task Each_part_of_a_procedure_needs_a_step(string missing)
    {
        await using var bench = await ImportBench.New(databases);
        var rows = string.Concat(Steps.Split('\n').Where(r => r.Length > 0 && !r.Contains($",{missing},", StringComparison.Ordinal)).Select(r => r + "\n"));
        await bench.BadCell("procedures", Header + rows, 1, "part_of");
        await using var db = bench.Db();
        Assert.False(await db.Procedures.AnyAsync(Ct));
    }

    [Fact]
    public async Task A_released_revision_may_be_named_again_and_never_changed_and_the_highest_is_current()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("procedures", Header + Steps);
        await bench.Good("procedures", Header + Steps);
        Assert.Contains("is released and cannot be changed", await bench.BadCell("procedures", Header + Steps.Replace("Run it", "Run it twice", StringComparison.Ordinal), 3, "revision"), StringComparison.Ordinal);
        await bench.Good("procedures", Header + Steps.Replace("P-1,1,", "P-1,2,", StringComparison.Ordinal));
        await using var db = bench.Db();
        Assert.Equal([(1, RevisionState.Superseded), (2, RevisionState.Released)], (await db.ProcedureRevisions.OrderBy(r => r.Number).ToListAsync(Ct)).Select(r => (r.Number, r.State)));
    }

    [Theory]
    [InlineData("P-1,1,2,main,torque,Tighten,,,,,6,spiral,54,,,Nm,8,2,,,", "sequence")]
    [InlineData("P-1,1,2,main,reading,Read it,,,,,,,,5,3,bar,,,,,", "low")]
    [InlineData("P-1,1,2,main,dance,Dance,,,,,,,,,,,,,,,", "kind")]
    [InlineData("P-1,1,2,middle,check,Look,,,,,,,,,,,,,,,", "part_of")]
    [InlineData("P-1,1,2,main,check,,,,,,,,,,,,,,,,", "text")]
    [InlineData("P-1,1,2,main,check,Look,,,,,,,,,,,,,,P-9,", "part")]
    public async Task A_step_that_cannot_be_is_refused(string row, string column)
    {
        await using var bench = await ImportBench.New(databases);
        var rows = Steps.Split('\n');
        var errors = await bench.Bad("procedures", Header + rows[0] + "\n" + row + "\n" + rows[2] + "\n");
        Assert.Contains(errors, e => e.Row == 2 && e.Column == column);
    }

    [Theory]
    [InlineData("P-1,1,2,main,torque,Tighten,,,,,6,star,,,,Nm,8,2,,,", "The torque of step 2 needs a target")]
    [InlineData("P-1,1,2,main,reading,Read it,,,,,,,,,,,,,,,", "The reading of step 2 needs a unit")]
    [InlineData("P-1,1,2,main,check,Look,DANGER,,,,,,,,,,,,,,", "The caution of step 2 lacks")]
    [InlineData("P-1,1,2,main,carryOver,Judge it,,,,,,,,,,,,,,,", "Step 2 decides on a carried-over part.")]
    public async Task What_only_the_editor_refuses_is_a_warning(string row, string sentence)
    {
        await using var bench = await ImportBench.New(databases);
        var rows = Steps.Split('\n');
        var report = await bench.Good("procedures", Header + rows[0] + "\n" + row + "\n" + rows[2] + "\n");
        Assert.Contains(report.Warnings, w => w.StartsWith("Procedure P-1 revision 1: " + sentence, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_job_names_its_procedure_and_kits()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("procedures", Header + Steps);
        await bench.Good("parts", "part,description,unit\nLK-20,Kit,set\nCK-11,Kit,set\nQ-1,Plug,each\n");
        await bench.Good("kits", "kit,revision,line,part,quantity,source\nLK-20,1,1,Q-1,1,inTheBox\nCK-11,1,1,Q-1,1,inTheBox\n");
        await bench.Good("crews", "crew\nFitters\n");
        await bench.Good("jobs", "job,description,procedure,kits,crew,hours\nLEAK,Fit it,P-1,LK-20*2+CK-11,Fitters,3.5\nLOOK,Inspect,P-1,,,\n");
        await bench.Good("jobs", "job,description,procedure,kits\nLEAK,Fit it,P-1,LK-20*3\n");
        await using var db = bench.Db();
        var job = await db.Jobs.Include(j => j.Kits).SingleAsync(j => j.Code == "LEAK", Ct);
        Assert.Equal((3.5m, "Fitters"), (job.Hours, job.Crew));
        Assert.Equal(3m, Assert.Single(job.Kits).Quantity);
        foreach (var (row, column) in new[]
        {
            ("LEAK,Fit it,P-9,LK-20", "procedure"), ("LEAK,Fit it,P-1,LK-99", "kits"), ("LEAK,Fit it,P-1,LK-20*0", "kits"),
            ("LEAK,Fit it,P-1,LK-20*1.5", "kits"), ("LEAK,Fit it,P-1,LK-20+LK-20", "kits"), ("LEAK,,P-1,LK-20", "description"), ("LE AK,Fit it,P-1,LK-20", "job"),
        })
            await bench.BadCell("jobs", "job,description,procedure,kits\n" + row + "\n", 1, column);
        Assert.Contains("has no released revision yet", Assert.Single((await bench.Good("jobs", "job,description,procedure,kits\nX,Odd,P-1,Q-1\n")).Warnings), StringComparison.Ordinal);
    }
}
