using KitOrders.Operations.Tests.Imports;
using Xunit;

namespace KitOrders.Operations.Tests.Exports;

/// <summary>What is taken out of one plant and brought into an empty one is the same content.</summary>
public sealed class RoundTripTests(TestDatabase databases)
{
    static string Demo(string file) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "seed-demo", file + ".csv"));

    [Fact]
    public async Task The_demo_plant_comes_back_byte_by_byte_in_both_forms()
    {
        await using var demo = await ImportBench.New(databases);
        foreach (var file in ImportFile.Files)
            await demo.Good(file.File, Demo(file.File));
        foreach (var form in Enum.GetValues<FileForm>())
        {
            var files = await demo.Everything(form);
            ExportBench.Same(files, await demo.Everything(form), form);
            await using var other = await ImportBench.New(databases);
            await other.Take(files, form);
            ExportBench.Same(files, await other.Everything(form), form);
            // The plant that has it all takes it once more and stays what it is.
            await other.Take(files.Where(f => f.File != "orders"), form);
            ExportBench.Same(files, await other.Everything(form), form);
        }
    }
}
