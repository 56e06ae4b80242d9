using KitOrders.Operations.Parts;
using KitOrders.Operations.Stock;
using KitOrders.Operations.Tests.Orders;
using KitOrders.Rules;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Parts;

public sealed class StandInsTests(TestDatabase databases)
{
    [Fact]
    public async Task A_planner_approves_changes_and_drops_an_alternate()
    {
        await using var bench = await New(databases);
        Task<Outcome<string>> Approve(string part, AlternateApproval given) => new ApproveAlternate(bench.Desk).Run(bench.Planner, part, given, Ct);
        Must(await Approve("B", new("C", 2)));
        Must(await Approve("B", new("P", 1, true)));
        Must(await Approve("B", new("C", 3, true)));
        Assert.Equal([("P", 1, true), ("C", 3, true)], (await bench.Ledger("B")).StandIns.Select(a => (a.Part, a.Preference, a.BothWays)));
        Assert.Equal([("B", 3, true)], (await bench.Ledger("C")).StandIns.Select(a => (a.Part, a.Preference, a.BothWays)));
        Assert.Equal(["P", "C"], (await bench.Ledger("B")).Alternates);
        Must(await new DropAlternate(bench.Desk).Run(bench.Planner, "B", "C", Ct));
        Assert.Equal(["P"], (await bench.Ledger("B")).StandIns.Select(a => a.Part));

        Refused(await new DropAlternate(bench.Desk).Run(bench.Planner, "B", "C", Ct), "alternate-not-approved");
        Refused(await Approve("B", new("B")), "alternate-of-itself");
        Refused(await Approve("B", new("S")), "alternate-unit");
        Refused(await Approve("B", new("P", 0)), "preference-out-of-range");
        Assert.Contains("alternate", Refused(await Approve("B", new("nothing")), "part-unknown").Errors.Keys);
        Refused(await Approve("nothing", new("B")), "part-unknown");
        Refused(await new ApproveAlternate(bench.Desk).Run(bench.Clerk, "B", new("C"), Ct), "not-allowed");
    }

    [Fact]
    public async Task A_supersession_is_said_and_a_circle_of_three_is_refused_with_its_path()
    {
        await using var bench = await New(databases);
        Task<Outcome<string>> Supersede(string part, string? by) => new SupersedePart(bench.Desk).Run(bench.Planner, part, by, Ct);
        Must(await Supersede("B", "C"));
        Must(await Supersede("C", "P"));
        Assert.Equal("C", (await bench.Ledger("B")).SupersededBy);
        Assert.Equal(["B"], (await bench.Ledger("C")).Supersedes);
        Assert.Equal("C", Must(await new StoreFinder(bench.Desk).Part("B", Ct)).SupersededBy);
        Assert.Contains("P → B → C → P", Refused(await Supersede("P", "B"), "supersedes-itself").Sentence, StringComparison.Ordinal);
        Refused(await Supersede("B", "B"), "supersedes-itself");
        Refused(await Supersede("B", "S"), "alternate-unit");
        Refused(await Supersede("B", "nothing"), "part-unknown");
        Must(await Supersede("C", null));
        Must(await Supersede("P", "B"));
        Refused(await Supersede("E", " "), "not-superseded");
    }

    [Fact]
    public async Task Two_supersessions_that_would_close_a_circle_together_do_not_both_stand()
    {
        await using var bench = await New(databases);
        var both = await Task.WhenAll(new SupersedePart(bench.Desk).Run(bench.Planner, "B", "C", Ct), new SupersedePart(bench.Desk).Run(bench.Planner, "C", "B", Ct));
        Assert.Equal("supersedes-itself", Assert.Single(both, o => !o.IsDone).Refusal!.Code);
    }
}
