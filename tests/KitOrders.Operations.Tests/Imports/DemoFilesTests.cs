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
