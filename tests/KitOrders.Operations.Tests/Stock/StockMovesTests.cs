using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using Xunit;
using static KitOrders.Operations.Tests.Stock.StockBench;

namespace KitOrders.Operations.Tests.Stock;

/// <summary>Counts, scraps, transfers, returns and corrections.</summary>
public sealed class StockMovesTests(TestDatabase databases)
{
    [Fact]
    public async Task A_count_moves_the_difference_and_an_equal_one_only_leaves_its_trace()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 5, lot: "L1");
        var count = new CountBin(bench.Desk);
        Assert.Equal(0m, Must(await count.Run(bench.Call, new Count("PLUG", "A-01", "L1", 5), Ct)).Difference);
        Assert.Single(await bench.Movements());
        var less = Must(await count.Run(bench.Call, new Count("PLUG", "A-01", "L1", 3) { Reason = "bag torn" }, Ct));
        Assert.Equal((5m, 3m, -2m), (less.Book, less.Counted, less.Difference));
        Assert.Equal((MovementKind.CountDifference, -2m, 3m, "bag torn"), Last(await bench.Movements()));
        await using var db = bench.Db();
        Assert.Equal([(5m, 5m), (5m, 3m)], db.BinCounts.OrderBy(c => c.Id).Select(c => new { c.Book, c.Counted }).AsEnumerable().Select(c => (c.Book, c.Counted)));
    }

    static (MovementKind, decimal, decimal, string?) Last(IReadOnlyList<MovementRow> rows) => (rows[^1].Kind, rows[^1].Quantity, rows[^1].OnHandAfter, rows[^1].Reason);

    [Fact]
    public async Task A_count_above_the_book_serves_who_waits()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1, lot: "L1");
        var order = await bench.Order("P-05", "JP", 3);
        var answer = Must(await new CountBin(bench.Desk).Run(bench.Call, new Count("PLUG", "A-01", "L1", 4), Ct));
        Assert.Equal([new CoveredOrder(order, "PLUG", 2)], answer.Covered);
        Assert.Equal((0m, 3m, 0m), await bench.Line(order, "PLUG"));
    }

    [Fact]
    public async Task A_count_below_what_is_held_asks_first_and_then_takes_from_the_least_pressing()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 5, lot: "L1");
        var low = await bench.Order("P-01", "JP", 2);
        var high = await bench.Order("P-10", "JP", 3);
        var count = new Count("PLUG", "A-01", "L1", 2);
        var asked = No("count-below-reserved", await new CountBin(bench.Desk).Run(bench.Call, count, Ct));
        Assert.Contains($"order {low} 2, order {high} 1", asked.Sentence, StringComparison.Ordinal);
        Assert.Equal((0m, 2m, 0m), await bench.Line(low, "PLUG"));

        var done = Must(await new CountBin(bench.Desk).Run(bench.Call, count with { Accept = true }, Ct));
        Assert.Equal([new CoveredOrder(low, "PLUG", 2), new CoveredOrder(high, "PLUG", 1)], done.Lost);
        Assert.Empty(done.Covered);
        Assert.Equal((0m, 0m, 2m), await bench.Line(low, "PLUG"));
        Assert.Equal((0m, 2m, 1m), await bench.Line(high, "PLUG"));
        Assert.Contains((await bench.View(low)).History, e => e.Sentence.StartsWith("Lost 2 × PLUG", StringComparison.Ordinal));
    }

    [Fact]
    public async Task What_a_count_takes_is_looked_for_in_another_bin_at_once()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 2, "A-01", "L1");
        var order = await bench.Order("P-01", "JP", 2);
        await bench.Receive("PLUG", 9, "B-01", "L2");
        var done = Must(await new CountBin(bench.Desk).Run(bench.Call, new Count("PLUG", "A-01", "L1", 0) { Accept = true }, Ct));
        Assert.Equal([new CoveredOrder(order, "PLUG", 2)], done.Covered);
        Assert.Equal((0m, 2m, 0m), await bench.Line(order, "PLUG"));
    }

    [Fact]
    public async Task Counts_that_cannot_be_are_refused()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 2, lot: "L1");
        var count = new CountBin(bench.Desk);
        No("quantity-not-positive", await count.Run(bench.Call, new Count("PLUG", "A-01", "L1", -1), Ct));
        No("quantity-not-whole", await count.Run(bench.Call, new Count("PLUG", "A-01", "L1", 1.5m), Ct));
        No("lot-unknown", await count.Run(bench.Call, new Count("PLUG", "A-01", "L9", 1), Ct));
        No("bin-unknown", await count.Run(bench.Call, new Count("PLUG", "Z", "L1", 1), Ct));
        No("not-allowed", await count.Run(new Call(await bench.Add("Max", Roles.Manager)), new Count("PLUG", "A-01", "L1", 1), Ct));
    }

    [Fact]
    public async Task Only_free_stock_is_scrapped_and_the_holders_are_named()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 3, lot: "L1");
        var order = await bench.Order("P-01", "JP", 2);
        var scrap = new ScrapStock(bench.Desk);
        var held = No("stock-reserved", await scrap.Run(bench.Call, new Scrap("PLUG", "A-01", "L1", 2, "rust"), Ct));
        Assert.Contains($"order {order} 2", held.Sentence, StringComparison.Ordinal);
        No("not-enough-stock", await scrap.Run(bench.Call, new Scrap("PLUG", "A-01", "L1", 4, "rust"), Ct));
        No("not-enough-stock", await scrap.Run(bench.Call, new Scrap("PLUG", "B-01", "L1", 1, "rust"), Ct));
        No("reason-missing", await scrap.Run(bench.Call, new Scrap("PLUG", "A-01", "L1", 1, " "), Ct));
        Assert.Equal(2m, Must(await scrap.Run(bench.Call, new Scrap("PLUG", "A-01", "L1", 1, "rust"), Ct)).OnHand);
        Assert.Equal((MovementKind.Scrap, -1m, 2m, "rust"), Last(await bench.Movements()));
    }

    [Fact]
    public async Task Free_stock_moves_to_another_bin_by_two_movements()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 3, lot: "L1");
        await bench.Order("P-01", "JP", 1);
        var move = new TransferStock(bench.Desk);
        No("stock-reserved", await move.Run(bench.Call, new Transfer("PLUG", "L1", "A-01", "B-01", 3), Ct));
        No("same-bin", await move.Run(bench.Call, new Transfer("PLUG", "L1", "A-01", "A-01", 1), Ct));
        No("bin-unknown", await move.Run(bench.Call, new Transfer("PLUG", "L1", "A-01", "Z", 1), Ct));
        var answer = Must(await move.Run(bench.Call, new Transfer("PLUG", "L1", "A-01", "B-01", 2), Ct));
        Assert.Equal((1m, 2m), (answer.OnHandFrom, answer.OnHandTo));
        Assert.Equal([(-2m, 1m), (2m, 2m)], (await bench.Movements()).Skip(1).Select(m => (m.Quantity, m.OnHandAfter)));
    }

    [Fact]
    public async Task A_part_returned_before_work_begins_is_needed_again_and_goes_to_the_most_pressing()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1, lot: "L1");
        var low = await bench.Order("P-01", "JP");
        await bench.Pick(low);
        var high = await bench.Order("P-10", "JP");
        var answer = Must(await new ReturnStock(bench.Desk).Run(bench.Call, new Return(low, (await bench.Held(low, "PLUG")).Id, 1) { Bin = "B-01" }, Ct));

        Assert.Equal([new CoveredOrder(high, "PLUG", 1)], answer.Covered);
        Assert.Equal((0m, 0m, 1m), await bench.Line(low, "PLUG"));
        Assert.Equal("B-01", (await bench.Held(high, "PLUG")).Bin);
    }

    [Fact]
    public async Task No_more_comes_back_than_was_picked_and_is_not_accounted_for()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 2, lot: "L1");
        var order = await bench.Order("P-01", "JP", 2);
        var give = new ReturnStock(bench.Desk);
        var held = (await bench.Held(order, "PLUG")).Id;
        No("return-too-many", await give.Run(bench.Call, new Return(order, held, 1), Ct));
        await bench.Pick(order);
        No("return-too-many", await give.Run(bench.Call, new Return(order, held, 3), Ct));
        No("reservation-unknown", await give.Run(bench.Call, new Return(order, 9_999, 1), Ct));
        var other = await bench.Order("P-03", "JP");
        No("reservation-unknown", await give.Run(bench.Call, new Return(other, held, 1), Ct));
        Must(await new StageOrder(bench.Desk).Run(bench.Call, order, "S-1", null, Ct));
        No("order-state", await give.Run(bench.Call, new Return(order, held, 1), Ct));
        Must(await new StartOrder(bench.Desk).Run(bench.Call, order, null, Ct));
        Must(await give.Run(bench.Call, new Return(order, held, 1), Ct));
        Assert.Equal((2m, 0m, 0m), await bench.Line(order, "PLUG"));
        Assert.Equal((2m, 1m), ((await bench.Held(order, "PLUG")).Picked, (await bench.Held(order, "PLUG")).Returned));
        No("return-too-many", await give.Run(bench.Call, new Return(order, held, 2), Ct));
    }

    [Fact]
    public async Task An_opened_box_goes_back_as_its_parts_with_its_lot_and_its_cure_date()
    {
        await using var bench = await New(databases);
        await bench.Receive("BOX", 2, lot: "B7", cured: "2Q24");
        var order = await bench.Order("P-01", "JB", 2);
        await bench.Pick(order);
        var held = (await bench.Held(order, "BOX")).Id;
        var give = new ReturnStock(bench.Desk);
        No("sealed-or-opened", await give.Run(bench.Call, new Return(order, held, 1), Ct));
        var opened = Must(await give.Run(bench.Call, new Return(order, held, 1) { Sealed = false }, Ct));
        Assert.Equal([("SEAL", "B7", 2m, new DateOnly(2031, 6, 30)), ("PLUG", "B7", 1m, default)],
            opened.Returned.Select(r => (r.Part, r.Lot, r.Quantity, r.ExpiresOn.GetValueOrDefault())));
        Assert.Equal(0m, (await bench.Ledger("BOX")).Totals.OnHand);
        Assert.Equal((2m, 1m), ((await bench.Ledger("SEAL")).Totals.Available, (await bench.Ledger("PLUG")).Totals.Available));
        var sealedBox = Must(await give.Run(bench.Call, new Return(order, held, 1) { Sealed = true }, Ct));
        Assert.Equal("BOX", Assert.Single(sealedBox.Returned).Part);
        Assert.Equal((0m, 1m, 1m), await bench.Line(order, "BOX"));
    }

    [Fact]
    public async Task A_wrong_receipt_is_undone_by_a_movement_that_names_it()
    {
        await using var bench = await New(databases);
        await bench.Import("incoming", "reference,part,quantity\nPO-1,PLUG,5\n");
        await bench.Receive("PLUG", 10, lot: "L0", cost: 2m);
        await bench.Receive("PLUG", 5, lot: "L1", incoming: "PO-1", cost: 5m);
        var wrong = (await bench.Movements())[^1].Id;
        var correct = new CorrectMovement(bench.Desk);
        No("reason-missing", await correct.Run(bench.Call, wrong, "", Ct));
        No("movement-unknown", await correct.Run(bench.Call, 99_999, "typo", Ct));
        var done = Must(await correct.Run(bench.Call, wrong, "wrong part in the bag", Ct));
        Assert.Equal((-5m, 0m), (done.Quantity, done.OnHand));
        var ledger = await bench.Ledger("PLUG");
        Assert.Equal((10m, 5m, 2m), (ledger.Totals.OnHand, ledger.Totals.Incoming, ledger.AverageCost!.Value));
        var rows = await bench.Movements();
        Assert.Equal((wrong, rows[^1].Id), (rows[^1].Corrects!.Value, rows[^2].CorrectedBy!.Value));
        No("movement-corrected", await correct.Run(bench.Call, wrong, "again", Ct));
        No("movement-is-correction", await correct.Run(bench.Call, rows[^1].Id, "again", Ct));
    }

    [Fact]
    public async Task What_orders_hold_is_not_corrected_away_and_picks_are_returned_instead()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1, lot: "L1");
        var order = await bench.Order("P-01", "JP");
        var correct = new CorrectMovement(bench.Desk);
        No("stock-reserved", await correct.Run(bench.Call, (await bench.Movements())[0].Id, "typo", Ct));
        await bench.Pick(order);
        No("movement-has-opposite", await correct.Run(bench.Call, (await bench.Movements())[^1].Id, "typo", Ct));
    }

    [Fact]
    public async Task A_scrap_that_was_wrong_comes_back_to_who_waits()
    {
        await using var bench = await New(databases);
        await bench.Receive("PLUG", 1, lot: "L1");
        Must(await new ScrapStock(bench.Desk).Run(bench.Call, new Scrap("PLUG", "A-01", "L1", 1, "rust"), Ct));
        var order = await bench.Order("P-01", "JP");
        var done = Must(await new CorrectMovement(bench.Desk).Run(bench.Call, (await bench.Movements())[^1].Id, "it was grease", Ct));
        Assert.Equal([new CoveredOrder(order, "PLUG", 1)], done.Covered);
    }
}
