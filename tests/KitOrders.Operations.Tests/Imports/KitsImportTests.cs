using KitOrders.Rules.Kits;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.Imports;

public sealed class KitsImportTests(TestDatabase databases)
{
    const string Header = "kit,revision,line,part,quantity,source,spare_policy,reject_rate,wraps,wraps_for,buildable\n";

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    async Task<ImportBench> Plant()
    {
        var bench = await ImportBench.New(databases);
        await bench.Good("parts", "part,description,unit,thread\nK-1,Kit,set,\nK-2,Assembly,set,\nP-1,Plug,each,NPT 1/4 male\nP-2,Seal,each,\nT-1,Tape,m,\n");
        await bench.Good("pump-models", "model,control,ports\nDunlin,pilotAir,exhaust=NPT 1/2 female\nDunlin-S,solenoid,\n");
        return bench;
    }

    static async Task<List<(int Number, RevisionState State)>> Revisions(ImportBench bench)
    {
        await using var db = bench.Db();
        return [.. (await db.KitRevisions.OrderBy(r => r.Number).ToListAsync(Ct)).Select(r => (r.Number, r.State))];
    }

    [Fact]
    public async Task A_revision_arrives_released_with_its_lines()
    {
        await using var bench = await Plant();
        await bench.Good("kits", Header + "K-1,1,2,P-2,4,carriedOver,byRate,0.1,,,\nK-1,1,1,P-1,2,inTheBox,,,,,yes\nK-1,1,3,T-1,1,shopSupply,,,3,1+2,\n");
        await using var db = bench.Db();
        var revision = await db.KitRevisions.Include(r => r.Lines).SingleAsync(Ct);
        Assert.Equal((RevisionState.Released, new DateOnly(2026, 3, 2), false), (revision.State, revision.ReleasedOn, revision.Buildable));
        var lines = revision.Lines.OrderBy(l => l.Number).ToList();
        Assert.Equal((2m, LineSource.InTheBox), (lines[0].Quantity, lines[0].Source));
        Assert.Equal((SparePolicy.ByRate, 0.1m), (lines[1].SparePolicy, lines[1].RejectRate));
        Assert.Equal(3m, lines[2].Wraps);
        Assert.Equal([1, 2], lines[2].WrapsFor);
    }

    [Fact]
    public async Task Buildable_is_read_on_the_first_row_and_said_so()
    {
        await using var bench = await Plant();
        var report = await bench.Good("kits", Header + "K-1,1,1,P-1,2,inTheBox,,,,,yes\nK-1,1,2,P-2,1,inTheBox,,,,,no\n");
        Assert.Equal("Row 2: buildable is read on the first row of K-1 revision 1 only.", Assert.Single(report.Warnings));
        await using var db = bench.Db();
        Assert.True((await db.KitRevisions.SingleAsync(Ct)).Buildable);
    }

    [Fact]
    public async Task The_highest_revision_is_current_whatever_comes_when()
    {
        await using var bench = await Plant();
        await bench.Good("kits", Header + "K-1,2,1,P-1,1,inTheBox,,,,,\nK-1,3,1,P-1,1,inTheBox,,,,,\n");
        await bench.Good("kits", Header + "K-1,1,1,P-1,1,inTheBox,,,,,\n");
        Assert.Equal([(1, RevisionState.Superseded), (2, RevisionState.Superseded), (3, RevisionState.Released)], await Revisions(bench));
        await bench.Good("kits", Header + "K-1,10,1,P-1,1,inTheBox,,,,,\n");
        Assert.Equal([(1, RevisionState.Superseded), (2, RevisionState.Superseded), (3, RevisionState.Superseded), (10, RevisionState.Released)], await Revisions(bench));
    }

    [Fact]
    public async Task A_released_revision_may_be_named_again_and_never_changed()
    {
        await using var bench = await Plant();
        const string row = "K-1,1,1,P-1,2,inTheBox,,,,,yes\n";
        await bench.Good("kits", Header + row);
        await bench.Good("kits", Header + row);
        foreach (var (changed, column) in new[]
        {
            (row.Replace(",2,", ",3,", StringComparison.Ordinal), "revision"), (row.Replace("P-1", "P-2", StringComparison.Ordinal), "revision"),
            (row + "K-1,1,2,P-2,1,inTheBox,,,,,\n", "revision"), (row.Replace("yes", "no", StringComparison.Ordinal), "buildable"),
        })
            Assert.Contains("is released and cannot be changed", Assert.Single(await bench.Bad("kits", Header + changed), e => e.Column == column).Message, StringComparison.Ordinal);
        await using var db = bench.Db();
        Assert.Equal(2m, (await db.KitLines.SingleAsync(Ct)).Quantity);
    }

    [Theory]
    [InlineData("K-9,1,1,P-1,1,inTheBox,,,,,", "kit")]
    [InlineData("K-1,1.5,1,P-1,1,inTheBox,,,,,", "revision")]
    [InlineData("K-1,0,1,P-1,1,inTheBox,,,,,", "revision")]
    [InlineData("K-1,1,1,P-9,1,inTheBox,,,,,", "part")]
    [InlineData("K-1,1,1,P-1,0,inTheBox,,,,,", "quantity")]
    [InlineData("K-1,1,1,P-1,1.5,inTheBox,,,,,", "quantity")]
    [InlineData("K-1,1,1,P-1,1,elsewhere,,,,,", "source")]
    [InlineData("K-1,1,1,P-1,1,carriedOver,byRate,,,,", "reject_rate")]
    [InlineData("K-1,1,1,P-1,1,carriedOver,byRate,1.2,,,", "reject_rate")]
    [InlineData("K-1,1,1,P-1,1,carriedOver,some,,,,", "spare_policy")]
    [InlineData("K-1,1,1,T-1,1,shopSupply,,,3,7,", "wraps_for")]
    [InlineData("K-1,1,1,T-1,1,shopSupply,,,3,one,", "wraps_for")]
    [InlineData("K-1,1,1,K-1,1,inTheBox,,,,,", "part")]
    public async Task A_line_that_cannot_be_is_refused(string row, string column)
    {
        await using var bench = await Plant();
        var errors = await bench.Bad("kits", Header + row + "\n");
        Assert.Contains(errors, e => e.Row == 1 && e.Column == column);
        Assert.Empty(await Revisions(bench));
    }

    [Fact]
    public async Task The_spare_policy_is_read_on_carried_over_lines_only()
    {
        await using var bench = await Plant();
        await bench.Good("kits", Header + "K-1,1,1,P-1,1,inTheBox,all,,,,\n");
        await using var db = bench.Db();
        Assert.Equal(SparePolicy.None, (await db.KitLines.SingleAsync(Ct)).SparePolicy);
    }

    [Fact]
    public async Task A_cycle_is_refused_naming_its_path()
    {
        await using var bench = await Plant();
        await bench.Good("kits", Header + "K-1,1,1,K-2,1,inTheBox,,,,,\n");
        Assert.Contains("K-2 → K-1 → K-2", await bench.BadCell("kits", Header + "K-2,1,1,K-1,1,inTheBox,,,,,\n", 1, "part"), StringComparison.Ordinal);
        Assert.Equal([(1, RevisionState.Released)], await Revisions(bench));
    }

    [Theory]
    [InlineData("K-1,1,1,K-2,1,inTheBox,,,,,\nK-2,1,1,K-3,1,inTheBox,,,,,\n", "K-3,1,1,K-1,1,inTheBox,,,,,\n")]
    [InlineData("", "K-1,1,1,K-2,1,inTheBox,,,,,\nK-2,1,1,K-3,1,boughtSeparately,,,,,\nK-3,1,1,P-1,1,inTheBox,,,,,\nK-3,1,2,K-1,1,inTheBox,,,,,\n")]
    public async Task A_cycle_through_three_levels_is_refused_and_nothing_of_the_file_is_written(string before, string file)
    {
        await using var bench = await Plant();
        await bench.Good("parts", "part,description,unit\nK-3,Third kit,set\n");
        if (before.Length > 0)
            await bench.Good("kits", Header + before);
        var recorded = await Revisions(bench);
        var error = Assert.Single(await bench.Bad("kits", Header + file));
        Assert.Equal("part", error.Column);
        foreach (var kit in (string[])["K-1", "K-2", "K-3"])
            Assert.Contains(kit, error.Message, StringComparison.Ordinal);
        Assert.Equal(recorded, await Revisions(bench));
    }

    [Fact]
    public async Task A_cycle_that_only_an_old_revision_would_make_is_none()
    {
        await using var bench = await Plant();
        await bench.Good("kits", Header + "K-1,1,1,K-2,1,inTheBox,,,,,\nK-1,2,1,P-1,1,inTheBox,,,,,\n");
        await bench.Good("kits", Header + "K-2,1,1,K-1,1,inTheBox,,,,,\n");
    }

    [Fact]
    public async Task A_fit_attaches_to_a_released_revision_and_stays()
    {
        const string fits = "kit,revision,model,converts_to,needs_sensing_rod,ports,supply_kind,volts,volts_tolerance_pct,amps,ex_marking,materials,once,requires_kits,excludes_kits\n";
        await using var bench = await Plant();
        await bench.Good("kits", Header + "K-1,1,1,P-1,1,inTheBox,,,,,\n");
        const string row = "K-1,1,Dunlin,Dunlin-S,yes,exhaust=NPT 1/2 male,dc,24,10,0.25,Gb IIC T4,PTFE+FKM,yes,K-2,\n";
        await bench.Good("fits", fits + row);
        await bench.Good("fits", fits + row);
        await bench.BadCell("fits", fits + row.Replace("24", "48", StringComparison.Ordinal), 1, "revision");
        await bench.BadCell("fits", "kit,revision,model\nK-1,2,Dunlin\n", 1, "revision");
        await bench.BadCell("fits", "kit,revision,model\nK-1,1,Heron\n", 1, "model");
        await bench.BadCell("fits", "kit,revision,model,ports\nK-1,1,Dunlin-S,exhaust\n", 1, "ports");
        await bench.BadCell("fits", "kit,revision,model,ex_marking\nK-1,1,Dunlin-S,blue\n", 1, "ex_marking");
        await bench.BadCell("fits", "kit,revision,model,requires_kits\nK-1,1,Dunlin-S,K-8\n", 1, "requires_kits");
        await bench.Good("fits", "kit,revision,model\nK-1,1,Dunlin-S\n");
        await using var db = bench.Db();
        var fit = await db.KitFits.SingleAsync(f => f.Volts != null, Ct);
        Assert.Equal((true, 24m, 10m, 0.25m, "Gb IIC T4", true), (fit.NeedsSensingRod, fit.Volts, fit.VoltsTolerancePct, fit.Amps, fit.ExMarking, fit.Once));
        Assert.Equal(["PTFE", "FKM"], fit.Materials);
        Assert.Equal(["K-2"], fit.RequiresKits);
    }
}
