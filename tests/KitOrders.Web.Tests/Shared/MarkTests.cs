using Bunit;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Web.Shared;
using Xunit;

namespace KitOrders.Web.Tests.Shared;

public sealed class MarkTests : BunitContext
{
    [Theory]
    [InlineData(OrderState.Draft, "Draft")]
    [InlineData(OrderState.Open, "Open")]
    [InlineData(OrderState.Staged, "Staged")]
    [InlineData(OrderState.Underway, "Underway")]
    [InlineData(OrderState.Finished, "Finished")]
    [InlineData(OrderState.Closed, "Closed")]
    [InlineData(OrderState.Cancelled, "Cancelled")]
    public void An_order_state_is_its_word_behind_its_own_mark(OrderState state, string word)
    {
        var mark = Render<StateMark>(p => p.Add(m => m.State, state)).Find("span.m");
        Assert.Equal(word, mark.TextContent);
        Assert.Contains(word.ToLowerInvariant(), mark.ClassList);
        Assert.Contains($".{word.ToLowerInvariant()} {{ --i: var(--m-{word.ToLowerInvariant()}) }}", Css.Read("parts"));
    }

    [Theory]
    [InlineData(Covered.Picked, "picked")]
    [InlineData(Covered.Reserved, "reserved")]
    [InlineData(Covered.Incoming, "incoming")]
    [InlineData(Covered.Short, "short")]
    public void A_line_mark_says_where_the_pieces_stand(Covered by, string word)
    {
        var mark = Render<LineMark>(p => p.Add(m => m.By, by)).Find("span.m");
        Assert.Equal(word, mark.TextContent);
        Assert.Contains(word, mark.ClassList);
    }

    [Theory]
    [InlineData(CheckResult.Passed, false, "passed")]
    [InlineData(CheckResult.Failed, false, "failed")]
    [InlineData(CheckResult.Unknown, false, "unknown")]
    [InlineData(CheckResult.Unknown, true, "answered")]
    // An answer does not waive a failed check.
    [InlineData(CheckResult.Failed, true, "failed")]
    [InlineData(CheckResult.Passed, true, "passed")]
    public void A_check_mark_is_answered_only_where_it_was_unknown(CheckResult result, bool answered, string word)
    {
        var mark = Render<CheckMark>(p => p.Add(m => m.Result, result).Add(m => m.Answered, answered)).Find("span.m");
        Assert.Equal(word, mark.TextContent);
        Assert.Contains(word, mark.ClassList);
    }

    [Fact]
    public void A_check_mark_without_its_word_still_says_it_to_those_who_do_not_see_it()
    {
        var mark = Render<CheckMark>(p => p.Add(m => m.Result, CheckResult.Failed).Add(m => m.MarkOnly, true)).Find("i.mk");
        Assert.Equal("failed", mark.GetAttribute("aria-label"));
        Assert.Equal("img", mark.GetAttribute("role"));
    }

    [Fact]
    public void A_line_that_holds_up_the_work_has_a_filled_balloon()
    {
        Assert.Contains("hot", Render<Balloon>(p => p.Add(b => b.Number, "5").Add(b => b.Hot, true)).Find(".bal").ClassList);
        Assert.DoesNotContain("hot", Render<Balloon>(p => p.Add(b => b.Number, "5")).Find(".bal").ClassList);
    }
}
