using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>A technician's job on a tablet, from the staged kit to the finished order, and what they see on the way.</summary>
public sealed class BenchTests(BenchPlant plant) : IClassFixture<BenchPlant>
{
    // A JPEG of one pixel, as small as the format allows; the tablet makes its own picture of it.
    const string OnePixel = "/9j/4AAQSkZJRgABAQEAYABgAAD/2wBDAAMCAgICAgMCAgIDAwMDBAYEBAQEBAgGBgUGCQgKCgkICQkKDA8MCgsOCwkJDRENDg8QEBEQCgwSExIQEw8QEBD/yQALCAABAAEBAREA/8wABgAQEAX/2gAIAQEAAD8A0s8g/9k=";

    [Fact]
    public async Task A_whole_job_is_started_recorded_released_and_finished_on_the_tablet()
    {
        var number = await plant.Staged();
        await using var tablet = await plant.Tablet();
        await tablet.Page.GotoAsync("/bench");
        await tablet.Page.GetByRole(AriaRole.Link, new() { Name = number }).ClickAsync();
        await tablet.Sees("is staged at S-1");
        await tablet.Sees("Quick-exhaust valve");
        await tablet.Done($"Start {number}");

        await tablet.Sees("The pump held acid.");
        await tablet.Done("It is so");
        foreach (var step in new[] { 2, 3, 4 })
            await tablet.Done($"Step {step} is done");
        await tablet.Type("0.05");
        await tablet.Done("Keep 0.05 bar");
        await tablet.Sees("Hold point A");
        await tablet.Sees("5 of 5");
        await tablet.Done("Release hold point A");
        await tablet.Page.GetByLabel("Their name").FillAsync("bootstrap");
        await tablet.Type("0000");
        await tablet.Done("Release with this PIN");

        await tablet.Sees("piece 1 of 2");
        await tablet.Press("Reuse");
        await tablet.Done("Reuse piece 1");
        await tablet.Sees("piece 2 of 2");
        await tablet.Press("Replace");
        await tablet.Done("Replace piece 2");

        await tablet.Sees("pass 1 of 2");
        await tablet.Sees("about 4.7 Nm");
        foreach (var bolt in new[] { 1, 2, 3, 4 })
            await Torque(tablet, "4.7", bolt);
        await tablet.Sees("pass 2 of 2");
        foreach (var bolt in new[] { 1, 2, 3, 4 })
            await Torque(tablet, "9.4", bolt);

        await tablet.Sees("Photograph the cover");
        await tablet.Page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "cover.jpg", MimeType = "image/jpeg", Buffer = Convert.FromBase64String(OnePixel) });
        await tablet.Done("Step 9 is done");
        await tablet.Done("It works as it should");

        await tablet.Sees("All 10 steps are kept");
        // Two quick taps are two, and what was given stays while one looks elsewhere.
        for (var half = 0; half < 2; half++)
            await tablet.Page.GetByRole(AriaRole.Button, new() { Name = "Hours, bootstrap: more" }).DblClickAsync();
        await tablet.Page.GetByLabel("Stroke count").FillAsync("4232716");
        await tablet.Page.Locator("[data-k=bs]").ClickAsync();
        await tablet.Sees("Everything is sent");
        await tablet.Press("Back to the step");
        await Assertions.Expect(tablet.Page.GetByLabel("Stroke count")).ToHaveValueAsync("4232716");
        await tablet.Done($"Finish {number}");
        await tablet.Sees($"{number} is finished");

        var order = await plant.Order(number);
        Assert.Equal("finished", (string?)order["state"]);
        Assert.Equal(4232716, (long)order["strokeCount"]!);
        Assert.Equal(1m, (decimal)order["hours"]![0]!["hours"]!);
        Assert.Equal(8, (await plant.Results(number, 7)).Count);
        Assert.Equal(["reuse", "replace"], (await plant.Results(number, 6)).Select(r => (string)r!["decision"]!));
        using var api = plant.App.Api();
        var photographs = (await api.Get($"/api/orders/{number}/photographs")).Body.AsArray();
        Assert.Equal((8, "image/jpeg"), ((int)photographs.Single()!["step"]!, (string)photographs[0]!["contentType"]!));
        Assert.Empty(tablet.Complaints);
    }

    [Fact]
    public async Task A_reading_outside_its_limits_cannot_be_kept_and_is_recorded_as_not_as_specified_in_two_taps()
    {
        var number = await plant.Underway(4);
        await using var tablet = await plant.Tablet();
        await tablet.Open(number);
        await tablet.Type("0.4");
        await tablet.Sees("outside, 0.3 over");
        Assert.Equal(0, await tablet.Page.GetByRole(AriaRole.Button, new() { Name = "Keep" }).CountAsync());

        await tablet.Press("Not as specified");
        await tablet.Done("Leaks");

        var result = (await plant.Received(number, 5, 1))[0]!;
        Assert.Equal(("notAsSpecified", 0.4m, "Leaks"), ((string)result["outcome"]!, (decimal)result["value"]!, (string)result["note"]!));
        await tablet.Sees("Step 5 is not as specified");

        await tablet.Press("Put right: correct it");
        await tablet.Press("Correct");
        await tablet.Type("0.02");
        await tablet.Done("Keep 0.02 bar");
        var both = await plant.Received(number, 5, 2);
        Assert.Equal((long)both[0]!["id"]!, (long)both[1]!["corrects"]!);
        Assert.Empty(tablet.Complaints);
    }

    [Fact]
    public async Task Two_taps_of_one_finger_record_one_step()
    {
        var number = await plant.Underway(1);
        await using var tablet = await plant.Tablet();
        await tablet.Open(number);
        await tablet.Page.GetByRole(AriaRole.Button, new() { Name = "Step 2 is done" }).DblClickAsync();

        await tablet.Sees("Isolate");
        Assert.Single(await plant.Received(number, 2, 1));
        Assert.Empty(await plant.Results(number, 3));
    }

    [Fact]
    public async Task Whoever_comes_back_later_hears_where_it_was_left_and_looks_again_first()
    {
        var number = await plant.Underway(1);
        using var api = plant.App.Api();
        BenchPlant.Expect(System.Net.HttpStatusCode.OK, await api.Post($"/api/orders/{number}/steps/2/results", new { outcome = "asSpecified", recordedAt = DateTimeOffset.UtcNow.AddMinutes(-20) }));
        BenchPlant.Expect(System.Net.HttpStatusCode.OK, await api.Post($"/api/orders/{number}/steps/1/results", new { outcome = "asSpecified", recordedAt = DateTimeOffset.UtcNow.AddMinutes(-30) }));
        await using var tablet = await plant.Tablet();
        await tablet.Open(number);
        await tablet.Sees("You stopped before step 3; step 1 recorded");

        await tablet.Press("Pause here");
        await tablet.Done("End of shift");
        await tablet.Sees("Paused");
        await tablet.Page.ReloadAsync();
        await tablet.Sees("End of shift");
        await tablet.Done("Go on with the work");
        await tablet.Sees("Isolate");
        await Assertions.Expect(tablet.Page.Locator(".bs")).ToContainTextAsync("all sent");
        Assert.Null((string?)(await plant.Order(number))["paused"]);
    }

    [Fact]
    public async Task A_keyboard_is_enough()
    {
        var number = await plant.Underway(6);
        await using var tablet = await plant.Tablet(1280, 800);
        await tablet.Open(number);
        await tablet.Sees("pass 1 of 2");
        foreach (var key in new[] { "4", ".", "8", "Backspace", "7", "Enter" })
            await tablet.Page.Keyboard.PressAsync(key);

        var result = (await plant.Received(number, 7, 1))[0]!;
        Assert.Equal((4.7m, 1, 1), ((decimal)result["value"]!, (int)result["pass"]!, (int)result["bolt"]!));
        await tablet.Sees("Bolt 2, reading");
    }

    [Fact]
    public async Task What_the_tablet_cannot_keep_is_said_and_stays_on_the_screen()
    {
        var number = await plant.Underway(6);
        await using var tablet = await plant.Tablet();
        await tablet.Open(number);
        await tablet.Type("4.7");
        await tablet.Page.EvaluateAsync("() => { IDBObjectStore.prototype.add = () => { throw new DOMException('full', 'QuotaExceededError'); }; }");
        await tablet.Done("Keep 4.7 for bolt 1");
        await tablet.Sees("This was not kept");
        await Assertions.Expect(tablet.Page.Locator("[data-reading]")).ToContainTextAsync("4.7");
        Assert.Empty(await plant.Results(number, 7));
    }

    [Fact]
    public async Task A_release_waits_for_the_result_that_is_still_on_its_way()
    {
        var number = await plant.Underway(4);
        await using var tablet = await plant.Tablet();
        await tablet.Open(number);
        var arrives = new TaskCompletionSource();
        await tablet.Context.RouteAsync("**/steps/5/results", async route =>
        {
            await arrives.Task;
            await route.ContinueAsync();
        });
        await tablet.Type("0.05");
        await tablet.Done("Keep 0.05 bar");
        await tablet.Done("Release hold point A");
        await tablet.Page.GetByLabel("Their name").FillAsync("bootstrap");
        await tablet.Type("0000");
        await tablet.Done("Release with this PIN");
        await tablet.Sees("Asking the server");
        arrives.SetResult();
        await tablet.Sees("piece 1 of 2");
        Assert.Equal("bootstrap", (string?)(await plant.Order(number))["steps"]![4]!["releasedBy"]);
    }

    [Fact]
    public async Task What_is_typed_or_opened_while_the_last_record_settles_stays()
    {
        await using var tablet = await plant.Tablet();
        await tablet.Open(await plant.Underway(1));
        var look = await tablet.Page.EvaluateAsync<string[]>(
            """
            async () => {
              const { Desk } = await import(performance.getEntriesByType("resource").map(e => e.name).find(n => /\/bench\/desk\b[^/]*\.js$/.test(n)));
              const step = { step: 5, partOf: "main", kind: "reading", unit: "bar", results: [], recorded: false };
              const outbox = { all: async () => [], setDraft: async () => {}, add: async () => desk.set({ slot: "6///", typed: "4.", sheet: { is: "pause" } }) };
              const desk = new Desk({ number: "1", me: "me", people: [], outbox, sender: { now: async () => {} }, paint: () => {} });
              desk.order = { number: "1", state: "underway", version: 1, steps: [step] };
              desk.set({ slot: "5///", typed: "0.05" });
              await desk.record(step, { pass: null, bolt: null, piece: null }, { value: 0.05 });
              return [desk.look.slot, desk.look.typed, desk.look.sheet?.is ?? ""];
            }
            """);
        Assert.Equal(["6///", "4.", "pause"], look);
    }

    static async Task Torque(Tablet tablet, string value, int bolt)
    {
        await tablet.Sees($"Bolt {bolt}, reading");
        await tablet.Type(value);
        await tablet.Done($"Keep {value} for bolt {bolt}");
    }
}
