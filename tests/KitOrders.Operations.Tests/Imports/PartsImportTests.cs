using KitOrders.Rules.Parts;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.Imports;

public sealed class PartsImportTests(TestDatabase databases)
{
    const string All = "part,description,unit,elastomers,unit_cost,lead_time_days,barcode,thread,handed_out_in,supplier\n";

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_part_is_kept_with_everything_the_row_says()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("parts", All + "V-1/2.x,\"Valve, small\",each,fkm+PTFE,12.5,28,4711,NPT 1/4 male,,Heron\n");
        await using var db = bench.Db();
        var part = await db.Parts.SingleAsync(Ct);
        Assert.Equal(("V-1/2.x", "Valve, small", Unit.Each, "FKM+PTFE"), (part.Number, part.Description, part.Unit, part.Elastomers));
        Assert.Equal((12.5m, 28, "4711", "NPT 1/4 male", null, "Heron"), (part.UnitCost, part.LeadTimeDays, part.Barcode, part.Thread, part.HandedOutIn, part.Supplier));
        Assert.True(await db.PartStocks.AnyAsync(s => s.PartId == part.Id, Ct));
    }

    [Fact]
    public async Task A_column_left_out_stays_and_an_empty_cell_is_not_recorded()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("parts", All + "P-1,One,each,NBR,3,5,B1,,2,Heron\nP-2,Two,m,,,,,,,\n");
        await bench.Good("parts", "unit_cost,part,description,unit\n,P-1,Other,each\n");
        await using var db = bench.Db();
        var part = await db.Parts.SingleAsync(p => p.Number == "P-1", Ct);
        Assert.Equal(("Other", null, "NBR", 5, "B1", 2m, "Heron"), (part.Description, part.UnitCost, part.Elastomers, part.LeadTimeDays, part.Barcode, part.HandedOutIn, part.Supplier));
        Assert.Equal(2, await db.Parts.CountAsync(Ct));
    }

    [Theory]
    [InlineData("P 1,One,each,,,,,,,", "part", "\"P 1\" cannot be a number here. Use letters A to Z, digits, \"-\", \".\" and \"/\" only.")]
    [InlineData("P-1,,each,,,,,,,", "description", "description is empty. It must be given.")]
    [InlineData("P-1,One,box,,,,,,,", "unit", "\"box\" cannot be taken: unit must be each, set, pair, roll, m, mm, g, kg, ml, l.")]
    [InlineData("P-1,One,each,XYZ,,,,,,", "elastomers", "\"XYZ\" is no elastomer code known here. Use ISO 1629 codes such as NBR, EPDM or FKM, joined by +.")]
    [InlineData("P-1,One,each,,\"1,5\",,,,,", "unit_cost", "\"1,5\" is not a number. Write digits with a decimal point and nothing between thousands, such as 1250.5.")]
    [InlineData("P-1,One,each,,-1,,,,,", "unit_cost", "-1 cannot be taken: unit_cost must be zero or more.")]
    [InlineData("P-1,One,each,,1.00001,,,,,", "unit_cost", "1.00001 has more than 4 decimals. Round it.")]
    [InlineData("P-1,One,each,,100000000000000,,,,,", "unit_cost", "100000000000000 cannot be taken: unit_cost must be zero or more.")]
    [InlineData("P-1,One,each,,,-3,,,,", "lead_time_days", "\"-3\" cannot be taken: lead_time_days must be a whole number from 0 to 3650.")]
    [InlineData("P-1,One,each,,,2.5,,,,", "lead_time_days", "\"2.5\" cannot be taken: lead_time_days must be a whole number from 0 to 3650.")]
    [InlineData("P-1,One,each,,,,,NPT 9/7,,", "thread", null)]
    [InlineData("P-1,One,each,,,,,,0,", "handed_out_in", "0 cannot be taken: handed_out_in must be above zero.")]
    public async Task A_bad_cell_is_refused_with_its_reason(string row, string column, string? sentence)
    {
        await using var bench = await ImportBench.New(databases);
        var said = await bench.BadCell("parts", All + row + "\n", 1, column);
        if (sentence is not null)
            Assert.Equal(sentence, said);
        await using var db = bench.Db();
        Assert.False(await db.Parts.AnyAsync(Ct));
    }

    [Fact]
    public async Task A_barcode_on_two_parts_is_a_warning()
    {
        await using var bench = await ImportBench.New(databases);
        var report = await bench.Good("parts", "part,description,unit,barcode\nP-1,One,each,77\nP-2,Two,each,77\n");
        Assert.Equal("The barcode 77 stands on P-1 and P-2: a scan cannot tell them apart.", Assert.Single(report.Warnings));
    }

    [Fact]
    public async Task The_unit_of_a_part_with_stock_stays()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("parts", "part,description,unit\nP-1,One,each\n");
        await bench.Good("bins", "bin,walk_order\nA1,1\n");
        await bench.Good("stock", "part,bin,lot,quantity,received_on\nP-1,A1,L1,4,today-3\n");
        await bench.BadCell("parts", "part,description,unit\nP-1,One,kg\n", 1, "unit");
    }

    [Fact]
    public async Task Alternates_name_two_recorded_parts()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("parts", "part,description,unit\nP-1,One,each\nP-2,Two,each\n");
        await bench.Good("alternates", "part,alternate,preference,both_ways\nP-1,P-2,3,yes\n");
        await bench.Good("alternates", "part,alternate,preference\nP-1,P-2,\n");
        await using var db = bench.Db();
        var alternate = await db.PartAlternates.SingleAsync(Ct);
        Assert.Equal((1, true), (alternate.Preference, alternate.BothWays));
        Assert.Equal("There is no part P-9. Import it with parts first, or correct it here.", await bench.BadCell("alternates", "part,alternate\nP-1,P-9\n", 1, "alternate"));
        await bench.BadCell("alternates", "part,alternate\nP-1,P-1\n", 1, "alternate");
        await bench.BadCell("alternates", "part,alternate,both_ways\nP-2,P-1,maybe\n", 1, "both_ways");
        await bench.Good("parts", "part,description,unit\nP-3,Three,set\n");
        await bench.BadCell("alternates", "part,alternate\nP-1,P-3\n", 1, "alternate");
    }

    [Fact]
    public async Task A_part_is_superseded_by_one_of_the_same_file_and_an_empty_cell_takes_it_back()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("parts", "part,description,unit,superseded_by\nP-1,One,each,P-2\nP-2,Two,each,\nP-3,Three,each,P-1\n");
        async Task<string> Said()
        {
            await using var db = bench.Db();
            return string.Join(" ", await (from p in db.Parts join s in db.Parts on p.SupersededById equals s.Id orderby p.Number select p.Number + ">" + s.Number).ToListAsync(Ct));
        }
        Assert.Equal("P-1>P-2 P-3>P-1", await Said());
        await bench.Good("parts", "part,description,unit\nP-1,One,each\n");
        Assert.Equal("P-1>P-2 P-3>P-1", await Said());
        await bench.Good("parts", "part,description,unit,superseded_by\nP-3,Three,each,\n");
        Assert.Equal("P-1>P-2", await Said());
    }

    [Fact]
    public async Task A_supersession_that_closes_or_leads_nowhere_is_refused_with_the_path()
    {
        await using var bench = await ImportBench.New(databases);
        const string Head = "part,description,unit,superseded_by\n";
        await bench.Good("parts", Head + "P-1,One,each,P-2\nP-2,Two,each,P-3\nP-3,Three,each,\nP-4,Four,m,\n");
        Assert.Contains("P-3 → P-1 → P-2 → P-3", await bench.BadCell("parts", Head + "P-3,Three,each,P-1\n", 1, "superseded_by"), StringComparison.Ordinal);
        await bench.BadCell("parts", Head + "P-3,Three,each,P-3\n", 1, "superseded_by");
        await bench.BadCell("parts", Head + "P-3,Three,each,P-9\n", 1, "superseded_by");
        await bench.BadCell("parts", Head + "P-3,Three,each,P-4\n", 1, "superseded_by");
    }
}
