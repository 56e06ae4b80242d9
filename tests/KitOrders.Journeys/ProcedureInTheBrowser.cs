using System.Text.Json.Nodes;
using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>A planner rewrites a procedure and releases it; the next order shows it at the bench, the caution before the step.</summary>
public sealed class ProcedureInTheBrowser(DemoHouse house)
{
    // The smallest PNG there is: one grey point (ISO/IEC 15948).
    static readonly byte[] point = Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==");

    [Fact]
    public async Task A_draft_is_written_by_keys_and_by_hand_released_and_done_at_the_bench()
    {
        using var api = (await house.App).Api();
        var p = await JourneyPlant.Make(api);
        var planner = await house.Window("Maura Kinsey");
        await Written(planner, p);
        var number = await Started(api, p);

        var window = await house.Window("Dai Morrow", 800, 1280);
        var tablet = new Tablet(window.Page.Context, window.Page);
        await tablet.Open(number);
        await tablet.Sees("It burns skin at once.");
        await tablet.Done("It is so");
        await tablet.Sees("The rod can still move.");
        await tablet.Sees("Stop: stop the pump");
        var (caution, heading) = (await tablet.Page.Locator(".caut").BoundingBoxAsync(), await tablet.Page.Locator(".bstep h1").BoundingBoxAsync());
        Assert.True(caution!.Y + caution.Height <= heading!.Y, "The caution does not stand before its step.");
        Assert.Equal("WARNING", (await tablet.Page.Locator(".caut>b").InnerTextAsync()).Trim());
        await tablet.Page.WaitForFunctionAsync("() => document.querySelector('.pic img')?.naturalWidth > 0");
        await tablet.Sees("The red button on the field box");
        await Served(window, (await tablet.Page.Locator(".pic img").GetAttributeAsync("src"))!);
        Assert.Empty(tablet.Complaints.Concat(window.Complaints()));

        // Where the picture cannot be had, its words stand in its place.
        await tablet.Page.RouteAsync("**/files/pictures/*", route => route.AbortAsync());
        await tablet.Open(number);
        await tablet.Sees("Picture, not seen without network: The red button on the field box");
        Assert.Equal(0, await tablet.Page.Locator(".pic img").CountAsync());
        Assert.Empty(tablet.Complaints);
        await tablet.DisposeAsync();
        await planner.Ended();
    }

    /// <summary>As what it is and nothing else: no browser may take a kept file for a page.</summary>
    async Task Served(Window window, string picture)
    {
        var answer = await window.Page.APIRequest.GetAsync(picture);
        var headers = answer.Headers;
        Assert.Equal((200, "image/png", "nosniff", "default-src 'none'; sandbox"), (answer.Status, headers["content-type"], headers["x-content-type-options"], headers["content-security-policy"]));
        Assert.StartsWith("inline; filename=", headers["content-disposition"], StringComparison.Ordinal);
        Assert.Equal(point, await answer.BodyAsync());
        using var stranger = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = (await house.App).Address };
        Assert.NotEqual(System.Net.HttpStatusCode.OK, (await stranger.GetAsync(new Uri(picture, UriKind.Relative), TestContext.Current.CancellationToken)).StatusCode);
    }

    static async Task Written(Window planner, string p)
    {
        var page = planner.Page;
        await planner.Go($"/procedures/{p}-PR");
        await planner.Press("Begin a draft of revision 2");
        await page.WaitForURLAsync($"**/procedures/{p}-PR/edit");
        await planner.Sees("No close-up step says \"Unlock:\"");

        foreach (var (number, text) in new[] { (10, "Unlock: take off your own lock"), (11, "Tell: say that the pump will run") })
        {
            await planner.Press("Add a step to close-up");
            await page.Locator($"[data-step='{number}'].open textarea").First.FillAsync(text);
            await Assertions.Expect(page.Locator($"[data-step='{number}'] .tx")).ToHaveTextAsync(text);
        }

        await planner.Sees("Nothing stands against releasing it.");

        await page.Locator("[data-step='10'] .sto").PressAsync("Alt+ArrowUp");
        await Assertions.Expect(page.Locator("[data-step='9'] .tx")).ToHaveTextAsync("Unlock: take off your own lock");
        await Assertions.Expect(page.Locator("[data-step='9'] .sto")).ToBeFocusedAsync();
        await page.Locator("[data-step='7'] .grip").DragToAsync(page.Locator("[data-step='6']"));
        await Assertions.Expect(page.Locator("[data-step='6'] .tx")).ToHaveTextAsync("Tighten the cover");

        await page.Locator("[data-step='2'] .sto").ClickAsync();
        await page.Locator("[data-step='2'].open").WaitForAsync();
        await page.GetByLabel("Signal word").SelectOptionAsync("WARNING");
        await page.GetByLabel("Hazard: what can hurt or break").FillAsync("The rod can still move.");
        await page.GetByLabel("Consequence: what it does").FillAsync("It can crush fingers.");
        await planner.Sees("The caution of step 2 lacks how to avoid it.");
        await page.GetByLabel("How to avoid it").FillAsync("Wait until it stands still.");
        await page.GetByLabel("Add a picture").SetInputFilesAsync(new FilePayload { Name = "button.png", MimeType = "image/png", Buffer = point });
        await page.GetByLabel("Caption").FillAsync("The red button on the field box");
        await planner.Sees("Nothing stands against releasing it.");
        await Assertions.Expect(page.Locator(".as-bench .caut")).ToContainTextAsync("It can crush fingers.");
        await planner.Free("procedure editor");

        await planner.Press("Release revision 2");
        await page.WaitForURLAsync($"**/procedures/{p}-PR?revision=2");
        await planner.Sees("Rev 2, released");
        await Assertions.Expect(page.Locator("#difference")).ToContainTextAsync("Wait until it stands still.");
        await planner.Settled();
        await planner.Free("procedure with differences");
    }

    static async Task<string> Started(ApiClient api, string p)
    {
        await Ok(api.Post("/api/receipts", new { part = $"{p}-ELB", quantity = 1, bin = $"{p}-A" }));
        var number = (string)(await Ok(api.Post("/api/orders", new { pump = $"{p}-01", job = $"{p}-CONV", neededBy = JourneyPlant.Day(5), workClass = 7 })))["number"]!;
        var order = await Ok(api.Post($"/api/orders/{number}/open", new { }));
        Assert.Equal(11, order["steps"]!.AsArray().Count);
        var lines = order["demand"]!.AsArray().SelectMany(l => l!["reservations"]!.AsArray()).Select(r => new { reservation = (int)r!["id"]!, quantity = (decimal)r["quantity"]! }).ToArray();
        await Ok(api.Post($"/api/orders/{number}/picks", new { lines }));
        await Ok(api.Post($"/api/orders/{number}/stage", new { place = "S-1" }));
        await Ok(api.Post($"/api/orders/{number}/start", new { }));
        return number;
    }

    static async Task<JsonNode> Ok(Task<Answer> asked)
    {
        var answer = await asked;
        Assert.True((int)answer.Status < 300, $"{answer}");
        return answer.Body;
    }
}
