using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.Imports;

public sealed class PeopleImportTests(TestDatabase databases)
{
    static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task People_are_added_and_updated_by_name()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("crews", "crew,people,hours_per_week,hourly_rate\nFitters,3,108,46\n");
        await bench.Good("people", "name,roles,crew\nMaura,planner+manager,Fitters\nNed,storeroom,\n");
        await bench.Good("people", "name,roles\nMaura,technician\n");
        await using var db = bench.Db();
        var maura = await db.People.SingleAsync(p => p.Name == "Maura", Ct);
        Assert.Equal((Roles.Technician, "Fitters"), (maura.Roles, maura.Crew));
        Assert.Null((await db.People.SingleAsync(p => p.Name == "Ned", Ct)).Crew);
    }

    [Fact]
    public async Task A_crew_that_is_not_there_yet_is_a_warning()
    {
        await using var bench = await ImportBench.New(databases);
        var report = await bench.Good("people", "name,roles,crew\nMaura,planner,Night shift\n");
        Assert.StartsWith("There is no crew Night shift yet.", Assert.Single(report.Warnings), StringComparison.Ordinal);
        await using var db = bench.Db();
        Assert.Equal("Night shift", (await db.People.SingleAsync(p => p.Name == "Maura", Ct)).Crew);
    }

    [Theory]
    [InlineData("Maura,boss", "roles")]
    [InlineData("Maura,", "roles")]
    [InlineData(",planner", "name")]
    [InlineData("bootstrap,planner", "name")]
    [InlineData("IRIS IMPORTS,planner", "name")]
    public async Task Names_and_roles_that_cannot_be_are_refused(string row, string column)
    {
        await using var bench = await ImportBench.New(databases);
        await bench.BadCell("people", $"name,roles\n{row}\n", 1, column);
    }

    [Fact]
    public async Task The_last_administrator_who_can_sign_in_stays()
    {
        await using var bench = await ImportBench.New(databases);
        await using (var db = bench.Db())
        {
            (await db.People.SingleAsync(Ct)).Demo = true;
            await db.SaveChangesAsync(Ct);
        }
        Assert.Equal("Nobody who can sign in would be administrator any more. Leave the role with one of them.",
            await bench.BadCell("people", "name,roles\nIris Imports,planner\nMaura,administrator\n", 0, "roles"));
    }

    [Fact]
    public async Task Plant_settings_are_checked_and_unknown_ones_kept()
    {
        await using var bench = await ImportBench.New(databases);
        var report = await bench.Good("plant", "key,value\nname,Skerrow\nspare_risk,0.1\nmotto,Slowly\n");
        Assert.Equal("The setting motto means nothing here. It is kept as it is.", Assert.Single(report.Warnings));
        await bench.Good("plant", "key,value\nname,Other\n");
        await bench.BadCell("plant", "key,value\nspare_risk,2\n", 1, "value");
        await bench.BadCell("plant", "key,value\ntime_zone,Nowhere/Land\n", 1, "value");
        await bench.BadCell("plant", "key,value\nname,\n", 1, "value");
        await using var db = bench.Db();
        Assert.Equal(["motto=Slowly", "name=Other", "spare_risk=0.1"], (await db.PlantSettings.ToListAsync(Ct)).Select(s => $"{s.Key}={s.Value}").Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Today_is_the_day_of_the_plant()
    {
        await using var bench = await ImportBench.New(databases);
        bench.Clock.Now = new DateTimeOffset(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);
        await bench.Good("plant", "key,value\ntime_zone,Pacific/Kiritimati\n");
        await bench.Good("tools", "tool,calibrated_on,due_on\nTQ-1,today,today+14\n");
        await using var db = bench.Db();
        var tool = await db.Tools.SingleAsync(Ct);
        Assert.Equal((new DateOnly(2026, 3, 3), new DateOnly(2026, 3, 17)), (tool.CalibratedOn, tool.DueOn));
    }

    [Fact]
    public async Task Crews_and_tools_refuse_what_cannot_be()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.BadCell("crews", "crew,people\nFitters,-1\n", 1, "people");
        await bench.BadCell("crews", "crew,hourly_rate\nFitters,4x\n", 1, "hourly_rate");
        await bench.BadCell("tools", "tool,low,high\nTQ-1,25,5\n", 1, "low");
        await bench.BadCell("tools", "tool,calibrated_on,due_on\nTQ-1,today,today-1\n", 1, "due_on");
    }
}
