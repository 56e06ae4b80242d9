using Bunit;
using KitOrders.Operations.Stock;
using KitOrders.Rules.People;
using KitOrders.Web.Setup;
using Xunit;

namespace KitOrders.Web.Tests.Setup;

public sealed class TruthSheetTests : BunitContext
{
    static readonly TruthFinding holds = new(StockTruth.Checks[0], 1_250, 0, [], TimeSpan.FromSeconds(0.42));

    static readonly TruthFinding broken = new(StockTruth.Checks[1], 4_000_000, 120,
        [.. Enumerable.Range(1, 100).Select(n => new BrokenRow($"movement {n}: on hand after 5, running sum 4", "P/1", "A 1", "20011"))], TimeSpan.FromSeconds(75));

    [Fact]
    public void Every_check_of_the_product_has_words_of_its_own()
    {
        Assert.All(StockTruth.Checks, check => Assert.NotEqual("", TruthWords.Of(check).Meaning));
        Assert.Equal(StockTruth.Checks.Count, StockTruth.Checks.Select(c => TruthWords.Of(c).Title).Distinct().Count());
    }

    [Fact]
    public void A_check_is_told_by_shape_and_word_with_what_it_compared_and_its_time()
    {
        var sheet = Sheet(running: true, Roles.All, holds, broken);
        Assert.Equal(["holds", "does not hold", "checking", "waits"], sheet.FindAll(".mark .m").Take(4).Select(m => m.TextContent));
        Assert.Equal(["m passed", "m failed", "m underway", "m waiting"], sheet.FindAll(".mark .m").Take(4).Select(m => m.ClassName));
        Assert.Equal(["1,250 lots in bins", "0.4 s", "4,000,000 movements", "1 min 15 s"], sheet.FindAll(".took span").Select(s => s.TextContent));
    }

    [Fact]
    public void Rows_that_break_it_are_named_and_the_rest_counted()
    {
        var sheet = Sheet(running: false, Roles.All, holds, broken);
        Assert.Equal(100, sheet.FindAll(".broken li").Count);
        Assert.Equal("120 rows break it; the first 100 by name:", sheet.Find(".broken p").TextContent);
        Assert.Equal("And 20 rows more.", sheet.FindAll(".broken p")[^1].TextContent);
        Assert.Equal(["/orders/20011", "/storeroom/parts/P%2F1", "/storeroom/bins?begins=A%201"], sheet.FindAll(".broken li")[0].QuerySelectorAll("a").Select(a => a.GetAttribute("href")));
        Assert.Equal("not checked", sheet.FindAll(".mark .m")[2].TextContent);
    }

    [Theory]
    [InlineData(Roles.Administrator, "")]
    [InlineData(Roles.Administrator | Roles.Manager, "Order 20011")]
    [InlineData(Roles.Administrator | Roles.Storeroom, "Order 20011, Part P/1, Bin A 1")]
    public void Only_pages_that_one_may_open_are_linked_to(Roles roles, string links) =>
        Assert.Equal(links, string.Join(", ", Sheet(running: false, roles, broken).FindAll(".broken li")[0].QuerySelectorAll("a").Select(a => a.TextContent)));

    [Fact]
    public void The_end_of_a_run_says_what_it_means()
    {
        Assert.Equal("Every check holds: 1,250 rows compared, none breaks anything.", TruthWords.Sum([holds]));
        Assert.StartsWith("1 check does not hold: 120 rows break what must be true.", TruthWords.Sum([holds, broken]), StringComparison.Ordinal);
    }

    IRenderedComponent<TruthSheet> Sheet(bool running, Roles roles, params TruthFinding[] found) => Render<TruthSheet>(p => p
        .Add(s => s.Checks, StockTruth.Checks).Add(s => s.Found, found).Add(s => s.Running, running).Add(s => s.Roles, roles));
}
