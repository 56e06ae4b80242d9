using Xunit;

namespace KitOrders.Operations.Tests.Imports;

public sealed class DemoFilesTests(TestDatabase databases)
{
    static string Demo(string file) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "seed-demo", file + ".csv"));

    [Fact]
    public async Task All_demo_files_import_in_the_documented_order_and_again_the_next_day()
    {
        await using var bench = await ImportBench.New(databases);
        foreach (var file in ImportFile.Files)
            await bench.Good(file.File, Demo(file.File));
        bench.Clock.Now = bench.Clock.Now.AddDays(1);
        foreach (var file in ImportFile.Files)
            await bench.Good(file.File, Demo(file.File));
    }
}
