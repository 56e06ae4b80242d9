using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>
/// Takes the two pictures of the README anew. They are made by looking, not by checking, so this runs with the longer proofs alone:
/// ./test --long --only Journeys
/// </summary>
[Trait("Length", "Long")]
public sealed class PicturesForTheReadme(DemoHouse house)
{
    [Fact]
    public async Task An_order_with_a_short_line_and_a_torque_step_are_taken_as_pictures()
    {
        var desk = await house.Window("Maura Kinsey", 1440, 1010);
        await desk.Go("/orders/20036");
        await desk.Page.Locator(".dem").GetByRole(AriaRole.Button, new() { Name = "Ways out for" }).First.ClickAsync();
        await Assertions.Expect(desk.Page.Locator(".dem .rem").First).ToBeVisibleAsync();
        await desk.Page.EvaluateAsync("() => { document.activeElement?.blur(); scrollTo(0, 0); }");
        await Take(desk.Page, "order.png", 300_000);

        using var api = (await house.App).Api();
        var number = await JourneyPlant.UpToTheTorque(api);
        var window = await house.Window("Dai Morrow", 800, 1280);
        await using var tablet = new Tablet(window.Page.Context, window.Page);
        await tablet.Open(number);
        await tablet.Done("It is so: on to step 7");
        await tablet.Sees("pass 1 of 2");
        await tablet.Type("4.7");
        await Take(tablet.Page, "bench.png", 200_000);
    }

    static async Task Take(IPage page, string name, int most)
    {
        var file = Path.Combine(Root, "docs", "pictures", name);
        Directory.CreateDirectory(Path.GetDirectoryName(file)!);
        await page.ScreenshotAsync(new() { Path = file, Animations = ScreenshotAnimations.Disabled });
        Assert.InRange(new FileInfo(file).Length, 10_000, most);
    }

    static string Root
    {
        get
        {
            var folder = new DirectoryInfo(AppContext.BaseDirectory);
            while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "KitOrders.slnx")))
                folder = folder.Parent;
            return folder?.FullName ?? throw new InvalidOperationException("The tests do not lie inside the repository.");
        }
    }
}
