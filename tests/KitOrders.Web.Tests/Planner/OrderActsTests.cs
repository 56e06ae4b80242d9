using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Web.Planner;
using Xunit;
using static KitOrders.Web.Tests.Planner.Sheets;

namespace KitOrders.Web.Tests.Planner;

public sealed class OrderActsTests
{
    [Theory]
    [InlineData(OrderState.Draft, Roles.Planner, "Open ChangeDates Cancel")]
    [InlineData(OrderState.Draft, Roles.Storeroom | Roles.Technician | Roles.Manager, "")]
    [InlineData(OrderState.Open, Roles.Planner, "ChangeDates RecordPermit Cancel")]
    [InlineData(OrderState.Open, Roles.Technician, "RecordPermit")]
    [InlineData(OrderState.Staged, Roles.Storeroom, "Unstage")]
    [InlineData(OrderState.Underway, Roles.Technician, "RecordPermit Pause")]
    [InlineData(OrderState.Underway, Roles.Planner, "RecordPermit Pause Cancel")]
    [InlineData(OrderState.Finished, Roles.Manager, "Close")]
    [InlineData(OrderState.Finished, Roles.Planner, "Reopen Close")]
    [InlineData(OrderState.Closed, Roles.All, "")]
    [InlineData(OrderState.Cancelled, Roles.All, "")]
    [InlineData(OrderState.Open, Roles.Administrator, "")]
    public void The_state_and_the_role_together_say_what_may_be_done(OrderState state, Roles roles, string acts) =>
        Assert.Equal(acts, string.Join(' ', OrderActs.For(Order(state, [Line("A")]), roles)));

    [Fact]
    public void A_kit_is_staged_once_all_that_is_held_is_picked()
    {
        Assert.DoesNotContain(OrderAct.Stage, OrderActs.For(Order(OrderState.Open, [Line("A", 2, picked: 1)]), Roles.Storeroom));
        var picked = Order(OrderState.Open, [Line("A", 2, picked: 2), Line("B", shortBy: 1)]);
        Assert.Contains(OrderAct.Stage, OrderActs.For(picked, Roles.Storeroom));
        Assert.Equal(OrderAct.Stage, OrderActs.First(picked, Roles.Storeroom));
    }

    [Theory]
    [InlineData(CheckResult.Passed, null, true, true)]
    [InlineData(CheckResult.Failed, null, true, false)]
    [InlineData(CheckResult.Unknown, null, true, false)]
    [InlineData(CheckResult.Unknown, "passed", true, true)]
    [InlineData(CheckResult.Unknown, "failed", true, false)]
    public void Opening_is_the_next_step_only_when_nothing_stands_against_it(CheckResult result, string? answer, bool answerable, bool mayOpen)
    {
        var draft = Order(OrderState.Draft, [Line("A")], [Check(result, answer, answerable)]);
        Assert.Equal(mayOpen, OrderActs.MayOpen(draft));
        Assert.Equal(mayOpen ? OrderAct.Open : null, OrderActs.First(draft, Roles.Planner));
        Assert.Null(OrderActs.First(draft, Roles.Technician));
    }

    [Fact]
    public void A_breakdown_may_open_with_an_unknown_but_not_with_an_unknown_that_only_data_answers()
    {
        Assert.True(OrderActs.MayOpen(Order(OrderState.Draft, [], [Check(CheckResult.Unknown)]) with { Breakdown = true }));
        Assert.False(OrderActs.MayOpen(Order(OrderState.Draft, [], [Check(CheckResult.Unknown, answerable: false)]) with { Breakdown = true }));
        Assert.False(OrderActs.MayOpen(Order(OrderState.Draft, [], [Check(CheckResult.Failed)]) with { Breakdown = true }));
    }

    [Fact]
    public void Paused_work_goes_on_next() =>
        Assert.Equal(OrderAct.Resume, OrderActs.First(Order(OrderState.Underway, paused: "no light"), Roles.Planner));
}
