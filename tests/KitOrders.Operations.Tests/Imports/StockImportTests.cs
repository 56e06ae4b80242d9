using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.Imports;

public sealed class StockImportTests(TestDatabase databases)
{
    const string Header = "part,bin,lot,quantity,received_on,cured_on,unit_cost\n";

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    async Task<ImportBench> Plant()
    {
        var bench = await ImportBench.New(databases);
        await bench.Good("bins", "bin,walk_order\nA1,1\nA2,2\n");
        await bench.Good("parts", "part,description,unit,elastomers\nP-1,Screw,each,\nS-1,Seal,each,NBR\nS-2,Seal,each,FKM+NBR\nK-1,Kit,set,\nT-1,Tape,m,\nF-1,Liner,each,PTFE\n");
        await bench.Good("kits", "kit,revision,line,part,quantity,source\nK-1,1,1,S-1,2,inTheBox\nK-1,1,2,P-1,2,boughtSeparately\n");
        return bench;
    }

    static async Task<Lot> Lot(ImportBench bench, string number)
    {
        await using var db = bench.Db();
        return await db.Lots.SingleAsync(l => l.Number == number, Ct);
    }

    [Fact]
    public async Task A_first_quantity_is_a_receipt_and_a_later_one_a_count_difference()
    {
        await using var bench = await Plant();
        await bench.Good("stock", Header + "P-1,A1,L1,10,today-3,,2\nP-1,A2,L1,5,today-3,,2\n");
        await bench.Good("stock", Header + "P-1,A1,L1,7,today-3,,2\nP-1,A2,L1,5,today-3,,2\n");
        await using var db = bench.Db();
        var movements = (await db.Movements.OrderBy(m => m.Id).ToListAsync(Ct)).Select(m => (m.Kind, m.Quantity, m.OnHandAfter, m.UnitCost));
        Assert.Equal([(MovementKind.Receipt, 10m, 10m, 2m), (MovementKind.Receipt, 5m, 5m, 2m), (MovementKind.CountDifference, -3m, 7m, (decimal?)null)], movements);
        Assert.Equal(12m, await db.BinStocks.SumAsync(s => s.OnHand, Ct));
        Assert.Equal(2m, await db.PartStocks.Select(s => s.AverageCost).SingleAsync(c => c != null, Ct));
    }

    [Fact]
    public async Task Setting_a_bin_to_nothing_needs_a_lot_that_lies_there()
    {
        await using var bench = await Plant();
        await bench.Good("stock", Header + "P-1,A1,L1,10,today-3,,\n");
        await bench.Good("stock", Header + "P-1,A1,L1,0,today-3,,\n");
        await bench.BadCell("stock", Header + "P-1,A2,L1,0,today-3,,\n", 1, "quantity");
        await using var db = bench.Db();
        Assert.Equal(0m, (await db.BinStocks.SingleAsync(Ct)).OnHand);
        Assert.Equal(2, await db.Movements.CountAsync(Ct));
    }

    [Theory]
    // Group B (NBR) 7 years, group C (FKM) 10 years: ISO 2230:2002 as printed at
    // epidor.com/en/blog/storage-of-elastomers-according-to-din-7716-and-iso-2230.
    [InlineData("S-1", "2024-02-10", "2031-02-10")]
    [InlineData("S-1", "3Q24", "2031-09-30")]
    [InlineData("S-2", "3/2024", "2031-09-30")]
    [InlineData("K-1", "2024-02-29", "2031-02-28")]
    public async Task A_lot_gets_its_last_good_day_from_the_elastomers_in_it(string part, string cured, string last)
    {
        await using var bench = await Plant();
        await bench.Good("stock", Header + $"{part},A1,L1,4,today-3,{cured},\n");
        var lot = await Lot(bench, "L1");
        Assert.Equal(DateOnly.Parse(last, System.Globalization.CultureInfo.InvariantCulture), lot.GoodUntil);
        Assert.Null(lot.Quarantine);
    }

    [Theory]
    [InlineData("P-1")]
    [InlineData("F-1")]
    public async Task What_does_not_age_has_no_last_good_day(string part)
    {
        await using var bench = await Plant();
        await bench.Good("stock", Header + $"{part},A1,L1,4,today-3,,\n");
        var lot = await Lot(bench, "L1");
        Assert.Equal((null, null), (lot.GoodUntil, lot.Quarantine));
    }

    [Theory]
    [InlineData("S-1")]
    [InlineData("K-1")]
    public async Task An_elastomer_without_cure_date_is_quarantined_until_one_is_recorded(string part)
    {
        await using var bench = await Plant();
        var report = await bench.Good("stock", Header + $"{part},A1,L1,4,today-3,,\n");
        Assert.Equal($"Lot L1 of part {part} has no cure date, and NBR ages. It is quarantined until one is recorded.", Assert.Single(report.Warnings));
        Assert.Equal("No cure date is recorded, and NBR ages.", (await Lot(bench, "L1")).Quarantine);
        await bench.Good("stock", Header + $"{part},A1,L1,4,today-3,2Q25,\n");
        var lot = await Lot(bench, "L1");
        Assert.Equal((null, new DateOnly(2032, 6, 30)), (lot.Quarantine, lot.GoodUntil));
    }

    [Theory]
    [InlineData("P-9,A1,L1,4,today,,", "part")]
    [InlineData("P-1,A9,L1,4,today,,", "bin")]
    [InlineData("P-1,A1,,4,today,,", "lot")]
    [InlineData("P-1,A1,L1,-4,today,,", "quantity")]
    [InlineData("P-1,A1,L1,1.5,today,,", "quantity")]
    [InlineData("T-1,A1,L1,1.55555,today,,", "quantity")]
    [InlineData("P-1,A1,L1,4,today+1,,", "received_on")]
    [InlineData("P-1,A1,L1,4,,,", "received_on")]
    [InlineData("S-1,A1,L1,4,today,5Q24,", "cured_on")]
    [InlineData("S-1,A1,L1,4,today,2Q26,", "cured_on")]
    [InlineData("P-1,A1,L1,4,today,,-1", "unit_cost")]
    public async Task A_bad_cell_is_refused_and_no_stock_moves(string row, string column)
    {
        await using var bench = await Plant();
        await bench.BadCell("stock", Header + "P-1,A1,Good,4,today,,\n" + row + "\n", 2, column);
        await using var db = bench.Db();
        Assert.False(await db.Movements.AnyAsync(Ct));
        Assert.False(await db.Lots.AnyAsync(Ct));
    }

    [Fact]
    public async Task One_lot_has_one_cure_date_in_all_its_bins()
    {
        await using var bench = await Plant();
        await bench.BadCell("stock", Header + "S-1,A1,L1,4,today,1Q25,\nS-1,A2,L1,4,today,2Q25,\n", 2, "lot");
    }

    [Fact]
    public async Task Incoming_lines_are_updated_and_what_has_come_stays()
    {
        await using var bench = await Plant();
        await bench.Good("incoming", "reference,part,quantity,promised_on,supplier\nPO-1,P-1,10,today+14,Heron\n");
        await using (var db = bench.Db())
        {
            (await db.Incomings.SingleAsync(Ct)).Received = 4;
            await db.SaveChangesAsync(Ct);
        }
        await bench.Good("incoming", "reference,part,quantity,promised_on\nPO-1,P-1,12,\n");
        Assert.Contains("have come already", await bench.BadCell("incoming", "reference,part,quantity\nPO-1,P-1,3\n", 1, "quantity"), StringComparison.Ordinal);
        await bench.BadCell("incoming", "reference,part,quantity\nPO-1,P-1,0\n", 1, "quantity");
        await bench.BadCell("incoming", "reference,part,quantity\nPO-1,P-8,1\n", 1, "part");
        await bench.BadCell("incoming", "reference,part,quantity,promised_on\nPO-1,P-1,12,soon\n", 1, "promised_on");
        await using var after = bench.Db();
        var line = await after.Incomings.SingleAsync(Ct);
        Assert.Equal((12m, 4m, null, "Heron"), (line.Quantity, line.Received, line.PromisedOn, line.Supplier));
    }
}
