using System.Text.Json.Nodes;
using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>The main job as its four people do it, each in a window of their own, from the new order to what the pump has become.</summary>
public sealed class MainJobInTheBrowser(DemoHouse house)
{
    [Fact]
    public async Task A_planner_a_clerk_a_technician_and_a_manager_bring_one_conversion_to_its_end()
    {
        using var api = (await house.App).Api();
        var p = await JourneyPlant.Make(api);
        var planner = await house.Window("Maura Kinsey");
        var clerk = await house.Window("Ned Farrant", 1280, 900);
        var manager = await house.Window("Harriet Voss");

        var number = await Planned(planner, p);
        Assert.Equal([("ELB", 0m, 1m), ("KIT", 1m, 0m), ("QEV", 2m, 0m)], Lines(await Order(api, number)));
        await Held_up(manager, p, number);

        await Received(clerk, p, number);
        await Assertions.Expect(planner.Page.Locator(".ph, main").First).ToContainTextAsync("ready", new() { IgnoreCase = true });
        Assert.Equal(0m, Lines(await Order(api, number)).Sum(l => l.Short));
        await Picked(clerk, p, number);
        Assert.Equal("staged", (string?)(await Order(api, number))["state"]);
        Assert.Equal([($"{p}-ELB", 1m), ($"{p}-KIT", 1m), ($"{p}-QEV", 2m)], Kept(await Order(api, number), "picked"));

        await Done(number);
        Assert.Equal("finished", (string?)(await Order(api, number))["state"]);
        await Closed(planner, p, number);
        var closed = await Order(api, number);
        Assert.Equal("closed", (string?)closed["state"]);
        // A kit at 200, an elbow at 6 and one of two spare valves at 30; one hour and a half at 46.
        Assert.Equal(236m, (decimal)closed["cost"]!["actual"]!["parts"]!);
        await Become(planner, p, number);

        Assert.Empty(planner.Complaints().Concat(clerk.Complaints()).Concat(manager.Complaints()));
    }

    static async Task<string> Planned(Window planner, string p)
    {
        var page = planner.Page;
        await planner.Go("/orders/new");
        await page.GetByRole(AriaRole.Textbox, new() { Name = "Pump", Exact = true }).FillAsync($"{p}-01");
        await planner.Press("Take this pump");
        await page.GetByRole(AriaRole.Radio, new() { Name = $"Convert {p} to solenoid" }).CheckAsync();
        await page.WaitForURLAsync("**/orders/new?draft=*");
        await Assertions.Expect(page.Locator("#suitability")).ToContainTextAsync("Suits");
        await Assertions.Expect(page.Locator("#demand")).ToContainTextAsync($"{p}-ELB");
        await page.GetByLabel("Needed by").FillAsync(JourneyPlant.Day(12));
        await page.GetByLabel("Needed by").PressAsync("Tab");
        await planner.Sees("1 line short");
        var number = new Uri(page.Url).Query.Split('=')[1];
        await planner.Press($"Open {number}");
        await page.WaitForURLAsync($"**/orders/{number}?opened=1");
        await planner.Sees($"{number} is open.");
        await planner.Sees($"Short: 1 × {p}-ELB Street elbow");
        return number;
    }

    static async Task Received(Window clerk, string p, string number)
    {
        var page = clerk.Page;
        await clerk.Go($"/storeroom/receive?part={p}-ELB");
        await page.GetByLabel("Quantity").FillAsync("4");
        await page.GetByLabel("Bin", new() { Exact = true }).FillAsync($"{p}-A");
        await clerk.Press("Receive");
        await clerk.Sees($"4 of {p}-ELB received");
        await clerk.Sees($"1 held for {number}");
    }

    static async Task Picked(Window clerk, string p, string number)
    {
        var page = clerk.Page;
        await page.GetByRole(AriaRole.Link, new() { Name = "Storeroom", Exact = true }).First.ClickAsync();
        await page.Locator("tr", new() { HasText = number }).GetByRole(AriaRole.Link, new() { Name = "Pick" }).ClickAsync();

        // Kit and elbow lie in the first bin of the walk, the valves in the next two.
        await Assertions.Expect(page.Locator(".pl .bin")).ToContainTextAsync($"{p}-A");
        await page.Locator("html[data-scanner=heard]").WaitForAsync();
        await Scan(page, $"{p}-QEV");
        await clerk.Sees("wrong part");
        for (var line = 0; line < 2; line++)
        {
            var part = (await page.Locator(".pl .pn").InnerTextAsync()).Trim();
            await Scan(page, part);
            await Assertions.Expect(page.Locator(".pl .pn")).Not.ToHaveTextAsync(part);
        }

        await Assertions.Expect(page.Locator(".pl .bin")).ToContainTextAsync($"{p}-B");
        await Scan(page, $"{p}-QEV");
        await clerk.Sees("1 of 2 scanned. Next piece for");
        await page.Keyboard.PressAsync("s");
        await page.GetByLabel("Why are only 1 of 2 there?").SelectOptionAsync("fewer than on record");
        await page.GetByLabel($"What does the bin hold of lot {p}-Q1 now").FillAsync("0");
        await clerk.Press("Short, go on");

        await Assertions.Expect(page.Locator(".pl .bin")).ToContainTextAsync($"{p}-C");
        await Scan(page, $"{p}-Q2");
        await clerk.Sees("Every line is picked.");
        await page.GetByLabel("Staging place, for the kit tag").FillAsync("S-7");
        await clerk.Press($"Stage {number}");
        await clerk.Sees("Staged at S-7");
    }

    /// <summary>A hand scanner types a label in one go and ends with Enter.</summary>
    static async Task Scan(IPage page, string label)
    {
        await page.EvaluateAsync("() => document.activeElement?.blur()");
        await page.EvaluateAsync(
            """
            label => {
              for (const key of [...label, "Enter"]) document.body.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
            }
            """, label);
    }

    async Task Done(string number)
    {
        var released = await house.Window("Petra Sunde", 800, 1280);
        await released.Go("/profile");
        await released.Page.Locator("input[name=pin]").FillAsync("0471");
        await released.Press("Set the pin");
        await Assertions.Expect(released.Page.GetByText("Your new pin is set.")).ToBeVisibleAsync();

        var window = await house.Window("Dai Morrow", 800, 1280);
        var tablet = new Tablet(window.Page.Context, window.Page);
        await tablet.Page.GotoAsync("/bench");
        try { await AtTheBench(tablet, number); } catch { await Pictures.Keep(tablet.Page, "failed at the bench"); throw; }
    }

    static async Task AtTheBench(Tablet tablet, string number)
    {
        await tablet.Page.GetByRole(AriaRole.Link, new() { Name = number }).ClickAsync();
        await tablet.Sees("is staged at S-7");
        await tablet.Done($"Start {number}");

        await tablet.Sees("It burns skin at once.");
        Assert.True(await Above(tablet.Page, ".caut", "h1"), "The caution stands below its step.");
        await tablet.Done("It is so");
        foreach (var step in new[] { 2, 3, 4 })
            await tablet.Done($"Step {step} is done");
        await tablet.Type("0.05");
        await tablet.Done("Keep 0.05 bar");
        await tablet.Sees("Hold point A");
        await tablet.Done("Release hold point A");
        await tablet.Press("Petra Sunde");
        await tablet.Type("0471");
        await tablet.Done("Release with this PIN");

        await tablet.Sees("piece 1 of 2");
        await tablet.Press("Reuse");
        await tablet.Done("Reuse piece 1");
        await tablet.Sees("piece 2 of 2");
        await tablet.Press("Replace");
        await tablet.Done("Replace piece 2");
        foreach (var (pass, value) in new[] { (1, "4.7"), (2, "9.4") })
        {
            await tablet.Sees($"pass {pass} of 2");
            for (var bolt = 1; bolt <= 4; bolt++)
            {
                await tablet.Sees($"Bolt {bolt}, reading");
                await tablet.Type(value);
                await tablet.Done($"Keep {value} for bolt {bolt}");
            }
        }

        await tablet.Done("Step 8 is done");
        await tablet.Done("It works as it should");
        await tablet.Sees("All 9 steps are kept");
        for (var quarter = 0; quarter < 6; quarter++)
            await tablet.Page.GetByRole(AriaRole.Button, new() { Name = "Hours, Dai Morrow: more" }).ClickAsync();
        await tablet.Page.GetByLabel("Stroke count").FillAsync("120000");
        await tablet.Done($"Finish {number}");
        await tablet.Sees($"{number} is finished");
        Assert.Empty(tablet.Complaints);
    }

    static async Task<bool> Above(IPage page, string first, string second)
    {
        var (upper, lower) = (await page.Locator(first).First.BoundingBoxAsync(), await page.Locator(second).First.BoundingBoxAsync());
        return upper!.Y < lower!.Y;
    }

    static async Task Closed(Window planner, string p, string number)
    {
        var page = planner.Page;
        await planner.Go($"/orders/{number}");
        await planner.Press($"Close {number}");
        var spare = page.GetByLabel($"{p}-QEV fitted");
        await spare.First.FillAsync("0");
        await page.GetByLabel($"{p}-QEV returned").First.FillAsync("1");
        await page.GetByLabel($"{p}-QEV returned").First.PressAsync("Tab");
        await page.Locator("#panel").GetByRole(AriaRole.Button, new() { Name = $"Close {number}" }).ClickAsync();
        await planner.Sees("The order is closed.");
    }

    static async Task Become(Window planner, string p, string number)
    {
        await planner.Go($"/pumps/{p}-01");
        await planner.Sees($"{p}-30-S");
        await planner.Sees($"{p}-KIT rev 1");
        await planner.Sees($"order {number}");
    }

    static async Task Held_up(Window manager, string p, string number)
    {
        await manager.Go("/backlog");
        await manager.Sees("Held up by parts");
        await manager.Go("/shortages");
        var row = manager.Page.Locator("tr", new() { HasText = $"{p}-ELB" });
        await Assertions.Expect(row).ToContainTextAsync("3.5");
        await row.GetByRole(AriaRole.Link, new() { Name = number }).ClickAsync();
        await manager.Page.WaitForURLAsync($"**/orders/{number}");
        await manager.Sees($"Convert {p} to solenoid");
    }

    static async Task<JsonNode> Order(ApiClient api, string number) => BenchPlant.Expect(System.Net.HttpStatusCode.OK, await api.Get($"/api/orders/{number}"));

    static (string Part, decimal Reserved, decimal Short)[] Lines(JsonNode order) => [.. order["demand"]!.AsArray()
        .Select(l => (((string)l!["part"]!).Split('-')[1], (decimal)l["reserved"]!, (decimal)l["short"]!)).OrderBy(l => l.Item1, StringComparer.Ordinal)];

    static (string, decimal)[] Kept(JsonNode order, string field) => [.. order["demand"]!.AsArray()
        .Select(l => ((string)l!["part"]!, (decimal)l[field]!)).Where(l => l.Item2 > 0).OrderBy(l => l.Item1, StringComparer.Ordinal)];
}
