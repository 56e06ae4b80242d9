using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>What the bench does when the network does not: nothing recorded is lost, doubled or hidden.</summary>
public sealed class BenchOfflineTests(BenchPlant plant) : IClassFixture<BenchPlant>
{
    [Fact]
    public async Task Results_taken_without_network_survive_a_reload_and_reach_the_server_once_and_in_order()
    {
        var number = await plant.Underway(6);
        await using var tablet = await plant.Tablet();
        await tablet.Open(number);
        await tablet.KeptForOffline();
        await tablet.Context.SetOfflineAsync(true);
        foreach (var (bolt, value) in new[] { (1, "4.6"), (2, "4.7"), (3, "4.8") })
        {
            await tablet.Type(value);
            await tablet.Done($"Keep {value} for bolt {bolt}");
        }

        await tablet.Sees("3 waiting to send");
        await tablet.Sees("no network since");
        Assert.Empty(await plant.Results(number, 7));

        await tablet.Page.ReloadAsync();
        await tablet.Sees("3 waiting to send");
        await tablet.Sees("Bolt 4, reading");
        await tablet.Type("4.9");
        await tablet.Done("Keep 4.9 for bolt 4");
        await tablet.Sees("4 waiting to send");

        await tablet.Context.SetOfflineAsync(false);
        var results = await plant.Received(number, 7, 4);
        Assert.Equal([(1, 4.6m), (2, 4.7m), (3, 4.8m), (4, 4.9m)], results.Select(r => ((int)r!["bolt"]!, (decimal)r["value"]!)));
        await tablet.Sees("all sent");
        Assert.Empty(tablet.Complaints);
    }

    [Fact]
    public async Task An_answer_lost_on_the_way_is_asked_for_again_and_nothing_happens_twice()
    {
        var number = await plant.Underway(1);
        await using var tablet = await plant.Tablet();
        await tablet.Open(number);
        var sent = new List<string>();
        await tablet.Context.RouteAsync("**/results", async route =>
        {
            sent.Add(await route.Request.HeaderValueAsync("Idempotency-Key") ?? "");
            if (sent.Count > 2)
            {
                await route.ContinueAsync();
                return;
            }

            await route.FetchAsync();
            await route.AbortAsync("connectionreset");
        });
        await tablet.Done("Step 2 is done");
        await tablet.Sees("Isolate");
        await tablet.Sees("all sent");

        Assert.Single(await plant.Received(number, 2, 1));
        Assert.Equal(3, sent.Count);
        Assert.Single(sent.Distinct());
    }

    [Fact]
    public async Task What_the_server_refuses_stays_on_the_tablet_with_its_reason_until_a_person_decides()
    {
        var number = await plant.Underway(1);
        await using var tablet = await plant.Tablet();
        await tablet.Open(number);
        await tablet.KeptForOffline();
        await tablet.Context.SetOfflineAsync(true);
        await tablet.Done("Step 2 is done");
        await tablet.Sees("1 waiting to send");
        using var api = plant.App.Api();
        BenchPlant.Expect(System.Net.HttpStatusCode.OK, await api.Post($"/api/orders/{number}/cancel", new { reason = "pump scrapped", pumpIs = "unchanged" }));

        await tablet.Context.SetOfflineAsync(false);
        await tablet.Sees("1 result refused: look");
        await tablet.Page.ReloadAsync();
        await tablet.Press("1 result refused: look");
        await tablet.Sees($"{number}: Step 2: as specified");
        await tablet.Sees($"Order {number} is cancelled");
        await tablet.Press("Set aside");
        await tablet.Sees("Set aside.");
        await tablet.Sees($"{number}: Step 2: as specified");
    }

    [Fact]
    public async Task A_correction_of_what_was_never_sent_finds_the_result_it_corrects()
    {
        var number = await plant.Underway(4);
        await using var tablet = await plant.Tablet();
        await tablet.Open(number);
        await tablet.KeptForOffline();
        await tablet.Context.SetOfflineAsync(true);
        await tablet.Type("0.08");
        await tablet.Done("Keep 0.08 bar");
        await tablet.Press("Back to step 5");
        await tablet.Press("Correct step 5");
        await tablet.Type("0.03");
        await tablet.Done("Keep 0.03 bar");
        await tablet.Sees("2 waiting to send");
        await tablet.Context.SetOfflineAsync(false);

        var results = await plant.Received(number, 5, 2);
        Assert.Equal((long)results[0]!["id"]!, (long)results[1]!["corrects"]!);
        Assert.True((bool)results[0]!["corrected"]!);
    }

    [Fact]
    public async Task A_photograph_taken_without_network_arrives_when_it_is_back()
    {
        var number = await plant.Underway(5);
        await using var tablet = await plant.Tablet();
        await tablet.Open(number);
        await tablet.KeptForOffline();
        await tablet.Context.SetOfflineAsync(true);
        await tablet.Press("Not as specified");
        await tablet.Page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "lip.png", MimeType = "image/png", Buffer = await Picture(tablet.Page) });
        await tablet.Sees("1 waiting to send");
        await tablet.Page.ReloadAsync();
        await tablet.Sees("1 waiting to send");
        await tablet.Context.SetOfflineAsync(false);
        await tablet.Sees("all sent");

        using var api = plant.App.Api();
        var kept = (await api.Get($"/api/orders/{number}/photographs")).Body.AsArray();
        Assert.Equal((6, "image/jpeg"), ((int)kept.Single()!["step"]!, (string)kept[0]!["contentType"]!));
    }

    [Fact]
    public async Task A_hold_point_and_the_start_wait_for_the_server_and_say_so()
    {
        var number = await plant.Staged();
        await using var tablet = await plant.Tablet();
        await tablet.Open(number);
        await tablet.KeptForOffline();
        await tablet.Context.SetOfflineAsync(true);
        await tablet.Done($"Start {number}");
        await tablet.Sees("This needs the server, and no answer came.");

        Assert.Equal("staged", (string?)(await plant.Order(number))["state"]);
    }

    [Fact]
    public async Task An_order_never_opened_here_says_so_without_network()
    {
        var known = await plant.Underway(1);
        await using var tablet = await plant.Tablet();
        await tablet.Open(known);
        await tablet.KeptForOffline();
        await tablet.Context.SetOfflineAsync(true);
        await tablet.Page.GotoAsync("/bench/never-seen");

        await Assertions.Expect(tablet.Page.Locator("body")).ToContainTextAsync("never opened on this tablet");
    }

    static async Task<byte[]> Picture(IPage page) => Convert.FromBase64String(await page.EvaluateAsync<string>(
        "() => { const c = document.createElement('canvas'); c.width = 3000; c.height = 2000; c.getContext('2d').fillRect(10, 10, 900, 900); return c.toDataURL('image/png').split(',')[1]; }"));
}
