using KitOrders.Operations.Orders;
using KitOrders.Operations.People;
using KitOrders.Operations.Stock;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Orders;

/// <summary>What stands around an order: notes, photographs, kept replies, the store's day and its walk.</summary>
public sealed class AroundTheOrderTests(TestDatabase databases)
{
    [Fact]
    public async Task A_note_stands_in_the_history_under_the_name_of_who_wrote_it()
    {
        await using var bench = await New(databases);
        var number = await bench.Opened();
        Must(await new NoteOrder(bench.Desk).Run(bench.Technician, number, "Gate is locked after six.", Ct));
        var last = (await bench.View(number)).History[^1];
        Assert.Equal("Tess Technician", last.Person);
        Assert.Contains("Gate is locked after six.", last.Sentence, StringComparison.Ordinal);
        Assert.NotNull((await new NoteOrder(bench.Desk).Run(bench.Technician, number, "  ", Ct)).Refusal);
    }

    [Fact]
    public async Task A_photograph_is_kept_once_and_what_is_no_picture_is_refused()
    {
        await using var bench = await New(databases);
        var number = await bench.Underway();
        byte[] png = [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0, 0, 0, 13, .. "IHDR"u8, 0, 0, 0, 1, 0, 0, 0, 1, 8, 2, 0, 0, 0, 0, 0, 0, 0];
        var keep = new KeepPhotograph(bench.Desk);
        Must(await keep.Run(bench.Technician, number, 1, png, Ct));
        Assert.NotNull((await keep.Run(bench.Technician, number, 1, "not a picture"u8.ToArray(), Ct)).Refusal);
        Assert.NotNull((await keep.Run(bench.Technician, number, 99, png, Ct)).Refusal);
        Refused(await keep.Run(bench.Clerk, number, 1, png, Ct), "not-allowed");
        Must(await keep.Run(bench.Technician, number, 1, png, Ct));
        var kept = Assert.Single(Must(await new Photographs(bench.Desk).Of(number, Ct)));
        Assert.Equal((1, "image/png", png.Length, "Tess Technician"), (kept.Step, kept.ContentType, kept.Bytes, kept.Person));
        Assert.Equal(png, Must(await new Photographs(bench.Desk).One(number, 1, kept.Sha256, Ct)).Content.ToArray());
        Assert.NotNull((await new Photographs(bench.Desk).One(number, 2, kept.Sha256, Ct)).Refusal);
    }

    [Fact]
    public async Task The_store_sees_what_is_to_be_picked_and_walks_the_bins_in_order()
    {
        await using var bench = await New(databases);
        var first = await bench.Opened("P-1");
        var second = await bench.Opened("P-2", neededIn: 3);
        var day = await new PicksDue(bench.Desk).Read(Ct);
        Assert.Equal([second, first], day.Orders.Select(o => o.Order));
        Assert.Equal(3, day.Orders.Single(o => o.Order == first).ToPick);
        var run = await new PickRun(bench.Desk).Read([first, second, "no such order"], Ct);
        Assert.Equal(run.Lines.Select(l => l.WalkOrder).Order(), run.Lines.Select(l => l.WalkOrder));
        Assert.Equal(["no such order"], run.Unknown);
        var valve = run.Lines.Single(l => l.Part == "Q");
        Assert.Equal([1m, 2m], valve.Pieces.Select(p => p.Held).Order());
    }

    [Fact]
    public async Task The_store_finds_a_part_and_what_lies_in_a_bin()
    {
        await using var bench = await New(databases);
        var part = Must(await new StoreFinder(bench.Desk).Part("Q", Ct));
        Assert.Equal(("Quick-exhaust valve", 3m), (part.Description, part.Lots.Single().Free));
        Assert.NotNull((await new StoreFinder(bench.Desk).Part("NONE", Ct)).Refusal);
        var bin = Assert.Single(await new StoreFinder(bench.Desk).Bins("B-1", 10, Ct));
        Assert.Equal(["E", "Q"], bin.Contents.Select(c => c.Part).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task A_reply_is_kept_with_its_command_and_another_body_under_the_key_is_refused()
    {
        await using var bench = await New(databases);
        var number = await bench.Draft();
        var key = new CommandKey("k-1", "h-1");
        Must(await new OpenOrder(bench.Desk).Run(bench.Planner with { Key = key }, number, Ct));
        var replies = new Replies(bench.Desk);
        Assert.Null(Must(await replies.Find(bench.Planner.Actor, key, Ct)));
        await replies.Keep(bench.Planner.Actor, key, "the words", Ct);
        await replies.Keep(bench.Planner.Actor, key, "other words", Ct);
        Assert.Equal("the words", Must(await replies.Find(bench.Planner.Actor, key, Ct)));
        Assert.Null(Must(await replies.Find(bench.Manager.Actor, key, Ct)));
        Refused(await replies.Find(bench.Planner.Actor, new CommandKey("k-1", "h-2"), Ct), "idempotency-key-reused");
    }

    [Fact]
    public async Task The_demo_goes_into_an_empty_plant_only()
    {
        await using var bench = await New(databases);
        Refused(await new DemoPlant(bench.Desk).Begin(Ct), "not-empty");
        Assert.Empty(Must(await new PinHolders(bench.Desk).Read(bench.Technician.Actor, Ct)));
    }
}
