using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>The bench for every eye and every hand: rules of WCAG that a program can check, gloves, both orientations.</summary>
public sealed class BenchLookTests(BenchPlant plant) : IClassFixture<BenchPlant>
{
    static readonly (int Width, int Height, bool Dark)[] tablets = [(1280, 800, true), (1024, 768, false), (800, 1280, false)];

    [Fact]
    public async Task Every_screen_is_free_of_known_barriers_and_every_target_is_large_enough_for_a_glove()
    {
        await using var tablet = await plant.Tablet();
        await tablet.Page.GotoAsync("/bench");
        await tablet.Page.Locator("#today[aria-busy=false]").WaitForAsync();
        await Check(tablet, "today", "");
        await tablet.Open(await plant.Staged());
        await Check(tablet, "start", "is staged at S-1");
        await tablet.Open(await plant.Underway(0));
        await Check(tablet, "check with a caution", "The pump held acid.");
        await tablet.Press("Pause here");
        await Check(tablet, "pause", "Pause: why?");
        await tablet.Open(await plant.Underway(4));
        await Check(tablet, "reading", "Verify: read the gauge");
        await tablet.Type("0.4");
        await Check(tablet, "outside its limits", "outside, 0.3 over");
        await tablet.Press("Not as specified");
        await Check(tablet, "not as specified", "Not as specified: what is it?");
        await tablet.Press("Back to the step");
        await tablet.Page.Locator("[data-k='key clear']").ClickAsync();
        await tablet.Type("0.04");
        await tablet.Done("Keep 0.04 bar");
        await Check(tablet, "hold point", "Hold point A");
        await tablet.Done("Release hold point A");
        await Check(tablet, "who and pin", "Who releases this hold point?");
        await tablet.Open(await plant.Underway(5));
        await Check(tablet, "carry-over", "piece 1 of 2");
        await tablet.Open(await plant.Underway(6));
        await Check(tablet, "torque", "pass 1 of 2");
        await tablet.Press("Another wrench, or an adapter");
        await Check(tablet, "adapter", "Wrench and adapter");
        await tablet.Page.Locator("[data-k=strip]").ClickAsync();
        await Check(tablet, "all steps", "Steps of");
        await tablet.Page.Locator("[data-k=bs]").ClickAsync();
        await Check(tablet, "what waits", "Everything is sent");
        Assert.Empty(tablet.Complaints);
    }

    static async Task Check(Tablet tablet, string screen, string shows)
    {
        if (shows.Length > 0)
            await tablet.Sees(shows);
        // The screens are the same on every tablet, only laid out anew: all rules are asked of one, colours in the dark too.
        foreach (var (width, height, dark) in tablets)
        {
            await tablet.Page.SetViewportSizeAsync(width, height);
            await tablet.Page.EmulateMediaAsync(new() { ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light });
            await tablet.Page.EvaluateAsync("() => document.fonts.ready.then(() => new Promise(requestAnimationFrame))");
            if (dark || width == 800)
            {
                var axe = await Axe.Look(tablet.Page, colours: dark);
                Assert.True(axe.Passes > (dark ? 0 : 5), $"{screen}: the checks found nothing to check");
                Assert.True(axe.Violations.Length == 0, $"{screen}: {string.Join("; ", axe.Violations)}");
            }

            await Fits(tablet, $"{screen} at {width} × {height}");
        }
    }

    static async Task Fits(Tablet tablet, string screen)
    {
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
