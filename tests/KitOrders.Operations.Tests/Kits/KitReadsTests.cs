using KitOrders.Operations.Kits;
using KitOrders.Operations.Planning;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Tests.Orders;
using KitOrders.Rules.Kits;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Kits;

public sealed class KitReadsTests(TestDatabase databases)
{
    [Fact]
    public async Task A_kit_is_read_as_a_tree_with_its_assemblies_opened()
    {
        await using var bench = await New(databases);
        var kit = Must(await new KitRecord(bench.Desk).One("K", null, Ct));
        Assert.Equal(["1:V", "1.1:B", "1.2:C", "1.3:S", "2:P", "3:E", "4:Q"], kit.Lines.Select(l => $"{l.Path}:{l.Part}"));
        Assert.Equal([false, true], kit.Lines.Single(l => l.Part == "S").LastAt);
        Assert.Equal(LineSource.CarriedOver, kit.Lines[^1].Source);
        Assert.Equal(("M30", "M30-S", "24 V DC ±10 %, 0.2 A"), (kit.Fits[0].Model, kit.Fits[0].ConvertsTo, kit.Fits[0].Supply));
        Assert.Equal(["CONV"], kit.Jobs.Select(j => j.Job));
        Assert.Equal(1, kit.Boxed);
    }

    [Fact]
    public async Task A_newer_revision_says_what_changed_and_the_orders_keep_theirs()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        await bench.Plant.Good("kits", "kit,revision,line,part,quantity,source,spare_policy,buildable\nK,2,1,V,1,inTheBox,,yes\nK,2,2,P,2,inTheBox,,\nK,2,3,E,1,boughtSeparately,,\nK,2,4,Q,2,carriedOver,none,\nK,2,5,S,1,shopSupply,,\n");
        var kit = Must(await new KitRecord(bench.Desk).One("K", null, Ct));
        Assert.Equal((2, RevisionState.Released), (kit.Shown.Number, kit.Shown.State));
        Assert.Equal([(1, RevisionState.Superseded, 1), (2, RevisionState.Released, 0)], kit.Revisions.Select(r => (r.Number, r.State, r.Orders)));
        Assert.Equal(["2:was 1", "4:spares were all", "5:new line"], kit.Lines.Where(l => l.SinceBefore is not null).Select(l => $"{l.Path}:{l.SinceBefore}"));
        Assert.Equal([(number, 1)], kit.Orders.Select(o => (o.Number, o.Revision!.Value)));
        Assert.Equal(1, Must(await new KitRecord(bench.Desk).One("K", 1, Ct)).Shown.Number);
        Refused(await new KitRecord(bench.Desk).One("K", 7, Ct), "revision-unknown");
        Refused(await new KitRecord(bench.Desk).One("E", null, Ct), "kit-unknown");
    }

    [Fact]
    public async Task Kits_are_listed_and_assemblies_inside_them_when_asked_for()
    {
        await using var bench = await New(databases);
        await bench.Opened();
        var kit = Assert.Single(await new KitList(bench.Desk).Find(null, false, Ct));
        Assert.Equal(("K", 1, 4, 1, 1, 0m), (kit.Kit, kit.Revision!.Value, kit.Lines, kit.Models, kit.OpenOrders, kit.Boxed));
        Assert.Equal(["K", "V"], (await new KitList(bench.Desk).Find(null, true, Ct)).Select(k => k.Kit));
        Assert.Equal(["V"], (await new KitList(bench.Desk).Find("valve assembly", true, Ct)).Select(k => k.Kit));
    }

    [Fact]
    public async Task A_search_leads_to_orders_pumps_kits_parts_bins_and_lots()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        var jump = new Jump(bench.Desk);
        Assert.Contains(await jump.Find(number, Ct), h => h is { Kind: JumpKind.Order, Exact: true } && h.Key == number);
        Assert.Contains(await jump.Find("s-2", Ct), h => h is { Kind: JumpKind.Pump, Key: "P-2", Exact: true });
        Assert.Contains(await jump.Find("k", Ct), h => h is { Kind: JumpKind.Kit, Key: "K", Exact: true });
        Assert.Equal([(JumpKind.Part, "E")], (await jump.Find("elbow", Ct)).Select(h => (h.Kind, h.Key)));
        Assert.Contains(await jump.Find("A-1", Ct), h => h is { Kind: JumpKind.Bin, Key: "A-1", Exact: true });
        Assert.Contains(await jump.Find("Q-1", Ct), h => h is { Kind: JumpKind.Lot, Key: "Q" });
        // One letter is missing; on a server that cannot compare words nothing is found.
        var similar = await jump.Find("elbw", Ct);
        await using (var db = bench.Db())
            Assert.Equal((await db.Database.SqlQuery<string>($"select extname::text as \"Value\" from pg_extension").ToListAsync(Ct)).Contains("pg_trgm"), similar.Any(h => h.Key == "E"));
        Assert.Empty(await jump.Find("%", Ct));
        Assert.Empty(await jump.Find(" ", Ct));
    }

    [Fact]
    public async Task A_planners_day_lists_what_waits_for_a_decision()
    {
        await using var bench = await New(databases);
        var list = new TodayList(bench.Desk, new OrderList(bench.Desk));
        Assert.Empty((await list.Planner(Ct)).Waiting);
        var finished = await bench.Finished();
        var shortOf = await bench.Opened("P-2");
        var draft = await bench.Draft("P-2");
        var day = await list.Planner(Ct);
        Assert.Contains(day.Waiting, w => w.Kind == TodayKind.ToClose && w.Order == finished);
        // The coil is promised in full and in time, so it asks nobody for anything.
        Assert.Equal(["E", "Q"], day.Waiting.Where(w => w.Kind == TodayKind.PartShort).Select(w => w.Part!.Part).Order(StringComparer.Ordinal));
        Assert.All(day.Waiting.Where(w => w.Kind == TodayKind.PartShort), w =>
        {
            Assert.Equal([shortOf], w.Part!.Orders);
            Assert.Equal(3.5m, w.Hours);
        });
        Assert.Contains(day.Waiting, w => w.Kind == TodayKind.ToOpen && w.Order == draft);
        Assert.Equal([finished], day.Floor.Select(f => f.Number));
        Assert.Equal([shortOf], day.Soon.Select(s => s.Number));
        Assert.Equal(0, day.ReadyToStart);
        Assert.NotEmpty(day.Happened);
    }
}
