using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.Imports;

public sealed class PumpsImportTests(TestDatabase databases)
{
    const string Header = "tag,serial,model,area,zone,ex_group,temperature_class,supply_kind,supply_volts,cable_m,cable_mm2,fluid,fluid_temp_c,criticality,sensing_rod,strokes_per_pulse,commissioned_on\n";

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    async Task<ImportBench> Plant()
    {
        var bench = await ImportBench.New(databases);
        await bench.Good("fluids", "fluid,hazard,approved,refused,ignition_c,bonding\nBrine,salty,PTFE+EPDM,AU,,no\n");
        await bench.Good("pump-models", "model,description,control,sensing_rod,displacement_ml,ports\nDunlin,Small,pilotAir,yes,280,exhaust=NPT 1/2 female\nHeron,Big,solenoid,,,\n");
        return bench;
    }

    static async Task<Dictionary<string, string?>> Standing(ImportBench bench)
    {
        await using var db = bench.Db();
        return (await (from pump in db.Pumps
                      join position in db.Positions on pump.PositionId equals position.Id into at
                      from position in at.DefaultIfEmpty()
                      select new { pump.Serial, Tag = (string?)position!.Tag }).ToListAsync(Ct)).ToDictionary(p => p.Serial, p => (string?)p.Tag);
    }

    [Fact]
    public async Task A_position_and_its_pump_are_kept_apart()
    {
        await using var bench = await Plant();
        await bench.Good("pumps", Header + "LH-01,M-1,Dunlin,Leach hall,21,IIIC,T120°C,dc,24,32,0.75,Brine,60,7,yes,2,today-14\n");
        await using var db = bench.Db();
        var position = await db.Positions.SingleAsync(Ct);
        Assert.Equal(("Leach hall", Zone.Dust21, "IIIC", "T120°C", SupplyKind.Dc), (position.Area, position.Zone, position.ExGroup, position.TemperatureClass, position.SupplyKind));
        Assert.Equal((24m, 32m, 0.75m, 60m, 7), (position.SupplyVolts, position.CableM, position.CableMm2, position.FluidTempC, position.Criticality));
        Assert.NotNull(position.FluidId);
        var pump = await db.Pumps.SingleAsync(Ct);
        Assert.Equal((position.Id, true, 2, new DateOnly(2026, 2, 16)), (pump.PositionId, pump.SensingRod, pump.StrokesPerPulse, pump.CommissionedOn));
    }

    [Fact]
    public async Task A_later_file_keeps_what_it_does_not_name_and_counts_the_version_of_what_it_changes()
    {
        await using var bench = await Plant();
        await bench.Good("pumps", Header + "LH-01,M-1,Dunlin,Leach hall,none,,,dc,24,32,0.75,Brine,60,7,yes,2,2020-01-31\nLH-02,M-2,Dunlin,,,,,,,,,,,5,,,\n");
        await bench.Good("pumps", "tag,serial,model,criticality,zone\nLH-01,M-1,Dunlin,8,\nLH-02,M-2,Dunlin,5,\n");
        await using var db = bench.Db();
        var position = await db.Positions.SingleAsync(p => p.Tag == "LH-01", Ct);
        Assert.Equal((8, null, "Leach hall", 24m, 2L), (position.Criticality, position.Zone, position.Area, position.SupplyVolts, position.Version));
        Assert.Equal(1L, (await db.Positions.SingleAsync(p => p.Tag == "LH-02", Ct)).Version);
        Assert.True((await db.Pumps.SingleAsync(p => p.Serial == "M-1", Ct)).SensingRod);
    }

    [Fact]
    public async Task A_spare_pump_swapped_in_sends_the_old_one_to_the_store_with_its_history()
    {
        await using var bench = await Plant();
        await bench.Good("pumps", "tag,serial,model,criticality\nLH-01,M-1,Dunlin,5\n");
        var report = await bench.Good("pumps", "tag,serial,model,criticality\nLH-01,M-2,Heron,5\n");
        Assert.Equal("Pump M-1 no longer stands at LH-01. It is recorded as standing in the store.", Assert.Single(report.Warnings));
        Assert.Equal(new Dictionary<string, string?> { ["M-1"] = null, ["M-2"] = "LH-01" }, await Standing(bench));
        await using var db = bench.Db();
        Assert.Equal("Taken from LH-01 to the store by import.", (await db.PumpChanges.SingleAsync(Ct)).What);
    }

    [Fact]
    public async Task Two_pumps_change_places_in_one_file()
    {
        await using var bench = await Plant();
        await bench.Good("pumps", "tag,serial,model,criticality\nLH-01,M-1,Dunlin,5\nLH-02,M-2,Dunlin,5\n");
        await bench.Good("pumps", "tag,serial,model,criticality\nLH-01,M-2,Dunlin,5\nLH-02,M-1,Dunlin,5\n");
        Assert.Equal(new Dictionary<string, string?> { ["M-1"] = "LH-02", ["M-2"] = "LH-01" }, await Standing(bench));
    }

    [Fact]
    public async Task A_serial_that_stands_elsewhere_and_is_not_moved_is_refused()
    {
        await using var bench = await Plant();
        await bench.Good("pumps", "tag,serial,model,criticality\nLH-01,M-1,Dunlin,5\n");
        Assert.Equal("Pump M-1 stands at LH-01. Say in the same file which pump stands there now, or take it from there first.",
            await bench.BadCell("pumps", "tag,serial,model,criticality\nLH-02,M-1,Dunlin,5\n", 1, "serial"));
        await bench.BadCell("pumps", "tag,serial,model,criticality\nLH-03,M-3,Dunlin,5\nLH-04,M-3,Dunlin,5\n", 2, "serial");
        Assert.Equal(new Dictionary<string, string?> { ["M-1"] = "LH-01" }, await Standing(bench));
    }

    [Theory]
    [InlineData("LH-01,M-1,Gannet,,,,,,,,,,,5,,,", "model")]
    [InlineData("LH-01,M-1,Dunlin,,3,,,,,,,,,5,,,", "zone")]
    [InlineData("LH-01,M-1,Dunlin,,1,IID,,,,,,,,5,,,", "ex_group")]
    [InlineData("LH-01,M-1,Dunlin,,1,IIC,T9,,,,,,,5,,,", "temperature_class")]
    [InlineData("LH-01,M-1,Dunlin,,,,,acdc,,,,,,5,,,", "supply_kind")]
    [InlineData("LH-01,M-1,Dunlin,,,,,,0,,,,,5,,,", "supply_volts")]
    [InlineData("LH-01,M-1,Dunlin,,,,,,,,,Acid,,5,,,", "fluid")]
    [InlineData("LH-01,M-1,Dunlin,,,,,,,,,,,11,,,", "criticality")]
    [InlineData("LH-01,M-1,Dunlin,,,,,,,,,,,,,,", "criticality")]
    [InlineData("LH-01,M-1,Dunlin,,,,,,,,,,,5,perhaps,,", "sensing_rod")]
    [InlineData("LH-01,M-1,Dunlin,,,,,,,,,,,5,,,31.01.2020", "commissioned_on")]
    [InlineData("LH-01,,Dunlin,,,,,,,,,,,5,,,", "serial")]
    public async Task A_bad_cell_is_refused_and_nothing_written(string row, string column)
    {
        await using var bench = await Plant();
        await bench.BadCell("pumps", Header + row + "\n", 1, column);
        Assert.Empty(await Standing(bench));
    }

    [Fact]
    public async Task Fluids_and_models_read_their_lists()
    {
        await using var bench = await Plant();
        await using var db = bench.Db();
        var fluid = await db.Fluids.SingleAsync(Ct);
        Assert.Equal(["PTFE", "EPDM"], fluid.Approved);
        Assert.Equal(["AU"], fluid.Refused);
        Assert.False(fluid.Bonding);
        Assert.Null((await db.PumpModels.SingleAsync(m => m.Code == "Heron", Ct)).SensingRodAvailable);
        await bench.BadCell("fluids", "fluid,approved,refused\nBrine,PTFE+FKM,ptfe\n", 1, "refused");
        await bench.BadCell("pump-models", "model,control\nDunlin,steam\n", 1, "control");
        await bench.BadCell("pump-models", "model,control,ports\nDunlin,pilotAir,exhaust=NPT 1/2 female; exhaust=NPT 1/4 female\n", 1, "ports");
    }

    [Fact]
    public async Task A_fitted_kit_goes_onto_the_pump_that_stands_at_the_tag()
    {
        await using var bench = await Plant();
        await bench.Good("pumps", "tag,serial,model,criticality,commissioned_on\nLH-01,M-1,Dunlin,5,2020-05-04\n");
        await bench.Good("parts", "part,description,unit\nK-1,Kit,set\nP-1,Plug,each\n");
        await bench.Good("kits", "kit,revision,line,part,quantity,source\nK-1,1,1,P-1,1,inTheBox\nK-1,2,1,P-1,2,inTheBox\n");
        Assert.Single((await bench.Good("fitted", "tag,kit,revision\nLH-01,K-1,1\n")).Warnings);
        await bench.Good("fitted", "tag,kit,revision,fitted_on\nLH-01,K-1,2,2021-06-05\n");
        await using var db = bench.Db();
        var fitted = await db.FittedKits.SingleAsync(Ct);
        Assert.Equal(new DateOnly(2021, 6, 5), fitted.FittedOn);
        Assert.Equal(2, (await db.KitRevisions.SingleAsync(r => r.Id == fitted.KitRevisionId, Ct)).Number);
        await bench.BadCell("fitted", "tag,kit,revision\nLH-09,K-1,1\n", 1, "tag");
        await bench.BadCell("fitted", "tag,kit,revision\nLH-01,K-1,3\n", 1, "revision");
    }
}
