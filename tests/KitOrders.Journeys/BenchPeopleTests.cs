using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>Two people at one tablet, each signed in or known by their own pin, on the demo plant.</summary>
public sealed class BenchPeopleTests(SignedInBench bench) : IClassFixture<SignedInBench>
{
    [Fact]
    public async Task A_second_person_gives_their_own_reading_with_their_pin_before_either_is_shown()
    {
        var number = await bench.Underway();
        await using var second = await bench.SignedIn("Petra Sunde");
        await second.Page.GotoAsync("/profile");
        await second.Page.Locator("input[name=pin]").FillAsync("0471");
        await second.Page.GetByRole(AriaRole.Button, new() { Name = "Set the pin" }).ClickAsync();
        await Assertions.Expect(second.Page.GetByText("Your new pin is set.")).ToBeVisibleAsync();

        await using var tablet = await bench.SignedIn("Dai Morrow");
        await tablet.Open(number);
        await tablet.Type("0.05");
        await tablet.Done("Keep 0.05 bar");
        await tablet.Sees("Second person: look at it now");
        Assert.Equal(0, await tablet.Page.Locator(".nm .btn", new() { HasText = "Dai Morrow" }).CountAsync());
        await tablet.Press("Petra Sunde");
        await tablet.Type("9999");
        await tablet.Done("Now your own reading");
        await tablet.Sees("take your own reading");
        await Assertions.Expect(tablet.Page.Locator("#bench")).Not.ToContainTextAsync("0.05");
        await tablet.Type("0.06");
        await tablet.Done("Witness with 0.06 bar");
        await tablet.Sees("This is not the pin of Petra Sunde");
        Assert.Empty(await bench.Results(number, 1));

        await tablet.Type("0471");
        await tablet.Done("Now your own reading");
        await tablet.Sees("take your own reading");
        await tablet.Type("0.06");
        await tablet.Done("Witness with 0.06 bar");
        await tablet.Sees("Dai Morrow read 0.05 bar, Petra Sunde read 0.06 bar.");

        var result = Assert.Single(await bench.Results(number, 1))!;
        Assert.Equal(("Dai Morrow", "Petra Sunde", 0.06m), ((string)result["person"]!, (string)result["witness"]!, (decimal)result["witnessValue"]!));
        Assert.Empty(tablet.Complaints);
    }

    [Fact]
    public async Task When_the_sign_in_has_ended_the_results_stay_and_go_out_after_signing_in_again_and_not_under_another_name()
    {
        var number = await bench.Underway(withoutWitness: true);
        await using var tablet = await bench.SignedIn("Dai Morrow");
        await tablet.Open(number);
        await tablet.Context.ClearCookiesAsync();
        await tablet.Done("Step 1 is done");
        await tablet.Sees("1 waiting to send");
        await tablet.Sees("sign in to send");

        await SignedInBench.SignIn(tablet.Page, "Wren Adebayo");
        await tablet.Open(number);
        await tablet.Sees("1 waiting to send");
        await tablet.Page.Locator("[data-k=bs]").ClickAsync();
        await tablet.Sees("it goes when Dai Morrow signs in on this tablet");
        // Each press is a round of sending; the second begins when the first has ended.
        for (var round = 0; round < 2; round++)
            await tablet.Page.RunAndWaitForResponseAsync(() => tablet.Press("Try to send now"), answer => answer.Url.EndsWith("/api/csrf", StringComparison.Ordinal));
        Assert.Empty(await bench.Results(number, 1));

        await tablet.Context.ClearCookiesAsync();
        await SignedInBench.SignIn(tablet.Page, "Dai Morrow");
        await tablet.Open(number);
        await tablet.Sees("all sent");
        Assert.Equal("Dai Morrow", (string)Assert.Single(await bench.Results(number, 1))!["person"]!);
    }
}

/// <summary>The demo plant, whose invented people anybody may go on as, with a job of our own on a pump of our own.</summary>
public sealed class SignedInBench(DemoHouse house) : IAsyncLifetime
{
    RunningApp? app;
    int pumps;

    public async ValueTask InitializeAsync()
    {
        app = await house.App;
        using var api = app.Api();
        await Import(api, "pump-models", "model,description,control,sensing_rod\nBENCH-30,Pilot air,pilotAir,yes\n");
        await Import(api, "parts", "part,description,unit,unit_cost\nBENCH-K,Valve kit,each,50\n");
        await Import(api, "kits", "kit,revision,line,part,quantity,source\nBENCH-KIT,1,1,BENCH-K,1,inTheBox\n", "parts", "part,description,unit,unit_cost\nBENCH-KIT,Bench kit,each,50\n");
        await Import(api, "fits", "kit,revision,model\nBENCH-KIT,1,BENCH-30\n");
        await Import(api, "procedures", """
            procedure,revision,step,part_of,kind,text,low,high,unit,witnessed
            BENCH-W,1,1,preliminary,reading,Verify: read the gauge,0,0.1,bar,yes
            BENCH-W,1,2,main,instruction,Work,,,,
            BENCH-W,1,3,closeUp,functionTest,Run it,,,,
            BENCH-S,1,1,preliminary,instruction,Stop: stop the pump,,,,
            BENCH-S,1,2,main,instruction,Work,,,,
            BENCH-S,1,3,closeUp,functionTest,Run it,,,,
            """);
        await Import(api, "jobs", "job,description,procedure,kits,hours\nBENCH-JW,Witnessed work,BENCH-W,BENCH-KIT,1\nBENCH-JS,Simple work,BENCH-S,BENCH-KIT,1\n");
        await Import(api, "bins", "bin,walk_order\nBENCH-BIN,9999\n");
        await Import(api, "stock", "part,lot,bin,quantity,received_on,unit_cost\nBENCH-KIT,BENCH-L,BENCH-BIN,9,today-30,50\n");
    }

    static async Task Import(ApiClient api, string file, string csv, string? first = null, string? firstCsv = null)
    {
        if (first is not null)
            await Import(api, first, firstCsv!);
        BenchPlant.Expect(HttpStatusCode.OK, await api.Import(file, csv));
    }

    public async Task<string> Underway(bool withoutWitness = false)
    {
        using var api = app!.Api();
        var tag = $"BENCH-{Interlocked.Increment(ref pumps)}";
        await Import(api, "pumps", $"tag,serial,model,area,zone,criticality,sensing_rod\n{tag},S-{tag},BENCH-30,Hall,none,8,yes\n");
        var neededBy = DateOnly.FromDateTime(DateTime.UtcNow.AddDays(5)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        var number = (string)BenchPlant.Expect(HttpStatusCode.Created, await api.Post("/api/orders", new { pump = tag, job = withoutWitness ? "BENCH-JS" : "BENCH-JW", neededBy, workClass = 7 }))["number"]!;
        var order = BenchPlant.Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/open", new { }));
        var lines = order["demand"]!.AsArray().SelectMany(l => l!["reservations"]!.AsArray())
            .Select(r => new { reservation = (int)r!["id"]!, quantity = (decimal)r["quantity"]! }).ToArray();
        BenchPlant.Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/picks", new { lines }));
        BenchPlant.Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/stage", new { }));
        BenchPlant.Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/start", new { }));
        return number;
    }

    public async Task<JsonArray> Results(string number, int step)
    {
        using var api = app!.Api();
        return BenchPlant.Expect(HttpStatusCode.OK, await api.Get($"/api/orders/{number}"))["steps"]!.AsArray()
            .Single(s => (int)s!["step"]! == step)!["results"]!.AsArray();
    }

    public async Task<Tablet> SignedIn(string person)
    {
        var context = await (await house.Browser()).NewContextAsync(new() { BaseURL = app!.Address.ToString(), ViewportSize = new() { Width = 800, Height = 1280 } });
        var tablet = new Tablet(context, await context.NewPageAsync());
        await SignIn(tablet.Page, person);
        return tablet;
    }

    public static async Task SignIn(IPage page, string person)
    {
        await page.GotoAsync("/sign-in?returnUrl=%2Fbench");
        await page.GetByRole(AriaRole.Button, new() { Name = person }).ClickAsync();
        await page.WaitForURLAsync("**/bench");
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}
