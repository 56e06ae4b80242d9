using System.Text;
using CsCheck;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Operations.Workbooks;
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
            // What is not there cannot differ: every file has rows, and as many as the demo's own where nothing happens to them.
            Assert.All(files, f => Assert.True(Rows(f.File, f.Bytes) > 0, $"{f.File} came out empty."));
            foreach (var whole in new[] { "bins", "parts", "alternates", "fluids", "pump-models", "kits", "fits", "procedures", "crews", "jobs", "tools" })
                Assert.Equal(Rows(whole, Encoding.UTF8.GetBytes(Demo(whole))), Rows(whole, files.Single(f => f.File == whole).Bytes));
            // The plant that has it all takes it once more and stays what it is.
            await other.Take(files.Where(f => f.File != "orders"), form);
            ExportBench.Same(files, await other.Everything(form), form);
        }
    }

    /// <summary>Rows of a file in either form.</summary>
    static int Rows(string file, byte[] bytes)
    {
        var errors = new ImportErrors();
        var spec = ImportFile.Specs.Single(s => s.File == file);
        return (PackedFile.Is(bytes) ? WorkbookRows.Read(bytes, spec, errors, default)!.Rows : CsvText.Rows(CsvText.Read(bytes, errors)!, int.MaxValue, errors)).Count - 1;
    }

    [Fact]
    public Task A_plant_made_at_random_comes_back_as_it_was_written_down() => Random(4);

    [Fact]
    [Trait("Length", "Long")]
    public Task Many_plants_made_at_random_come_back_as_they_were_written_down() => Random(100);

    Task Random(int cases) => Gen.Select(Gen.Int[0, 1_000_000], Gen.Int[1, 9]).SampleAsync(async (seed, size) =>
    {
        var plant = new RandomPlant(seed, size).Make();
        await using var written = await ImportBench.New(databases);
        foreach (var (file, text) in plant.Files)
            await written.Good(file, text);
        var text1 = await written.Everything(FileForm.Csv);
        foreach (var ((file, expected), (_, actual)) in plant.Files.OrderBy(f => ExportFile.Files.ToList().IndexOf(f.File)).Zip(text1))
            Assert.Equal(expected, Encoding.UTF8.GetString(actual));
        foreach (var form in Enum.GetValues<FileForm>())
        {
            await using var other = await ImportBench.New(databases);
            await other.Take(await written.Everything(form), form);
            ExportBench.Same(text1, await other.Everything(FileForm.Csv), FileForm.Csv);
        }
    }, iter: cases, threads: 1);
}
