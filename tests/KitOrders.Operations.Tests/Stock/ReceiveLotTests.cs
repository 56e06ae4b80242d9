using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Xunit;
using static KitOrders.Operations.Tests.Stock.StockBench;

namespace KitOrders.Operations.Tests.Stock;

public sealed class ReceiveLotTests(TestDatabase databases)
{
    [Fact]
    public async Task A_receipt_lies_in_its_bin_and_stands_in_the_ledger()
    {
        await using var bench = await New(databases);
        var answer = await bench.Receive("SEAL", 6, "A-02", "L1", "2025-08-14", cost: 4.5m);

        // ISO 2230:2002 group B: NBR keeps 7 years, as printed at epidor.com.
        Assert.Equal(("SEAL", "L1", "A-02", 6m, new DateOnly(2032, 8, 14), false), (answer.Part, answer.Lot, answer.Bin, answer.Quantity, answer.ExpiresOn!.Value, answer.Quarantined));
        Assert.Empty(answer.Covered);
        Assert.Empty(answer.Warnings);
        var ledger = await bench.Ledger("SEAL");
        Assert.Equal(new StockTotals(6, 0, 6, 0, 0), ledger.Totals);
        Assert.Equal(4.5m, ledger.AverageCost);
        var movement = Assert.Single(await bench.Movements("SEAL"));
        Assert.Equal((MovementKind.Receipt, 6m, 6m, 4.5m, "Iris Imports"), (movement.Kind, movement.Quantity, movement.OnHandAfter, movement.UnitCost!.Value, movement.Person));
    }

    [Theory]
    [InlineData("3Q25", 2032, 9, 30)]
    [InlineData("3/2025", 2032, 9, 30)]
    [InlineData("1Q26", 2033, 3, 31)] // The quarter that runs: it has begun, and its last day counts.
    public async Task A_quarter_counts_as_its_last_day(string cured, int year, int month, int day)
    {
        await using var bench = await New(databases);
        Assert.Equal(new DateOnly(year, month, day), (await bench.Receive("SEAL", 1, cured: cured)).ExpiresOn);
    }

    [Theory]
    [InlineData("2026-03-03", "cure-date-ahead")]
    [InlineData("2Q26", "cure-date-ahead")]
    [InlineData("August", "cure-date-unreadable")]
    public async Task A_cure_date_that_cannot_be_is_refused(string cured, string code)
    {
        await using var bench = await New(databases);
        No(code, await new ReceiveLot(bench.Desk).Run(bench.Call, new Receipt("SEAL", 1, "A-01") { CuredOn = cured }, Ct));
        Assert.Empty(await bench.Movements());
    }

    [Fact]
    public async Task Rubber_without_a_cure_date_is_quarantined_and_covers_nothing()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1);
        var order = await bench.Order("P-05", "JPS");
        var answer = await bench.Receive("SEAL", 5);

        Assert.True(answer.Quarantined);
        Assert.Contains("NBR", answer.QuarantineReason, StringComparison.Ordinal);
        Assert.Null(answer.ExpiresOn);
        Assert.Empty(answer.Covered);
        Assert.Equal((0m, 0m, 1m), await bench.Line(order, "SEAL"));
        var ledger = await bench.Ledger("SEAL");
        Assert.Equal(new StockTotals(5, 0, 0, 0, 1), ledger.Totals);
        Assert.Equal((true, false, 0m), (ledger.Lots[0].Quarantined, ledger.Lots[0].Usable, ledger.Lots[0].Available));
    }

    [Fact]
    public async Task A_sealed_box_ages_with_the_rubber_inside_it()
    {
        await using var bench = await New(databases);
        Assert.Equal(new DateOnly(2030, 5, 1), (await bench.Receive("BOX", 1, lot: "B1", cured: "2023-05-01")).ExpiresOn);
        Assert.True((await bench.Receive("BOX", 1, lot: "B2")).Quarantined);
    }

    [Fact]
    public async Task What_does_not_age_needs_no_cure_date()
    {
        await using var bench = await New(databases);
        var answer = await bench.Receive("RING", 3);
        Assert.Equal((null, false), (answer.ExpiresOn, answer.Quarantined));
        Assert.Single((await bench.Receive("RING", 3, lot: "R9", cured: "2024-01-01")).Warnings);
    }

    [Fact]
    public async Task A_lot_without_a_number_gets_the_next_one_of_the_day()
    {
        await using var bench = await New(databases);
        Assert.Equal("260302-1", (await bench.Receive("PLUG", 1)).Lot);
        Assert.Equal("260302-2", (await bench.Receive("PLUG", 1)).Lot);
        Assert.Equal("260302-1", (await bench.Receive("RING", 1)).Lot);
    }

    [Fact]
    public async Task A_known_lot_grows_and_keeps_its_one_cure_date()
    {
        await using var bench = await New(databases);
        await bench.Receive("SEAL", 2, lot: "L1", cured: "3Q25");
        await bench.Receive("SEAL", 3, "B-01", "L1");
        await bench.Receive("SEAL", 1, lot: "L1", cured: "2025-09-30");
        No("lot-cure-date-differs", await new ReceiveLot(bench.Desk).Run(bench.Call, new Receipt("SEAL", 1, "A-01") { Lot = "L1", CuredOn = "2Q25" }, Ct));
        Assert.Equal([("A-01", 3m), ("B-01", 3m)], (await bench.Ledger("SEAL")).Lots.Select(l => (l.Bin, l.OnHand)).Order());
    }

    [Theory]
    [InlineData("PLUG", 0, "quantity-not-positive")]
    [InlineData("PLUG", -1, "quantity-not-positive")]
    [InlineData("PLUG", 1.5, "quantity-not-whole")]
    [InlineData("HOSE", 0.00001, "quantity-too-fine")]
    [InlineData("HOSE", 100_000_000, "quantity-too-large")]
    public async Task A_quantity_that_cannot_be_is_refused(string part, double quantity, string code)
    {
        await using var bench = await New(databases);
        No(code, await new ReceiveLot(bench.Desk).Run(bench.Call, new Receipt(part, (decimal)quantity, "A-01"), Ct));
    }

    [Fact]
    public async Task Names_that_nobody_knows_and_people_without_the_role_are_refused()
    {
        await using var bench = await New(databases);
        var receive = new ReceiveLot(bench.Desk);
        No("part-unknown", await receive.Run(bench.Call, new Receipt("NONE", 1, "A-01"), Ct));
        No("bin-unknown", await receive.Run(bench.Call, new Receipt("PLUG", 1, "Z-99"), Ct));
        No("incoming-unknown", await receive.Run(bench.Call, new Receipt("PLUG", 1, "A-01") { Incoming = "PO-1" }, Ct));
        No("cost-out-of-range", await receive.Run(bench.Call, new Receipt("PLUG", 1, "A-01") { UnitCost = -1 }, Ct));
        No("not-allowed", await receive.Run(new Call(await bench.Add("Tess", Roles.Technician)), new Receipt("PLUG", 1, "A-01"), Ct));
        Assert.Empty(await bench.Movements());
    }

    [Fact]
    public async Task A_purchase_line_goes_down_and_closes_with_a_word_when_too_much_comes()
    {
        await using var bench = await New(databases);
        await bench.Import("incoming", "reference,part,quantity,promised_on\nPO-1,PLUG,5,2026-03-09\n");
        Assert.Empty((await bench.Receive("PLUG", 2, incoming: "PO-1")).Warnings);
        Assert.Equal(3m, (await bench.Ledger("PLUG")).Totals.Incoming);
        Assert.Single((await bench.Receive("PLUG", 4, incoming: "PO-1")).Warnings);
        Assert.Equal((6m, 0m), ((await bench.Ledger("PLUG")).Totals.OnHand, (await bench.Ledger("PLUG")).Totals.Incoming));
    }

    [Fact]
    public async Task Priced_receipts_move_the_average_and_others_leave_it()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 10, cost: 2m);
        await bench.Receive("PLUG", 30, cost: 4m);
        Assert.Equal(3.5m, (await bench.Ledger("PLUG")).AverageCost);
        await bench.Receive("PLUG", 100);
        Assert.Equal(3.5m, (await bench.Ledger("PLUG")).AverageCost);
    }

    [Fact]
    public async Task What_comes_goes_to_the_most_pressing_who_wait_and_partially_where_it_must()
    {
        await using var bench = await New(databases);
        var low = await bench.Order("P-01", "JP", 3);
        var high = await bench.Order("P-10", "JP", 2);
        var middle = await bench.Order("P-05", "JP", 2);
        var answer = await bench.Receive("PLUG", 3);

        Assert.Equal([new CoveredOrder(high, "PLUG", 2), new CoveredOrder(middle, "PLUG", 1)], answer.Covered);
        Assert.Equal((0m, 2m, 0m), await bench.Line(high, "PLUG"));
        Assert.Equal((0m, 1m, 1m), await bench.Line(middle, "PLUG"));
        Assert.Equal((0m, 0m, 3m), await bench.Line(low, "PLUG"));
        Assert.Contains((await bench.View(high)).History, e => e.Sentence.StartsWith("Shortage covered by receipt of lot", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_lot_is_given_only_to_orders_whose_fit_date_it_lives_to_see()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 9);
        var late = await bench.Order("P-10", "JPS", neededIn: 60);
        var soon = await bench.Order("P-01", "JPS", neededIn: 5);
        var answer = await bench.Receive("SEAL", 5, cured: "2019-03-20");

        Assert.Equal(new DateOnly(2026, 3, 20), answer.ExpiresOn);
        Assert.Equal([new CoveredOrder(soon, "SEAL", 1)], answer.Covered);
        Assert.Equal((0m, 0m, 1m), await bench.Line(late, "SEAL"));
    }

    [Fact]
    public async Task An_order_that_would_be_finished_is_shown_beside_the_higher_one_that_is_not()
    {
        await using var bench = await New(databases);
        var high = await bench.Order("P-10", "JPS", neededIn: 30);
        var low = await bench.Order("P-01", "JP", neededIn: 14);
        var answer = await bench.Receive("PLUG", 1);

        Assert.Equal([new CoveredOrder(high, "PLUG", 1)], answer.Covered);
        var offer = Assert.Single(answer.Offers);
        Assert.Equal((low, "PLUG", 1m), (offer.Order, offer.Part, offer.Quantity));
        var from = Assert.Single(offer.From);
        Assert.Equal((high, 1m), (from.Order, from.Quantity));
        Assert.Equal(["SEAL"], from.Waiting);

        // One day beyond the window there is no offer.
        await bench.Order("P-03", "JP", neededIn: 15);
        Assert.Empty((await bench.Receive("PLUG", 1)).Offers);
    }

    [Fact]
    public async Task Two_clerks_and_two_planners_at_once_leave_every_piece_promised_once()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1, lot: "L1");
        var numbers = new List<string>();
        foreach (var pump in new[] { "P-10", "P-08", "P-05", "P-03" })
            numbers.Add(Must(await new CreateOrder(bench.Desk).Run(bench.Call, new NewOrder(pump, "JOB", Today.AddDays(3), 5) { Breakdown = true }, Ct)));
        var opened = numbers.Select(n => new OpenOrder(bench.Desk).Run(bench.Call, n, Ct)).ToList();
        var received = new[] { "L1", "L1" }.Select(l => new ReceiveLot(bench.Desk).Run(bench.Call, new Receipt("PLUG", 1, "A-01") { Lot = l }, Ct)).ToList();
        foreach (var one in await Task.WhenAll(opened))
            Must(one);
        foreach (var one in await Task.WhenAll(received))
            Must(one);

        var totals = (await bench.Ledger("PLUG")).Totals;
        Assert.Equal((3m, 3m, 0m, 1m), (totals.OnHand, totals.Reserved, totals.Available, totals.Shortage));
    }
}
