using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>A kit is written by keyboard, kept, released and read by others.</summary>
public sealed class KitEditorTests(DemoHouse house)
{
    [Fact]
    public async Task A_planner_writes_a_new_kit_two_windows_meet_and_what_is_released_stays()
    {
        var planner = await house.Window("Maura Kinsey");
        var page = planner.Page;
        await planner.Go("/kits");
        await planner.Press("New kit");
        await page.GetByLabel("Number", new() { Exact = true }).FillAsync("JK-7001");
        await page.GetByLabel("What it is, where the number is new").FillAsync("Seals and ties for a journey");
        await planner.Press("Start its draft");
        await page.WaitForURLAsync("**/kits/JK-7001/edit");
        await planner.Sees("Add what the kit brings");

        await page.GetByRole(AriaRole.Button, new() { Name = "Add a line" }).First.ClickAsync();
        await Assertions.Expect(page.GetByLabel("Line 1, part")).ToBeFocusedAsync();
        await page.Keyboard.TypeAsync("E-2230");
        await page.Keyboard.PressAsync("Tab");
        await planner.Sees("Cable tie 200 mm");
        await page.GetByLabel("Line 1, quantity").FillAsync("0");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("Line 2, part")).ToBeFocusedAsync();
        await planner.Sees("Line 1: the quantity must be above zero.");
        // Words lead to parts; the one that is meant is taken.
        await page.Keyboard.TypeAsync("End cap O-ring");
        await page.Keyboard.PressAsync("Tab");
        await planner.Sees("may be");
        await page.GetByRole(AriaRole.Button, new() { Name = "V25-131" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Line 2, part")).ToHaveValueAsync("V25-131");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the draft" }).ClickAsync();
        await planner.Sees("The draft was not kept.");
        await Assertions.Expect(page.GetByLabel("Line 1, quantity")).ToHaveValueAsync("0");
        await page.GetByLabel("Line 1, quantity").FillAsync("4");
        await page.Keyboard.PressAsync("Alt+ArrowDown");
        await Assertions.Expect(page.GetByLabel("Line 2, part")).ToHaveValueAsync("E-2230");
        await Assertions.Expect(page.GetByLabel("Line 2, quantity")).ToHaveValueAsync("4");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the draft" }).ClickAsync();
        await planner.Sees("ready to be released.");
        Assert.Empty(await planner.Barriers(colours: false));

        // Another window keeps first; this one loses nothing and decides.
        var other = await house.Window("Maura Kinsey");
        await other.Go("/kits/JK-7001/edit");
        await page.GetByLabel("Line 2, quantity").FillAsync("9");
        await page.Keyboard.PressAsync("Tab");
        await planner.Sees("not kept yet.");
        await other.Page.GetByLabel("Line 1, quantity").FillAsync("3");
        await other.Page.Keyboard.PressAsync("Tab");
        await other.Press("Keep the draft");
        await other.Sees("ready to be released.");
        await planner.Sees("Somebody kept this draft while you were typing.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the draft" }).ClickAsync();
        await planner.Sees("Somebody changed this since you looked.");
        await Assertions.Expect(page.GetByLabel("Line 2, quantity")).ToHaveValueAsync("9");
        await planner.Press("Show what is kept now, and lose mine");
        await Assertions.Expect(page.GetByLabel("Line 1, quantity")).ToHaveValueAsync("3");

        await planner.Sees("Releasing freezes 2 lines and 0 models as rev 1.");
        await planner.Press("Release rev 1");
        await page.WaitForURLAsync("**/kits/JK-7001?revision=1");
        await planner.Sees("Rev 1, released");

        var clerk = await house.Window("Ned Farrant");
        await clerk.Go("/kits/JK-7001");
        await clerk.Sees("Rev 1, released");
        Assert.Equal(0, await clerk.Page.GetByRole(AriaRole.Button, new() { Name = "New draft from rev 1" }).CountAsync());
        await clerk.Page.GotoAsync("/kits/JK-7001/edit");
        Assert.Equal(0, await clerk.Page.GetByRole(AriaRole.Button, new() { Name = "Keep the draft" }).CountAsync());
        await clerk.Go("/where-used?part=V25-131");
        await Assertions.Expect(clerk.Page.Locator("tr", new() { HasText = "JK-7001" })).ToContainTextAsync("3 each in the box");
        Assert.Empty(planner.Complaints().Concat(other.Complaints()));
    }
}
