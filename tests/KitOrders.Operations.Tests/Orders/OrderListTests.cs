using System.Text.Json;
using KitOrders.Operations.Orders;
using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

public sealed class OrderListTests(TestDatabase databases)
{
    static async Task<Page<OrderRow>> Find(OrderBench bench, OrderFilter filter, string? after = null, int? size = null) =>
        Must(await new OrderList(bench.Desk).Find(filter, after, size, Ct));

    [Fact]
    public async Task A_row_says_how_far_the_parts_are_covered_and_what_holds_the_order()
    {
        await using var bench = await New(databases);
        await bench.Opened();
        var second = await bench.Opened("P-2");
        var row = (await Find(bench, new OrderFilter())).Items.Single(r => r.Number == second);
        var view = await bench.View(second);
        Assert.Equal(view.Demand.Count(d => d.Required > 0), row.Lines);
        Assert.Equal(view.Demand.Count(d => d.Required > 0 && d.Short == 0), row.LinesCovered);
        Assert.Equal((view.Demand.Sum(d => d.Short), view.Demand.Sum(d => d.Reserved), 0m), (row.Short, row.Reserved, row.Picked));
        // One coil is promised in three days; nothing promises the elbow and the spare valve, so they stand first.
        Assert.Equal(["E", "Q", "C"], row.Holds.Select(h => h.Part));
        Assert.Equal((1m, Today.AddDays(3)), (row.Incoming, row.Holds[2].PromisedOn!.Value));
        Assert.Equal((25, 3.5m, 0), (row.Score, row.Hours!.Value, row.DaysLate));
    }

    [Fact]
    public async Task The_list_is_narrowed_by_state_shortage_lateness_and_words()
    {
        await using var bench = await New(databases);
        var covered = await bench.Opened();
        var shortOf = await bench.Opened("P-2", neededIn: -4);
        var draft = await bench.Draft("P-2");
        Assert.Equal([covered, shortOf, draft], (await Find(bench, new OrderFilter())).Items.Select(r => r.Number));
        Assert.Equal([draft], (await Find(bench, new OrderFilter { States = [OrderState.Draft] })).Items.Select(r => r.Number));
        Assert.Equal([shortOf], (await Find(bench, new OrderFilter { Short = true })).Items.Select(r => r.Number));
        Assert.Equal([covered], (await Find(bench, new OrderFilter { Short = false })).Items.Select(r => r.Number));
        var late = Assert.Single((await Find(bench, new OrderFilter { Late = true })).Items);
        Assert.Equal((shortOf, 4), (late.Number, late.DaysLate));
        Assert.Equal([covered], (await Find(bench, new OrderFilter { Search = "p-1" })).Items.Select(r => r.Number));
        Assert.Empty((await Find(bench, new OrderFilter { Search = "%" })).Items);

        var counts = await new OrderList(bench.Desk).Counts(Ct);
        Assert.Equal((3, 1, 1, 1, 0, 1, 10.5m), (counts.All, counts.Drafts, counts.Held, counts.Covered, counts.Floor, counts.Late, counts.Hours));
    }

    [Theory]
    [InlineData(OrderSort.Score)]
    [InlineData(OrderSort.FitOn)]
    [InlineData(OrderSort.Newest)]
    public async Task Pages_follow_one_another_without_a_gap_or_a_repeat(OrderSort sort)
    {
        await using var bench = await New(databases);
        for (var n = 0; n < 7; n++)
            await bench.Draft(n % 2 == 0 ? "P-1" : "P-2", neededIn: 3 + (n % 3), workClass: 4 + (n % 2));
        var filter = new OrderFilter { Sort = sort };
        var whole = (await Find(bench, filter)).Items.Select(r => r.Number).ToList();
        var walked = new List<string>();
        string? after = null;
        do
        {
            var page = await Find(bench, filter, after, 2);
            walked.AddRange(page.Items.Select(r => r.Number));
            after = page.Next;
        }
        while (after is not null);
        Assert.Equal(7, whole.Distinct().Count());
        Assert.Equal(whole, walked);
    }

    [Fact]
    public async Task A_page_after_an_order_that_is_not_there_is_refused()
    {
        await using var bench = await New(databases);
        Refused(await new OrderList(bench.Desk).Find(new OrderFilter(), "99999", null, Ct), "order-unknown");
        Refused(await new OrderList(bench.Desk).Find(new OrderFilter(), null, 0, Ct), "page-size");
    }

    [Fact]
    public async Task A_page_of_whole_orders_says_of_each_what_it_says_alone()
    {
        await using var bench = await OrderBench.New(databases);
        var made = new List<string> { await bench.Finished(), await bench.Draft("P-2"), await bench.Opened("P-2"), await bench.Draft("P-1", breakdown: true), await bench.Draft("P-2", neededIn: 40) };
        var page = Must(await new OrderBook(bench.Desk).List(null, null, null, Ct));
        Assert.Equal(made, page.Items.Select(o => o.Number));
        foreach (var order in page.Items)
            Assert.Equal(JsonSerializer.Serialize(await bench.View(order.Number)), JsonSerializer.Serialize(order));
        var second = Must(await new OrderBook(bench.Desk).List(null, made[1], 2, Ct));
        Assert.Equal(made[2..4], second.Items.Select(o => o.Number));
        Assert.Equal(made[3], second.Next);
        Assert.Null(Must(await new OrderBook(bench.Desk).List(null, second.Next, 2, Ct)).Next);
        Assert.Equal([made[2]], Must(await new OrderBook(bench.Desk).List(OrderState.Open, null, null, Ct)).Items.Select(o => o.Number));
    }

    [Fact]
    public async Task The_most_pressing_orders_stand_first_when_a_position_has_become_more_critical()
    {
        await using var bench = await New(databases);
        var (first, second) = (await bench.Draft(), await bench.Draft("P-2"));
        var before = (await Find(bench, new OrderFilter())).Items;
        var (leads, follows) = (before[0], before[1]);
        Assert.Equal(new[] { first, second }.Order(), new[] { leads.Number, follows.Number }.Order());
        await using (var db = bench.Db())
            await db.Positions.Where(p => p.Tag == follows.Pump).ExecuteUpdateAsync(set => set.SetProperty(p => p.Criticality, 10), Ct);
        await using (var db = bench.Db())
            await db.Positions.Where(p => p.Tag == leads.Pump).ExecuteUpdateAsync(set => set.SetProperty(p => p.Criticality, 1), Ct);
        var after = (await Find(bench, new OrderFilter())).Items;
        Assert.Equal([(follows.Number, 50), (leads.Number, 5)], after.Select(r => (r.Number, r.Score)));
    }
}
