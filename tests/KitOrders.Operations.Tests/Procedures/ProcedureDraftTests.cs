using KitOrders.Operations.Orders;
using KitOrders.Operations.Procedures;
using KitOrders.Operations.Pumps;
using KitOrders.Operations.Tests.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Procedures;

public sealed class ProcedureDraftTests(ProcedurePlant plant) : IClassFixture<ProcedurePlant>, IAsyncLifetime
{
    static readonly byte[] png = [137, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13];

    readonly OrderBench bench = plant.Bench;
    string pr = "";

    public async ValueTask InitializeAsync() => pr = await plant.Procedure();

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    [Fact]
    public async Task A_draft_is_a_copy_of_the_current_revision_under_the_next_number()
    {
        Assert.Equal(2, Must(await Begin(pr)));
        var draft = Must(await Records.Draft(pr, Ct));
        Assert.Equal((2, 1L, 1), (draft.Number, draft.Version, draft.Current));
        Assert.Equal(9, draft.Steps.Count);
        Assert.Equal(("Tighten the cover", 4, 9.4m, "Q"), (draft.Steps[6].Text, draft.Steps[6].Bolts, draft.Steps[6].Target, draft.Steps[5].Part));
        Assert.Equal(["M30", "M30-S"], draft.Models.Select(m => m.Code));
        Assert.Equal(("Q", "Quick-exhaust valve"), Assert.Single(draft.KeptParts));
        Assert.Empty(Must(await Records.One(pr, 2, null, Ct)).Differences);
    }

    [Fact]
    public async Task A_procedure_has_one_draft_at_a_time_also_when_two_begin_at_once()
    {
        var both = await Task.WhenAll(Begin(pr), Begin(pr));
        Assert.Single(both, b => b.IsDone);
        var refusal = Refused(both.Single(b => !b.IsDone), "draft-there");
        Assert.Equal($"Revision 2 of {pr} is being written already. Go on with it, or throw it away first.", refusal.Sentence);
    }

    [Fact]
    public async Task A_started_procedure_has_a_draft_with_what_every_procedure_needs()
    {
        Assert.Equal("P-77", Must(await new StartProcedure(bench.Desk).Run(bench.Planner, " P-77 ", Ct)));
        var draft = Must(await Records.Draft("P-77", Ct));
        Assert.Equal(StepDraft.Begun.Select(s => (s.PartOf, s.Kind, s.Text)), draft.Steps.Select(s => (s.PartOf, s.Kind, s.Text)));
        Assert.Contains("code", Refused(await new StartProcedure(bench.Desk).Run(bench.Planner, "P-77", Ct), "procedure-there").Errors.Keys);
        Refused(await new StartProcedure(bench.Desk).Run(bench.Planner, "  ", Ct), "code-missing");
        Refused(await new StartProcedure(bench.Desk).Run(bench.Planner, new string('P', 61), Ct), "code-missing");
        Refused(await new StartProcedure(bench.Desk).Run(bench.Technician, "P-79", Ct), "not-allowed");
        var row = Assert.Single(await new ProcedureList(bench.Desk).Find("p-77", Ct));
        Assert.Equal((null, 1, 0), (row.Revision, row.Drafted, row.Steps));
    }

    [Fact]
    public async Task Kept_steps_stand_in_their_parts_numbered_by_their_places()
    {
        await Begin(pr);
        var jumbled = Written.Out.Reverse().ToList();
        Assert.Equal(2, Must(await Keep(pr, 2, jumbled, seen: 1)));
        var steps = Must(await Records.One(pr, 2, null, Ct)).Steps;
        Assert.Equal(Enumerable.Range(1, 10), steps.Select(s => s.Number));
        Assert.Equal(steps.Select(s => s.Step.PartOf).Order(), steps.Select(s => s.Step.PartOf));
        Assert.Equal("Verify: done at this pump", steps[0].Step.Text);
    }

    [Fact]
    public async Task The_second_of_two_tabs_is_refused_and_loses_nothing_on_record()
    {
        await Begin(pr);
        Must(await Keep(pr, 2, Written.WithWarning, seen: 1));
        Refused(await Keep(pr, 2, Written.Out, seen: 1), "changed-meanwhile");
        Assert.Contains(Must(await Records.Draft(pr, Ct)).Steps, s => s.SignalWord == SignalWord.Warning);
        Must(await Keep(pr, 2, Written.Out, seen: 2));
    }

    [Fact]
    public async Task Every_value_that_cannot_be_kept_is_said_at_its_step_and_field()
    {
        await Begin(pr);
        var steps = Written.Out.ToList();
        steps[1] = steps[1] with { Text = new string('x', 2001), Minutes = -1 };
        steps[5] = steps[5] with { Part = "NONE", Model = "M99", DocumentId = 99, Pictures = [new StepPicture(new string('a', 64), "Not kept")] };
        var refusal = Refused(await Keep(pr, 2, steps, seen: 1), "steps-wrong");
        Assert.Equal(["steps[1].minutes", "steps[1].text", "steps[5].document", "steps[5].model", "steps[5].part", "steps[5].pictures"], refusal.Errors.Keys.Order());
        Assert.Equal(9, Must(await Records.Draft(pr, Ct)).Steps.Count);
        Refused(await Keep(pr, 2, [.. Enumerable.Repeat(Written.Torque, 501)], seen: 1), "steps-too-many");
    }

    [Fact]
    public async Task What_is_not_there_or_is_no_draft_is_said()
    {
        Refused(await Begin("NO"), "procedure-unknown");
        Refused(await Keep("NO", 1, Written.Out), "procedure-unknown");
        Refused(await Release("NO", 1), "procedure-unknown");
        Refused(await Throw("NO", 1), "procedure-unknown");
        Refused(await Records.One("NO", null, null, Ct), "procedure-unknown");
        Refused(await Records.Draft("NO", Ct), "procedure-unknown");
        Refused(await Records.Draft(pr, Ct), "draft-unknown");
        Refused(await Keep(pr, 7, Written.Out), "revision-unknown");
        Refused(await Records.One(pr, 7, null, Ct), "revision-unknown");
        Refused(await Records.One(pr, 1, 7, Ct), "revision-unknown");
        Assert.Contains("was released on 2026-03-02 and is frozen", Refused(await Keep(pr, 1, Written.Out), "revision-not-draft").Sentence, StringComparison.Ordinal);
        Refused(await Throw(pr, 1), "revision-not-draft");
    }

    [Fact]
    public async Task Nobody_but_a_planner_writes_procedures()
    {
        Must(await Begin(pr));
        Refused(await new DraftProcedure(bench.Desk).Run(bench.Technician, pr, Ct), "not-allowed");
        Refused(await new KeepProcedure(bench.Desk).Run(bench.Manager, pr, 2, Written.Out, Ct), "not-allowed");
        Refused(await new ReleaseProcedure(bench.Desk).Run(bench.Clerk, pr, 2, null, Ct), "not-allowed");
        Refused(await new ThrowDraftAway(bench.Desk).Run(bench.Technician, pr, 2, Ct), "not-allowed");
    }

    [Fact]
    public async Task A_draft_with_checks_against_it_is_not_released_and_every_sentence_is_given()
    {
        // The imported revision lacks Unlock: and Tell:, which an import warns of and a release refuses (29 CFR 1910.147(e)).
        await Begin(pr);
        var refusal = Refused(await Release(pr, 2), "release-checks");
        Assert.Equal(2, refusal.Errors["energy-step-missing"].Length);
        Must(await Keep(pr, 2, [.. Written.Out.Where(s => s.Kind != StepKind.FunctionTest)], seen: 1));
        Assert.Contains("function-test-missing", Refused(await Release(pr, 2), "release-checks").Errors.Keys);
        Must(await Keep(pr, 2, [], seen: 2));
        Assert.Contains("part-empty", Refused(await Release(pr, 2), "release-checks").Errors.Keys);
        Assert.Equal((1, 2), ((await Row(pr)).Revision, (await Row(pr)).Drafted));
    }

    [Fact]
    public async Task Releasing_supersedes_and_an_open_order_keeps_the_steps_it_opened_with()
    {
        var before = await plant.Opened(pr);
        await Begin(pr);
        Must(await Keep(pr, 2, Written.WithWarning));
        Assert.Equal(2, Must(await Release(pr, 2)));
        var view = Must(await Records.One(pr, null, null, Ct));
        Assert.Equal([(1, RevisionState.Superseded, 1), (2, RevisionState.Released, 0)], view.Revisions.Select(r => (r.Number, r.State, r.Orders)));
        Assert.Equal((before, 1), Assert.Single(view.Orders.Select(o => (o.Number, o.Revision!.Value))));
        Assert.Equal(9, (await bench.View(before)).Steps.Count);
        var after = await plant.Opened(pr);
        var steps = (await bench.View(after)).Steps;
        Assert.Equal(("Tighten the cover", SignalWord.Warning, "Stored air."), (steps[5].Text, steps[5].SignalWord, steps[5].Hazard));
        Assert.Equal(2, (await bench.View(after)).ProcedureRevision);
    }

    [Fact]
    public async Task Of_two_releases_at_once_one_wins_and_the_other_hears_the_truth()
    {
        await Begin(pr);
        Must(await Keep(pr, 2, Written.Out));
        var both = await Task.WhenAll(Release(pr, 2), Release(pr, 2));
        Assert.Equal(2, Assert.Single(both, b => b.IsDone).Value);
        Assert.Contains($"Revision 2 of {pr} was released on 2026-03-02 and is frozen", Refused(both.Single(b => !b.IsDone), "revision-not-draft").Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_release_of_another_keeping_than_was_seen_is_refused()
    {
        await Begin(pr);
        Must(await Keep(pr, 2, Written.Out));
        Refused(await Release(pr, 2, seen: 1), "changed-meanwhile");
        Refused(await new ThrowDraftAway(bench.Desk).Run(bench.Planner with { SeenVersion = 1 }, pr, 2, Ct), "changed-meanwhile");
        Must(await Release(pr, 2, seen: 2));
    }

    [Fact]
    public async Task A_draft_that_an_import_overtook_is_released_over_it_only_when_that_was_seen()
    {
        await Begin(pr);
        Must(await Keep(pr, 2, Written.Out));
        await bench.Plant.Good("procedures", TestPlants.WorkedPlant.Files.Single(f => f.File == "procedures").Csv.Replace("PR,1,", $"{pr},5,", StringComparison.Ordinal));
        Assert.Contains($"Revision 5 of {pr} was released after this draft was begun", Refused(await Release(pr, 2), "revision-overtaken").Sentence, StringComparison.Ordinal);
        Refused(await Release(pr, 2, over: 4), "revision-overtaken");
        Assert.Equal(6, Must(await Release(pr, 2, over: 5)));
        Assert.Equal((6, (int?)null), ((await Row(pr)).Revision, (await Row(pr)).Drafted));
    }

    [Fact]
    public async Task Thrown_away_the_draft_is_gone_and_a_procedure_that_had_nothing_else_with_it()
    {
        await Begin(pr);
        Must(await Throw(pr, 2));
        Refused(await Throw(pr, 2), "revision-unknown");
        Assert.Equal((1, (int?)null), ((await Row(pr)).Revision, (await Row(pr)).Drafted));
        Must(await new StartProcedure(bench.Desk).Run(bench.Planner, "P-78", Ct));
        Must(await Throw("P-78", 1));
        Refused(await Records.One("P-78", null, null, Ct), "procedure-unknown");
        Must(await new StartProcedure(bench.Desk).Run(bench.Planner, "P-78", Ct));
    }

    [Fact]
    public async Task The_database_itself_refuses_to_change_a_step_once_it_is_released()
    {
        await using var db = bench.Db();
        foreach (var change in new[] { "update procedure_step set text = 'other'", "delete from procedure_step" })
            Assert.Equal(PostgresErrorCodes.RestrictViolation, (await Assert.ThrowsAsync<PostgresException>(() => db.Database.ExecuteSqlRawAsync(change, Ct))).SqlState);
    }

    [Fact]
    public async Task A_cited_document_and_a_picture_go_with_the_step_into_the_order()
    {
        var manual = Must(await new AddDocument(bench.Desk).Run(bench.Planner, new NewDocument("M30", null, DocumentKind.Manual, "Air valve manual", "4", "m.pdf"), [.. "%PDF-1.7"u8], Ct));
        var sha = Must(await new AddPicture(bench.Desk).Run(bench.Planner, png, Ct));
        await Begin(pr);
        var steps = Written.Out.ToList();
        steps[5] = steps[5] with { DocumentId = manual, Document = "what somebody typed", Page = "34", Pictures = [new StepPicture(sha, " The cover from above ")] };
        Must(await Keep(pr, 2, steps));
        Assert.Equal(("Air valve manual", "4", "34"), Must(await Records.Draft(pr, Ct)).Steps[5] is var kept ? (kept.Document, kept.Edition, kept.Page) : default);
        Assert.Equal(manual, Assert.Single(Must(await Records.Draft(pr, Ct)).Models.Single(m => m.Code == "M30").Documents).Id);
        Must(await Release(pr, 2));
        var order = await plant.Opened(pr);

        // Whatever happens to the document and the procedure afterwards, the order shows what it opened with.
        Must(await new RemoveDocument(bench.Desk).Run(bench.Planner, manual, Ct));
        await Begin(pr);
        Must(await Keep(pr, 3, Written.WithWarning));
        Must(await Release(pr, 3));
        var step = (await bench.View(order)).Steps[5];
        Assert.Equal((manual, "Air valve manual", "34"), (step.DocumentId!.Value, step.Document, step.Page));
        Assert.Equal([new StepPicture(sha, "The cover from above")], step.Pictures);
        Assert.Equal(png, Must(await new PictureShelf(bench.Desk).One(sha, Ct)).Content.ToArray());
        Assert.Equal(8, Must(await new DocumentShelf(bench.Desk).One(manual, Ct)).Content.Length);
    }

    [Fact]
    public async Task The_differences_of_any_two_revisions_can_be_asked_for()
    {
        await Begin(pr);
        Must(await Keep(pr, 2, Written.Out));
        Must(await Release(pr, 2));
        await Begin(pr);
        Must(await Keep(pr, 3, Written.WithWarning));
        var view = Must(await Records.One(pr, 3, null, Ct));
        Assert.Equal((3, 2), (view.Shown.Number, view.Against));
        Assert.Equal(["consequence", "hazard", "how to avoid it", "signal word"], view.Differences.Select(d => d.What).Order());
        Assert.True(Must(await Records.One(pr, 3, 1, Ct)).Differences.Count > 4);
        Assert.Empty(Must(await Records.One(pr, 1, null, Ct)).Differences);
        Assert.Equal([$"CONV-{pr}"], view.Jobs.Select(j => j.Job));
    }

    ProcedureRecord Records => new(bench.Desk);

    async Task<ProcedureRow> Row(string code) => Assert.Single(await new ProcedureList(bench.Desk).Find(code, Ct));

    Task<Outcome<int>> Begin(string code) => new DraftProcedure(bench.Desk).Run(bench.Planner, code, Ct);

    Task<Outcome<long>> Keep(string code, int number, IReadOnlyList<StepDraft> steps, long? seen = null) =>
        new KeepProcedure(bench.Desk).Run(bench.Planner with { SeenVersion = seen }, code, number, steps, Ct);

    Task<Outcome<int>> Release(string code, int number, int? over = null, long? seen = null) =>
        new ReleaseProcedure(bench.Desk).Run(bench.Planner with { SeenVersion = seen }, code, number, over, Ct);

    Task<Outcome<string>> Throw(string code, int number) => new ThrowDraftAway(bench.Desk).Run(bench.Planner, code, number, Ct);
}
