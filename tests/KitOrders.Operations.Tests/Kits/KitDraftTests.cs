using KitOrders.Operations.Kits;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Tests.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Kits;

public sealed class KitDraftTests(TestDatabase databases)
{
    static async Task<KitDraftView> Draft(OrderBench bench, string kit = "K") => Must(await new KitDraft(bench.Desk).One(kit, Ct));

    static async Task<KitDraftView> Started(OrderBench bench, string kit = "K", string? description = null)
    {
        Must(await new StartDraft(bench.Desk).Run(bench.Planner, kit, null, description, Ct));
        return await Draft(bench, kit);
    }

    static Task<Outcome<KeptDraft>> Keep(OrderBench bench, KitDraftView draft, DraftContent content, long? seen = null) =>
        new KeepDraft(bench.Desk).Run(bench.Planner with { SeenVersion = seen ?? draft.Version }, draft.Kit, draft.Revision, content, Ct);

    static Task<Outcome<ReleasedRevision>> Release(OrderBench bench, KitDraftView draft, long? seen = null) =>
        new ReleaseDraft(bench.Desk).Run(bench.Planner with { SeenVersion = seen }, draft.Kit, draft.Revision, Ct);

    static DraftContent WithLine(DraftContent content, DraftLine line) => content with { Lines = [.. content.Lines, line] };

    [Fact]
    public async Task A_draft_begins_as_a_copy_of_the_released_revision_and_a_kit_has_one_at_a_time()
    {
        await using var bench = await New(databases);
        var draft = await Started(bench);
        Assert.Equal((2, 1), (draft.Revision, draft.Released!.Value));
        Assert.Equal(["1 V 1 InTheBox", "2 P 1 InTheBox", "3 E 1 BoughtSeparately", "4 Q 2 CarriedOver"], draft.Content.Lines.Select(l => $"{l.Number} {l.Part} {l.Quantity:0} {l.Source}"));
        var fit = Assert.Single(draft.Content.Fits);
        Assert.Equal(("M30", "M30-S", 24m, "PP+PTFE", true), (fit.Model, fit.ConvertsTo, fit.Volts, string.Join('+', fit.Materials), fit.Once));
        Assert.Equal(["B", "C", "S"], draft.Parts["V"].Inside.Select(l => l.Part));
        Assert.Empty(Must(await new KitDraft(bench.Desk).Judge("K", 2, draft.Content, Ct)).Difference!.Rows);

        Assert.Contains("Revision 2 of K is a draft already", Refused(await new StartDraft(bench.Desk).Run(bench.Planner, "K", 1, null, Ct), "draft-exists").Sentence, StringComparison.Ordinal);
        Refused(await new StartDraft(bench.Desk).Run(bench.Clerk, "K", 1, null, Ct), "not-allowed");
        Refused(await new StartDraft(bench.Desk).Run(bench.Planner, "V", 9, null, Ct), "revision-unknown");
    }

    [Fact]
    public async Task A_part_becomes_a_kit_and_a_number_nobody_knows_becomes_a_part_with_it()
    {
        await using var bench = await New(databases);
        Refused(await new KitDraft(bench.Desk).One("P", Ct), "draft-unknown");
        Assert.Empty((await Started(bench, "P")).Content.Lines);
        Refused(await new StartDraft(bench.Desk).Run(bench.Planner, "NEW-1", null, " ", Ct), "part-unknown");
        Refused(await new StartDraft(bench.Desk).Run(bench.Planner, "NEW 1", null, "Seals", Ct), "number-unreadable");
        var made = await Started(bench, "NEW-1", "Seals for the shutdown");
        Assert.Equal((1, (int?)null, "Seals for the shutdown"), (made.Revision, made.Released, made.Description));
        Assert.Equal(0, await bench.Free("NEW-1"));

        Must(await new DropDraft(bench.Desk).Run(bench.Planner, "NEW-1", 1, Ct));
        Refused(await new KitDraft(bench.Desk).One("NEW-1", Ct), "draft-unknown");
        Refused(await new DropDraft(bench.Desk).Run(bench.Planner, "NEW-1", 1, Ct), "revision-unknown");
        Refused(await new DropDraft(bench.Desk).Run(bench.Planner, "K", 1, Ct), "revision-frozen");
    }

    [Fact]
    public async Task A_draft_is_kept_whole_and_two_windows_do_not_write_over_each_other()
    {
        await using var bench = await New(databases);
        var draft = await Started(bench);
        var content = WithLine(draft.Content with { Buildable = false, Fits = [draft.Content.Fits[0] with { Amps = 0.3m, RequiresKits = ["V"] }] },
            new DraftLine(9, "C", 1, LineSource.ShopSupply) { Wraps = 2, WrapsFor = [3] });
        var kept = Must(await Keep(bench, draft, content));
        var now = await Draft(bench);
        Assert.Equal(kept.Version, now.Version);
        Assert.Equivalent(content, now.Content);
        Refused(await Keep(bench, draft, draft.Content), "changed-meanwhile");
        Assert.Equal(5, (await Draft(bench)).Content.Lines.Count);
        Must(await Keep(bench, now, draft.Content));
        Assert.Equivalent(draft.Content, (await Draft(bench)).Content);
    }

    [Fact]
    public async Task What_cannot_be_kept_at_all_is_refused_field_by_field_and_nothing_is_written()
    {
        await using var bench = await New(databases);
        var draft = await Started(bench);
        var wrong = new DraftContent(true,
            [
                new DraftLine(1, "V", 0, LineSource.InTheBox), new DraftLine(1, "NONE", 1, LineSource.InTheBox), new DraftLine(3, "", 1, LineSource.InTheBox) { Wraps = 0 },
                new DraftLine(4, "Q", 0.00001m, LineSource.CarriedOver) { RejectRate = 1.2m },
            ],
            [new DraftFit("M99") { Ports = "exhaust", Volts = -1, VoltsTolerancePct = 101, ExMarking = "EEx old", RequiresKits = ["NONE"] }, new DraftFit("M30"), new DraftFit("M30")]);
        var refusal = Refused(await Keep(bench, draft, wrong), "draft-values");
        Assert.Equal(
            ["fits[0].exMarking", "fits[0].model", "fits[0].ports", "fits[0].requiresKits", "fits[0].volts", "fits[0].voltsTolerancePct", "fits[2].model",
                "lines[0].quantity", "lines[1].number", "lines[1].part", "lines[2].part", "lines[2].wraps", "lines[3].quantity", "lines[3].rejectRate"],
            refusal.Errors.Keys.Order(StringComparer.Ordinal));
        Assert.Contains("the quantity must be above zero", refusal.Errors["lines[0].quantity"][0], StringComparison.Ordinal);
        Assert.Equal(refusal.Errors, Refused(await new KitDraft(bench.Desk).Judge("K", 2, wrong, Ct), "draft-values").Errors);
        Refused(await Keep(bench, draft, new DraftContent(true, [.. Enumerable.Repeat(draft.Content.Lines[0], 1_001)], [])), "draft-too-long");
        Assert.Equal(draft.Version, (await Draft(bench)).Version);
    }

    [Fact]
    public async Task Releasing_freezes_supersedes_and_open_orders_keep_what_they_opened_with()
    {
        await using var bench = await New(databases);
        var open = await bench.Opened("P-1");
        var draft = await Started(bench);
        Assert.Equal([open], draft.KeptBy);
        Must(await Keep(bench, draft, draft.Content with { Lines = [.. draft.Content.Lines.Where(l => l.Part != "E")] }));
        var before = await bench.View(open);
        var released = Must(await Release(bench, await Draft(bench)));
        Assert.Equal((2, 1, open), (released.Revision, released.Superseded!.Value, Assert.Single(released.KeptBy)));

        var kit = Must(await new KitRecord(bench.Desk).One("K", null, Ct));
        Assert.Equal([(1, RevisionState.Superseded), (2, RevisionState.Released)], kit.Revisions.Select(r => (r.Number, r.State)));
        Assert.Equal((Today, "Petra Planner"), (kit.Shown.ReleasedOn, kit.Shown.ReleasedBy));
        Assert.Equal(before.Demand.Select(d => d.Part), (await bench.View(open)).Demand.Select(d => d.Part));
        // The trees of K were read and kept when the first order opened; the next one takes what is released now.
        Assert.DoesNotContain((await bench.View(await bench.Opened("P-2"))).Demand, d => d.Part == "E");

        Refused(await Keep(bench, draft, draft.Content), "revision-frozen");
        Refused(await new DropDraft(bench.Desk).Run(bench.Planner, "K", 2, Ct), "revision-frozen");
        Refused(await Release(bench, draft), "revision-frozen");
        await using var db = bench.Db();
        foreach (var change in new[] { "update kit_line set quantity = 7", "delete from kit_line", "update kit_fit set volts = 12", "delete from kit_revision", "update kit_revision set buildable = not buildable", "update kit_revision set state = 'draft'" })
            Assert.Equal(PostgresErrorCodes.RestrictViolation, (await Assert.ThrowsAsync<PostgresException>(() => db.Database.ExecuteSqlRawAsync(change, Ct))).SqlState);
    }

    [Fact]
    public async Task Released_by_two_at_once_one_wins_and_the_other_hears_who_did()
    {
        await using var bench = await New(databases);
        var draft = await Started(bench);
        var both = await Task.WhenAll(Release(bench, draft, draft.Version), Release(bench, draft, draft.Version));
        Assert.Single(both, o => o.IsDone);
        var refusal = Refused(both.Single(o => !o.IsDone), "revision-frozen");
        Assert.Contains($"Revision 2 of K was released on {Today:yyyy-MM-dd} by Petra Planner", refusal.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_draft_that_an_imported_revision_has_overtaken_is_not_released_behind_it()
    {
        await using var bench = await New(databases);
        var draft = await Started(bench);
        await bench.Plant.Good("kits", "kit,revision,line,part,quantity,source\nK,3,1,P,1,inTheBox\n");
        Refused(await Release(bench, draft), "revision-overtaken");
        Must(await new DropDraft(bench.Desk).Run(bench.Planner, "K", 2, Ct));
        Assert.Equal(["P"], (await Started(bench)).Content.Lines.Select(l => l.Part));
    }

    [Fact]
    public async Task Kept_in_one_window_while_another_releases_ends_with_one_of_the_two()
    {
        await using var bench = await New(databases);
        var draft = await Started(bench);
        var keep = Keep(bench, draft, draft.Content with { Buildable = false });
        var release = Release(bench, draft, draft.Version);
        await Task.WhenAll(keep, release);
        var kit = Must(await new KitRecord(bench.Desk).One("K", 2, Ct));
        Assert.True((await keep).IsDone != (await release).IsDone);
        Assert.Equal((await release).IsDone ? (RevisionState.Released, true) : (RevisionState.Draft, false), (kit.Shown.State, kit.Shown.Buildable));
    }

    [Fact]
    public async Task Two_kits_that_would_hold_each_other_are_not_both_released()
    {
        await using var bench = await New(databases);
        // X is to hold K, and V is to hold X: alone each is right, together K holds V holds X holds K.
        var first = await Started(bench, "X", "Box of boxes");
        Must(await Keep(bench, first, new DraftContent(true, [new DraftLine(1, "P", 1, LineSource.InTheBox)], [])));
        Must(await Release(bench, first));
        var (x, v) = (await Started(bench, "X"), await Started(bench, "V"));
        Must(await Keep(bench, x, WithLine(x.Content, new DraftLine(2, "K", 1, LineSource.InTheBox))));
        Must(await Keep(bench, v, WithLine(v.Content, new DraftLine(4, "X", 1, LineSource.InTheBox))));
        Assert.All(Must(await new KitDraft(bench.Desk).Judge("V", 2, (await Draft(bench, "V")).Content, Ct)).Checks, c => Assert.True(c.Passed));
        var both = await Task.WhenAll(Release(bench, x), Release(bench, v));
        Assert.Single(both, o => o.IsDone);
        Assert.Contains(both[0].IsDone ? "V → X → K → V" : "X → K → V → X", Refused(both.Single(o => !o.IsDone), "release-checks").Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_release_check_is_made_with_what_is_recorded()
    {
        await using var bench = await New(databases);
        await bench.Plant.Good("parts", "part,description,unit,elastomers,lead_time_days,thread\nR,O-ring NBR,each,,4,\nG,Muffler,each,,4,BSPP 1 male\nN,Old spool,each,,,\n");
        var draft = await Started(bench);
        var content = draft.Content with
        {
            Lines =
            [
                .. draft.Content.Lines, new DraftLine(5, "R", 1, LineSource.InTheBox), new DraftLine(6, "G", 0.5m, LineSource.BoughtSeparately),
                new DraftLine(7, "N", 1, LineSource.CarriedOver), new DraftLine(8, "K", 1, LineSource.InTheBox),
            ],
        };
        var judged = Must(await new KitDraft(bench.Desk).Judge("K", 2, content, Ct));
        Assert.Equal(["line-unit", "kit-in-itself", "kit-cycle", "elastomer-without-material", "spare-not-to-be-had", "thread-meets-no-port"], judged.Checks.SelectMany(c => c.Against).Select(f => f.Code));
        Assert.Equal([5, 6, 7, 8], judged.Difference!.Since.Keys.Order());
        Must(await Keep(bench, draft, content));
        var refusal = Refused(await Release(bench, draft), "release-checks");
        Assert.StartsWith("6 things stand against releasing revision 2 of K.", refusal.Sentence, StringComparison.Ordinal);
        Assert.Equal(["line 5", "line 6", "line 7", "line 8"], refusal.Errors.Keys.Order(StringComparer.Ordinal));
        Assert.Equal(RevisionState.Draft, Must(await new KitRecord(bench.Desk).One("K", 2, Ct)).Shown.State);
    }

    [Fact]
    public async Task Two_revisions_are_compared_in_words()
    {
        await using var bench = await New(databases);
        var draft = await Started(bench);
        Must(await Keep(bench, draft, new DraftContent(false,
            [draft.Content.Lines[0], draft.Content.Lines[1] with { Quantity = 3 }, draft.Content.Lines[3] with { SparePolicy = SparePolicy.ByRate, RejectRate = 0.09m }, new DraftLine(5, "C", 1, LineSource.InTheBox)],
            [draft.Content.Fits[0] with { Ports = null, Amps = 0.3m }, new DraftFit("M30-S")])));
        var difference = Must(await new KitDifferences(bench.Desk).Between("K", 1, 2, Ct));
        Assert.Equal(
            [
                ": buildable yes → no", "2 P: quantity 1 → 3", "3 E: line 1, bought separately → ", "4 Q: spares kept all → by rate 0.09", "5 C: line  → 1, in the box",
                " M30: ports exhaust=NPT 1/2 male → none", " M30: amps 0.2 A → 0.3 A", " M30-S: model  → fits",
            ], difference.Rows.Select(r => $"{r.Line}{(r.Part.Length == 0 ? "" : $" {r.Part}")}: {r.Field} {r.Was} → {r.Now}"));
        Assert.Equal((1, 2, 1, 1), (difference.New, difference.Changed, difference.Out, difference.Same));
        Refused(await new KitDifferences(bench.Desk).Between("K", 1, 5, Ct), "revision-unknown");
    }

    [Fact]
    public async Task Where_a_part_is_used_is_read_through_every_level()
    {
        await using var bench = await New(databases);
        var draft = await Started(bench, "X", "Box of boxes");
        Must(await Keep(bench, draft, new DraftContent(true, [new DraftLine(1, "K", 2, LineSource.InTheBox), new DraftLine(2, "B", 1, LineSource.BoughtSeparately)], [])));
        var used = Must(await new WhereUsed(bench.Desk).Of("B", Ct));
        Assert.Equal(["V 1 False", "K 2 True"], used.Holders.Select(h => $"{h.Kit} {h.Level} {h.Top}"));
        Assert.Equal([("X", 1)], used.Drafts.Select(d => (d.Kit, d.Revision)));
        Assert.Equal([("CONV", "PR", "K")], used.Jobs.Select(j => (j.Job, j.Procedure, j.By)));
        Must(await Release(bench, draft));
        used = Must(await new WhereUsed(bench.Desk).Of("B", Ct));
        Assert.Equal(["V: InTheBox 1", "X: InTheBox 2, BoughtSeparately 1", "K: InTheBox 1"], used.Holders.Select(h => $"{h.Kit}: {string.Join(", ", h.Quantities.Select(q => $"{q.Source} {q.Quantity:0}"))}"));
        Assert.Equal([("PR", "6")], Must(await new WhereUsed(bench.Desk).Of("Q", Ct)).Procedures.Select(p => (p.Procedure, string.Join(",", p.Steps))));
        var open = await bench.Opened();
        Assert.Equal(1, Must(await new WhereUsed(bench.Desk).Of("E", Ct)).Orders);
        Refused(await new WhereUsed(bench.Desk).Of("NONE", Ct), "part-unknown");
        Assert.NotEmpty(open);
    }
}
