using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.Imports;

public sealed class OrdersImportTests(TestDatabase databases)
{
    const string Header = "number,pump,job,needed_by,planned_fit_on,work_class,state\n";

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    async Task<ImportBench> Plant()
    {
        var bench = await ImportBench.New(databases);
        await bench.Good("bins", "bin,walk_order\nA1,1\n");
        await bench.Good("parts", "part,description,unit\nK-1,Kit,set\nQ-1,Plug,each\n");
        await bench.Good("pump-models", "model,control\nDunlin,pilotAir\nHeron,pilotAir\n");
        await bench.Good("pumps", "tag,serial,model,criticality,zone\nLH-1,M-1,Dunlin,9,none\nLH-2,M-2,Dunlin,3,none\nLH-3,M-3,Heron,3,none\n");
        await bench.Good("kits", "kit,revision,line,part,quantity,source\nK-1,1,1,Q-1,1,inTheBox\n");
        await bench.Good("fits", "kit,revision,model\nK-1,1,Dunlin\n");
        await bench.Good("procedures", "procedure,revision,step,part_of,kind,text\nP-1,1,1,preliminary,check,Stop: it\nP-1,1,2,main,check,Do it\nP-1,1,3,closeUp,functionTest,Run it\n");
        await bench.Good("jobs", "job,description,procedure,kits,hours\nREBUILD,Rebuild,P-1,K-1,2\n");
        await bench.Good("stock", "part,bin,lot,quantity,received_on\nK-1,A1,L1,1,today-9\n");
        return bench;
    }

    static async Task<Dictionary<string, OrderState>> States(ImportBench bench)
    {
        await using var db = bench.Db();
        return await db.WorkOrders.ToDictionaryAsync(o => o.Number, o => o.State, Ct);
    }

    [Fact]
    public async Task Orders_are_opened_in_file_order_and_the_first_gets_the_last_box()
    {
        await using var bench = await Plant();
        await bench.Good("orders", Header + "B,LH-2,REBUILD,today+3,,5,open\nA,LH-1,REBUILD,today+3,today+2,5,open\nC,LH-1,REBUILD,today-3,,5,draft\n");
        Assert.Equal(new Dictionary<string, OrderState> { ["A"] = OrderState.Open, ["B"] = OrderState.Open, ["C"] = OrderState.Draft }, await States(bench));
        await using var db = bench.Db();
        var lines = await (from line in db.DemandLines
                           join order in db.WorkOrders on line.OrderId equals order.Id
                           where line.Required > 0
                           select new { order.Number, line.Reserved, line.Short }).ToDictionaryAsync(l => l.Number, l => (l.Reserved, l.Short), Ct);
        Assert.Equal((1m, 0m), lines["B"]);
        Assert.Equal((0m, 1m), lines["A"]);
    }

    [Fact]
    public async Task Stock_that_comes_in_later_serves_the_order_that_waits()
    {
        await using var bench = await Plant();
        await bench.Good("orders", Header + "B,LH-2,REBUILD,today+3,,5,open\nA,LH-1,REBUILD,today+3,,5,open\n");
        await bench.Good("stock", "part,bin,lot,quantity,received_on\nK-1,A1,L2,1,today\n");
        await using var db = bench.Db();
        Assert.False(await db.DemandLines.AnyAsync(l => l.Short > 0, Ct));
        Assert.Contains("reserved for orders", await bench.BadCell("stock", "part,bin,lot,quantity,received_on\nK-1,A1,L2,0,today\n", 1, "quantity"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_row_that_cannot_be_opened_refuses_the_file()
    {
        await using var bench = await Plant();
        await bench.BadCell("orders", Header + "A,LH-1,REBUILD,today+3,,5,open\nB,LH-3,REBUILD,today+3,,5,open\n", 2, "state");
        Assert.Empty(await States(bench));
        await using var db = bench.Db();
        Assert.Equal(0m, await db.BinStocks.SumAsync(s => s.Reserved, Ct));
    }

    [Theory]
    [InlineData("A,LH-9,REBUILD,today,,5,", "pump")]
    [InlineData("A,LH-1,PAINT,today,,5,", "job")]
    [InlineData("A,LH-1,REBUILD,soon,,5,", "needed_by")]
    [InlineData("A,LH-1,REBUILD,today,later,5,", "planned_fit_on")]
    [InlineData("A,LH-1,REBUILD,today,,11,", "work_class")]
    [InlineData("A,LH-1,REBUILD,today,,5,closed", "state")]
    [InlineData("A B,LH-1,REBUILD,today,,5,", "number")]
    public async Task A_bad_cell_is_refused(string row, string column)
    {
        await using var bench = await Plant();
        await bench.BadCell("orders", Header + row + "\n", 1, column);
        Assert.Empty(await States(bench));
    }

    [Fact]
    public async Task A_draft_is_changed_by_its_number_and_an_open_order_named_again_stays()
    {
        await using var bench = await Plant();
        await bench.Good("orders", Header + "A,LH-1,REBUILD,2026-03-09,2026-03-08,5,draft\nB,LH-2,REBUILD,2026-03-09,,5,open\n");
        await bench.Good("orders", "number,pump,job,needed_by,work_class,state\nA,LH-1,REBUILD,2026-03-10,6,draft\nB,LH-2,REBUILD,2026-03-09,5,open\n");
        await bench.BadCell("orders", Header + "B,LH-2,REBUILD,2026-03-11,,5,open\n", 1, "number");
        await bench.BadCell("orders", Header + "A,LH-2,REBUILD,2026-03-10,,5,draft\n", 1, "pump");
        await using var db = bench.Db();
        var order = await db.WorkOrders.SingleAsync(o => o.Number == "A", Ct);
        Assert.Equal((new DateOnly(2026, 3, 10), new DateOnly(2026, 3, 8), 6), (order.NeededBy, order.PlannedFitOn, order.WorkClass));
    }

    [Fact]
    public async Task Happenings_run_at_their_time_under_their_names()
    {
        await using var bench = await Plant();
        await bench.Good("plant", "key,value\ntime_zone,Europe/Dublin\n");
        await bench.Add("Maura", Roles.Planner);
        await bench.Add("Ned", Roles.Storeroom);
        await bench.Add("Wren", Roles.Technician);
        await bench.Good("orders", Header + "A,LH-1,REBUILD,today+3,,5,draft\n");
        await bench.Good("happenings", """
            at,person,operation,order,reference,value,unit,note
            today-2T08:20,Maura,open,A,,,,
            today-2T09:00,Ned,pick,A,,,,
            today-2T09:05,Ned,stage,A,Stand 1,,,
            today-1T07:00,Wren,start,A,PTW-1,,,
            today-1T07:10,Wren,record,A,1-3,,,
            today-1T08:00,Wren,finish,A,4711,1.5,2,
            2026-03-01T10:00:00+01:00,Maura,close,A,,,,
            2026-03-01T10:00:00Z,Maura,note,A,,,,Ran well
            """);
        await using var db = bench.Db();
        var order = await db.WorkOrders.SingleAsync(Ct);
        Assert.Equal((OrderState.Closed, new DateTimeOffset(2026, 2, 28, 8, 20, 0, TimeSpan.Zero), 4711L, 2m), (order.State, order.OpenedAt, order.StrokeCount, order.DowntimeHours));
        Assert.Equal(new DateTimeOffset(2026, 3, 1, 9, 0, 0, TimeSpan.Zero), order.ClosedAt);
        var opened = await db.Audit.SingleAsync(a => a.Operation == "open-order", Ct);
        Assert.Equal("Maura", (await db.People.SingleAsync(p => p.Id == opened.PersonId, Ct)).Name);
    }

    [Theory]
    [InlineData("today-1T08:00,Nobody,open,A,,,,", "person")]
    [InlineData("today-1T08:00,Ned,open,A,,,,", "operation")]
    [InlineData("today-1T08:00,Maura,dance,A,,,,", "operation")]
    [InlineData("today+1T08:00,Maura,open,A,,,,", "at")]
    [InlineData("yesterday,Maura,open,A,,,,", "at")]
    [InlineData("today-1T08:00,Maura,open,Z,,,,", "order")]
    [InlineData("2099-03-01T08:00:00Z,Maura,open,A,,,,", "at")]
    public async Task A_happening_that_cannot_be_refuses_the_file(string row, string column)
    {
        await using var bench = await Plant();
        await bench.Add("Maura", Roles.Planner);
        await bench.Add("Ned", Roles.Storeroom);
        await bench.Good("orders", Header + "A,LH-1,REBUILD,today+3,,5,draft\nB,LH-2,REBUILD,today+3,,5,draft\n");
        await bench.BadCell("happenings", $"at,person,operation,order,reference,value,unit,note\ntoday-1T07:00,Maura,open,B,,,,\n{row}\n", 2, column);
        Assert.All(await States(bench), o => Assert.Equal(OrderState.Draft, o.Value));
    }

    [Fact]
    public async Task A_dry_run_of_orders_takes_everything_back()
    {
        await using var bench = await Plant();
        var report = (await bench.Run("orders", Header + "A,LH-1,REBUILD,today+3,,5,open\n", dryRun: true)).Value;
        Assert.Equal((1, 0, 0), (report.Rows, report.Written, report.Errors.Count));
        Assert.Empty(await States(bench));
    }
}
