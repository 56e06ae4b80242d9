using KitOrders.Operations.Kits;
using KitOrders.Operations.People;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.Imports;

public sealed class DemoFilesTests(TestDatabase databases)
{
    static string Demo(string file) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "seed-demo", file + ".csv"));

    [Fact]
    public async Task All_demo_files_import_in_the_documented_order()
    {
        await using var bench = await ImportBench.New(databases);
        Assert.Equal(19, ImportFile.Files.Count);
        foreach (var file in ImportFile.Files)
            await bench.Good(file.File, Demo(file.File));
        await using var db = bench.Db();
        var states = await db.WorkOrders.GroupBy(o => o.State).Select(g => g.Key).ToListAsync(TestContext.Current.CancellationToken);
        Assert.Superset(new HashSet<OrderState> { OrderState.Draft, OrderState.Open, OrderState.Staged, OrderState.Underway, OrderState.Closed, OrderState.Cancelled }, states.ToHashSet());
        var refused = new List<string>();
        foreach (var revision in await db.KitRevisions.AsNoTracking().Include(r => r.Lines).Include(r => r.Fits).Where(r => r.State == RevisionState.Released).ToListAsync(TestContext.Current.CancellationToken))
        {
            var kit = (await db.Parts.FindAsync([revision.PartId], TestContext.Current.CancellationToken))!.Number;
            var checks = KitRelease.Judge(await ReleaseReading.Facts(db, kit, revision, TestContext.Current.CancellationToken));
            refused.AddRange(checks.SelectMany(c => c.Against).Select(f => $"{kit} {f.Code}"));
        }
        // It names an NPT fitting for models with BSP ports: suitability fails on those pumps, and the editor would not have released it.
        Assert.Equal(["LD-40 fit-thread"], refused.Distinct());
    }

    [Fact]
    public async Task A_load_that_was_cut_off_goes_on_with_the_next_file_and_one_that_ended_never_begins_again()
    {
        await using var bench = await ImportBench.Bare(databases);
        var ct = TestContext.Current.CancellationToken;
        var plant = new DemoPlant(bench.Desk);
        var begun = (await plant.Begin(ct)).Value;
        Assert.Empty(begun.Loaded);
        foreach (var file in new[] { "plant", "bins" })
            Assert.False((await new ImportFile(bench.Desk).Run(new Call(begun.Loader), file, Demo(file), dryRun: false, ct: ct)).Value.Refused);
        // Cut off in the middle of a file: nothing of it is kept.
        Assert.True((await new ImportFile(bench.Desk).Run(new Call(begun.Loader), "parts", "part,description,unit\nA,a,each\nB,b,furlong\n", dryRun: false, ct: ct)).Value.Refused);

        var again = (await plant.Begin(ct)).Value;
        Assert.Equal(begun.Loader.Person, again.Loader.Person);
        Assert.Equal(["bins", "plant"], again.Loaded.Order(StringComparer.Ordinal));
        Assert.True((await plant.End(again.Loader, ct)).IsDone);
        Assert.Equal("not-empty", (await plant.Begin(ct)).Refusal?.Code);
    }

    [Fact]
    public async Task Files_may_be_imported_again_the_next_day()
    {
        await using var bench = await ImportBench.New(databases);
        foreach (var file in ImportFile.Files.Where(f => f.File is not ("orders" or "happenings")))
            await bench.Good(file.File, Demo(file.File));
        bench.Clock.Now = bench.Clock.Now.AddDays(1);
        foreach (var file in ImportFile.Files.Where(f => f.File is not ("orders" or "happenings")))
            await bench.Good(file.File, Demo(file.File));
    }
}
