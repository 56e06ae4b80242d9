using KitOrders.Operations.Stock;
using KitOrders.Operations.Tests.Orders;
using KitOrders.Rules;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Stock;

public sealed class IncomingTests(TestDatabase databases)
{
    [Fact]
    public async Task A_purchase_says_when_the_shortage_ends_covers_nothing_and_is_found_by_its_receipt()
    {
        await using var bench = await New(databases);
        await bench.Opened("P-1");
        var number = await bench.Opened("P-2");
        Must(await new RecordIncoming(bench.Desk).Run(bench.Planner, new IncomingAsk("E", 4, " PO-7 ", Today.AddDays(6), "Heron"), Ct));
        var line = await bench.Line(number, "E");
        Assert.Equal((1m, 1m, "PO-7", Today.AddDays(6)), (line.Short, line.Incoming, line.PromiseReference, line.PromisedOn));
        Must(await new ReceiveLot(bench.Desk).Run(bench.Clerk, new Receipt("E", 4, "A-1") { Lot = "E-7", Incoming = "PO-7" }, Ct));
        Assert.Equal(0m, (await bench.Line(number, "E")).Short);
        Assert.Empty((await bench.Ledger("E")).Incoming);
    }

    [Fact]
    public async Task What_cannot_be_bought_so_is_refused_and_a_reference_counts_once_for_a_part()
    {
        await using var bench = await New(databases);
        Task<Outcome<string>> Record(IncomingAsk ask) => new RecordIncoming(bench.Desk).Run(bench.Planner, ask, Ct);
        Refused(await Record(new("E", 1, " ")), "reference-missing");
        Refused(await Record(new("E", 1, new string('x', 61))), "reference-missing");
        Refused(await Record(new("E", 1, "PO-7", null, new string('x', 201))), "supplier-too-long");
        Refused(await Record(new("E", 1, "PO-7", new DateOnly(1999, 12, 31))), "date-out-of-range");
        Refused(await Record(new("E", 0, "PO-7")), "quantity-not-positive");
        Refused(await Record(new("E", 1.5m, "PO-7")), "quantity-not-whole");
        Refused(await Record(new("nothing", 1, "PO-7")), "part-unknown");
        Refused(await new RecordIncoming(bench.Desk).Run(bench.Technician, new IncomingAsk("E", 1, "PO-7"), Ct), "not-allowed");
        Must(await Record(new("E", 1, "PO-7")));
        Refused(await Record(new("E", 2, "PO-7")), "incoming-there");
        Must(await Record(new("P", 2, "PO-7")));
    }
}
