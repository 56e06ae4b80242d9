using Xunit;

using System.Diagnostics;
using System.Globalization;
using System.Text;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Tests.Imports;

public sealed class LargeFilesTests(TestDatabase databases)
{
    [Fact]
    public async Task A_hundred_thousand_parts_import_in_seconds()
    {
        await using var bench = await ImportBench.New(databases);
        var csv = new StringBuilder("part,description,unit,elastomers,unit_cost,lead_time_days,barcode\n");
        for (var i = 1; i <= 100_000; i++)
            csv.Append(CultureInfo.InvariantCulture, $"P-{i},\"Screw, number {i}\",each,NBR,{i % 100}.25,{i % 60},B{i}\n");

        foreach (var (round, file) in new[] { ("added", csv.ToString()), ("named again", csv.ToString()), ("changed", csv.ToString().Replace(".25", ".75", StringComparison.Ordinal)) })
        {
            var time = Stopwatch.StartNew();
            await bench.Good("parts", file);
            TestContext.Current.TestOutputHelper!.WriteLine($"100,000 parts {round}: {time.Elapsed.TotalSeconds:0.0} s");
            Assert.True(time.Elapsed < TimeSpan.FromSeconds(60), $"{round}: {time.Elapsed}");
        }

        await using var db = bench.Db();
        Assert.Equal(100_000, await db.Parts.CountAsync(TestContext.Current.CancellationToken));
        Assert.Equal(0.75m, await db.Parts.MinAsync(p => p.UnitCost, TestContext.Current.CancellationToken));
    }

    /// <summary>As many rows as a file may have, out as a workbook and in again, and one that is stopped on its way.</summary>
    [Fact]
    [Trait("Length", "Long")]
    public async Task A_hundred_and_fifty_thousand_rows_go_out_as_a_workbook_and_come_in_again()
    {
        var ct = TestContext.Current.CancellationToken;
        await using var bench = await ImportBench.New(databases);
        var csv = new StringBuilder("part,description,unit,unit_cost,lead_time_days\n");
        for (var i = 1; i <= 150_000; i++)
            csv.Append(CultureInfo.InvariantCulture, $"P-{i},Screw {i},each,{i % 100}.25,{i % 60}\n");
        await bench.Good("parts", csv.ToString());
        var time = Stopwatch.StartNew();
        using var book = new MemoryStream();
        Assert.True((await new ExportFile(bench.Desk).Run(bench.Actor, "parts", FileForm.Xlsx, () => book, ct)).IsDone);
        TestContext.Current.TestOutputHelper!.WriteLine($"out: {time.Elapsed.TotalSeconds:0.0} s, {book.Length:N0} bytes");

        await using var other = await ImportBench.New(databases);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(ct);
        var begun = new Stopped(stop);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() =>
            new ImportFile(other.Desk).Run(new Call(other.Actor), "parts", FileForm.Xlsx, new MemoryStream(book.ToArray()), false, begun, stop.Token));
        await using (var db = other.Db())
            Assert.False(await db.Parts.AnyAsync(ct));
        time.Restart();
        var report = (await new ImportFile(other.Desk).Run(new Call(other.Actor), "parts", FileForm.Xlsx, new MemoryStream(book.ToArray()), false, null, ct)).Value;
        TestContext.Current.TestOutputHelper!.WriteLine($"in: {time.Elapsed.TotalSeconds:0.0} s");
        Assert.Equal((150_000, 150_000, 0), (report.Rows, report.Written, report.Errors.Count));
    }

    /// <summary>Stops the import in the middle of its rows.</summary>
    sealed class Stopped(CancellationTokenSource stop) : IProgress<ImportProgress>
    {
        public void Report(ImportProgress value)
        {
            if (value.Done >= 70_000)
                stop.Cancel();
        }
    }
}
