using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>The bench for every eye and every hand: rules of WCAG that a program can check, gloves, both orientations.</summary>
public sealed class BenchLookTests(BenchPlant plant) : IClassFixture<BenchPlant>
{
    public static TheoryData<int, int, bool> Tablets => new() { { 800, 1280, false }, { 1280, 800, true }, { 1024, 768, false } };

    [Theory]
    [MemberData(nameof(Tablets))]
    public async Task Every_screen_is_free_of_known_barriers_and_every_target_is_large_enough_for_a_glove(int width, int height, bool dark)
    {
        await using var tablet = await plant.Tablet(width, height, dark);
        await tablet.Page.GotoAsync("/bench");
        await tablet.Page.Locator("#today[aria-busy=false]").WaitForAsync();
        await Check(tablet, "today");
        await tablet.Open(await plant.Staged());
        await Check(tablet, "start");
        await tablet.Open(await plant.Underway(0));
        await Check(tablet, "check with a caution");
        await tablet.Press("Pause here");
        await Check(tablet, "pause");
        await tablet.Open(await plant.Underway(4));
        await Check(tablet, "reading");
        await tablet.Type("0.4");
        await Check(tablet, "outside its limits");
        await tablet.Press("Not as specified");
        await Check(tablet, "not as specified");
        await tablet.Press("Back to the step");
        await tablet.Page.Locator("[data-k='key clear']").ClickAsync();
        await tablet.Type("0.04");
        await tablet.Done("Keep 0.04 bar");
        await tablet.Sees("Hold point A");
        await Check(tablet, "hold point");
        await tablet.Done("Release hold point A");
        await Check(tablet, "who and pin");
        await tablet.Open(await plant.Underway(5));
        await Check(tablet, "carry-over");
        await tablet.Open(await plant.Underway(6));
        await Check(tablet, "torque");
        await tablet.Press("Another wrench, or an adapter");
        await Check(tablet, "adapter");
        await tablet.Page.Locator("[data-k=strip]").ClickAsync();
        await Check(tablet, "all steps");
        await tablet.Page.Locator("[data-k=bs]").ClickAsync();
        await Check(tablet, "what waits");
        Assert.Empty(tablet.Complaints);
    }

    static async Task Check(Tablet tablet, string screen)
    {
        await tablet.Page.WaitForTimeoutAsync(100);
        var axe = await tablet.Page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        Assert.True(axe.Passes.Length > 5, $"{screen}: the checks found nothing to check");
        Assert.True(axe.Violations.Length == 0, $"{screen}: {string.Join("; ", axe.Violations.Select(v => $"{v.Id}: {string.Join(" ", v.Nodes.Select(n => n.Html))}"))}");
        var small = await tablet.Page.EvaluateAsync<string[]>(
            """
            () => [...document.querySelectorAll("button, a, summary, label.btn, input:not(.vh)")]
              .map(e => [e, e.getBoundingClientRect()])
              .filter(([e, r]) => r.width > 0 && (r.width < 56 || r.height < 56))
              .map(([e, r]) => `${e.textContent.trim().slice(0, 30)} ${Math.round(r.width)} × ${Math.round(r.height)}`)
            """);
        Assert.True(small.Length == 0, $"{screen}: smaller than 56 px: {string.Join("; ", small)}");
        var large = await tablet.Page.EvaluateAsync<double>("() => document.querySelector('.done')?.getBoundingClientRect().height ?? 128");
        Assert.True(large >= 128, $"{screen}: the large action is {large} px high");
        Assert.True(await tablet.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth <= innerWidth"), $"{screen}: wider than the tablet");
    }
}
