using KitOrders.Operations.Orders;
using KitOrders.Operations.Pumps;
using KitOrders.Operations.Tests.Orders;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Pumps;

/// <summary>A spare pump takes a place: history goes with the serial number, area data stays with the position.</summary>
public sealed class PumpMovesTests(TestDatabase databases)
{
    [Fact]
    public async Task What_belongs_to_the_pump_goes_with_it_and_what_belongs_to_the_place_stays()
    {
        await using var bench = await New(databases);
        var number = await bench.Finished();
        Must(await new CloseOrder(bench.Desk).Run(bench.Planner, number, null, null, Ct));
        await SpareInStore(bench);
        var before = Must(await new PumpRecord(bench.Desk).One("P-1", Ct));
        Must(await new SwapPump(bench.Desk).Run(bench.Planner, "P-1", new SwapInput("S-2", "the old one knocks", Today), Ct));

        var here = Must(await new PumpRecord(bench.Desk).One("P-1", Ct));
        Assert.Equal(("S-2", "M30", null, 0, 0), (here.Serial, here.Model, here.Strokes, here.Fitted.Count, here.Orders.Count));
        Assert.Equal((before.Area, before.Zone, before.SupplyVolts, before.CableM, before.CableMm2, before.Fluid, before.Criticality),
            (here.Area, here.Zone, here.SupplyVolts, here.CableM, here.CableMm2, here.Fluid, here.Criticality));
        Assert.Equal([("S-1", (DateOnly?)null, (DateOnly?)Today)], here.Before.Select(s => (s.Serial, s.From, s.Until)));
        // P-2 until it went to the store on the same day, then P-1.
        Assert.Equal([("P-2", null, Today), ("P-1", (DateOnly?)Today, null)], here.Stays.Select(s => (s.Tag, s.From, s.Until)));
        Assert.Equal("Moved: from the store to P-1 in place of S-1. the old one knocks", here.History[^1].What);

        var stored = Must(await new PumpRecord(bench.Desk).One("S-1", Ct));
        Assert.Equal((true, "M30-S", 1_000L, null, "K"), (stored.InStore, stored.Model, stored.Strokes!.Value, stored.Zone, Assert.Single(stored.Fitted).Kit));
        Assert.Equal([number], stored.Orders.Select(o => o.Number));
        Assert.Equal("Moved: from P-1 to the store; S-2 took its place. the old one knocks", stored.History[^1].What);

        var list = new PumpList(bench.Desk);
        Assert.Equal([("P-1", "S-2"), ("P-2", "S-9")], Must(await list.Find(new PumpFilter(), null, null, Ct)).Items.Select(p => (p.Tag, p.Serial)));
        Assert.Equal([("", "S-1", "K")], Must(await list.Find(new PumpFilter { InStore = true }, null, null, Ct)).Items.Select(p => (p.Tag, p.Serial, string.Join(' ', p.Fitted))));
        Assert.Empty(Must(await list.Find(new PumpFilter { InStore = true }, "S-1", 1, Ct)).Items);
        Assert.Equal(["S-1"], (await new SwapOffer(bench.Desk).InStore("P-1", Ct)).Select(p => p.Serial));
    }

    [Fact]
    public async Task Two_pumps_change_places()
    {
        await using var bench = await New(databases);
        Must(await new SwapPump(bench.Desk).Run(bench.Planner, "P-1", new SwapInput("S-2", "balanced wear", null, "P-2"), Ct));
        Assert.Equal(["P-1 S-2", "P-2 S-1"], Must(await new PumpList(bench.Desk).Find(new PumpFilter(), null, null, Ct)).Items.Select(p => $"{p.Tag} {p.Serial}"));
        // The same again the other way round; the stays of before are ended, not overwritten.
        Must(await new SwapPump(bench.Desk).Run(bench.Planner, "P-1", new SwapInput("S-1", "back again", null, "P-2"), Ct));
        Assert.Equal(["P-1", "P-2", "P-1"], Must(await new PumpRecord(bench.Desk).One("P-1", Ct)).Stays.Select(s => s.Tag));
    }

    [Fact]
    public async Task A_pump_with_an_order_that_has_not_ended_stays_where_it_is()
    {
        await using var bench = await New(databases);
        var swap = new SwapPump(bench.Desk);
        var number = await bench.Underway("P-2");
        Assert.Contains($"order {number} (underway)", Refused(await swap.Run(bench.Planner, "P-1", new SwapInput("S-2", "it knocks"), Ct), "pump-has-orders").Sentence, StringComparison.Ordinal);
        Assert.Contains("S-2 has order", Refused(await swap.Run(bench.Planner, "P-2", new SwapInput("S-1", "it knocks"), Ct), "pump-has-orders").Sentence, StringComparison.Ordinal);
        await SpareInStore(bench, "S-7");
        await bench.Draft("P-1");
        Refused(await swap.Run(bench.Planner, "P-1", new SwapInput("S-7", "it knocks"), Ct), "pump-has-orders");
        var offered = Must(await new SwapOffer(bench.Desk).Look("P-1", new SwapInput("S-7", "it knocks"), Ct));
        Assert.Equal(("S-1", "S-7", "pump-has-orders"), (offered.Leaving!.Serial, offered.Coming.Serial, offered.Refusal!.Code));
        Assert.Contains("24 V dc", string.Join(", ", offered.Stays), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_swap_that_cannot_be_is_refused_and_moves_nothing()
    {
        await using var bench = await New(databases);
        await SpareInStore(bench, "S-7");
        var swap = new SwapPump(bench.Desk);
        Refused(await swap.Run(bench.Planner, "P-9", new SwapInput("S-2", "why"), Ct), "pump-unknown");
        Refused(await swap.Run(bench.Planner, "P-1", new SwapInput("S-99", "why"), Ct), "pump-unknown");
        Refused(await swap.Run(bench.Planner, "P-1", new SwapInput("S-1", "why"), Ct), "pump-stands-there");
        Refused(await swap.Run(bench.Planner, "P-1", new SwapInput("S-7", " "), Ct), "reason-missing");
        Refused(await swap.Run(bench.Planner, "P-1", new SwapInput("S-7", "why", Today.AddDays(1)), Ct), "swap-in-future");
        Refused(await swap.Run(bench.Planner, "P-1", new SwapInput("S-7", "why", null, "P-9"), Ct), "position-unknown");
        Refused(await swap.Run(bench.Planner, "P-1", new SwapInput("S-7", "why", null, "P-2"), Ct), "position-taken");
        Refused(await swap.Run(bench.Technician, "P-1", new SwapInput("S-7", "why"), Ct), "not-allowed");
        // S-7 went to the store on the day of the import.
        Refused(await swap.Run(bench.Planner, "P-1", new SwapInput("S-7", "why", Today.AddDays(-1)), Ct), "swap-before-last");
        await using var db = bench.Db();
        await db.Database.ExecuteSqlAsync($"update pump set out_of_service = 'Broken off.' where serial = 'S-7'", Ct);
        Refused(await swap.Run(bench.Planner, "P-1", new SwapInput("S-7", "why"), Ct), "pump-out-of-service");
        Assert.Equal(["P-1 S-1", "P-2 S-2"], Must(await new PumpList(bench.Desk).Find(new PumpFilter(), null, null, Ct)).Items.Select(p => $"{p.Tag} {p.Serial}"));
    }

    [Fact]
    public async Task A_meter_is_read_by_those_at_the_pump_and_counts_up()
    {
        await using var bench = await New(databases);
        var record = new RecordStrokes(bench.Desk);
        Must(await record.Run(bench.Technician, "P-1", new StrokesInput(1_000, Today.AddDays(-10)), Ct));
        Must(await record.Run(bench.Planner, "P-1", new StrokesInput(5_000), Ct));
        Refused(await record.Run(bench.Technician, "P-1", new StrokesInput(4_999), Ct), "strokes-below-last");
        Refused(await record.Run(bench.Technician, "P-1", new StrokesInput(4_999, null, true, " "), Ct), "note-missing");
        Refused(await record.Run(bench.Technician, "P-1", new StrokesInput(6_000, Today.AddDays(-3)), Ct), "reading-before-last");
        Refused(await record.Run(bench.Technician, "P-1", new StrokesInput(6_000, Today.AddDays(3)), Ct), "reading-in-future");
        Refused(await record.Run(bench.Technician, "P-1", new StrokesInput(-1), Ct), "strokes-out-of-range");
        Refused(await record.Run(bench.Technician, "P-9", new StrokesInput(1), Ct), "pump-unknown");
        Refused(await record.Run(bench.Clerk, "P-1", new StrokesInput(6_000), Ct), "not-allowed");
        Must(await record.Run(bench.Technician, "P-1", new StrokesInput(12, null, true, "old one stuck at 5,000"), Ct));
        var pump = Must(await new PumpRecord(bench.Desk).One("P-1", Ct));
        Assert.Equal([(1_000L, false, null, "Tess Technician"), (5_000L, false, null, "Petra Planner"), (12L, true, "old one stuck at 5,000", "Tess Technician")],
            pump.StrokeReadings.Select(r => (r.Strokes, r.MeterReplaced, r.Note, r.ReadBy)));
        Assert.Equal(12, pump.Strokes);
    }

    /// <summary>S-2, or a pump that stood at P-2 for a moment, goes to the store by an import that puts another one in its place.</summary>
    [Fact]
    public async Task A_draft_that_meets_a_swap_is_for_the_pump_that_came()
    {
        await using var bench = await New(databases);
        await SpareInStore(bench);
        await using var swapping = bench.Db();
        await using var halfway = await swapping.Database.BeginTransactionAsync(Ct);
        await swapping.Database.ExecuteSqlAsync($"update pump set position_id = null where serial = 'S-1'", Ct);
        await swapping.Database.ExecuteSqlAsync($"update pump set position_id = (select id from position where tag = 'P-1') where serial = 'S-2'", Ct);
        var drafting = bench.Draft("P-1");
        await using var watching = bench.Db();
        while (!drafting.IsCompleted && await watching.Database.SqlQuery<int>(
            $"select count(*)::int as \"Value\" from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock'").SingleAsync(Ct) == 0)
            await Task.Delay(5, Ct);
        await halfway.CommitAsync(Ct);
        var number = await drafting;
        Assert.Equal("S-2", await watching.WorkOrders.Where(o => o.Number == number).Join(watching.Pumps, o => o.PumpId, p => p.Id, (_, p) => p.Serial).SingleAsync(Ct));
    }

    static async Task SpareInStore(OrderBench bench, string serial = "S-2")
    {
        const string Head = "tag,serial,model,criticality\n";
        if (serial != "S-2")
        {
            await bench.Plant.Good("pumps", $"{Head}P-3,{serial},M30,5\n");
            await bench.Plant.Good("pumps", $"{Head}P-3,S-8,M30,5\n");
            await using var db = bench.Db();
            await db.Database.ExecuteSqlAsync($"delete from pump_stay where pump_id = (select id from pump where serial = 'S-8')", Ct);
            await db.Database.ExecuteSqlAsync($"delete from pump where serial = 'S-8'", Ct);
            return;
        }
        await bench.Plant.Good("pumps", $"{Head}P-2,S-9,M30,5\n");
    }
}
