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
}
