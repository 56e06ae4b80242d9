using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>
/// The real program with a small invented plant, and a browser. The tablet acts as the person of the configured token, so that
/// each test begins at the bench and not at the sign-in page.
/// </summary>
public sealed class BenchPlant(DemoHouse house) : IAsyncLifetime
{
    static readonly (string File, string Csv)[] files =
    [
        ("plant", "key,value\nname,Bench Works\ntime_zone,UTC\ncurrency,EUR\n"),
        ("bins", "bin,walk_order\nA-1,1\n"),
        ("parts", "part,description,unit,unit_cost\nQ,Quick-exhaust valve,each,30\nK,Valve kit,each,50\n"),
        ("fluids", "fluid,hazard\nwater,none\n"),
        ("pump-models", "model,description,control,sensing_rod\nM30,Pilot air,pilotAir,yes\n"),
        ("kits", "kit,revision,line,part,quantity,source,spare_policy\nK,1,1,Q,2,carriedOver,all\n"),
        ("fits", "kit,revision,model\nK,1,M30\n"),
        ("procedures", """
            procedure,revision,step,part_of,kind,text,signal_word,hazard,consequence,avoid,joint,bolts,sequence,target,low,high,unit,tolerance_pct,passes,hold_point,part
            PR,1,1,preliminary,check,Hazards: the fluid card is read,DANGER,The pump held acid.,It burns skin at once.,Wear goggles and gloves.,,,,,,,,,,,
            PR,1,2,preliminary,instruction,Stop: stop the pump,,,,,,,,,,,,,,,
            PR,1,3,preliminary,instruction,"Isolate: lock air, electricity and both fluid sides",,,,,,,,,,,,,,,
            PR,1,4,preliminary,instruction,Relieve: vent and drain,,,,,,,,,,,,,,,
            PR,1,5,preliminary,reading,Verify: read the gauge,WARNING,Air can still be trapped.,It can break a hand.,Wait for the gauge.,,,,,0,0.1,bar,,,yes,
            PR,1,6,main,carryOver,Judge the quick-exhaust valves,,,,,,,,,,,,,,,Q
            PR,1,7,main,torque,Tighten the cover,CAUTION,The cover is under a spring.,It can pinch a finger.,Press it down with the plate.,cover,4,star,9.4,,,Nm,5,2,,
            PR,1,8,main,photograph,Photograph the cover,,,,,,,,,,,,,,,
            PR,1,9,closeUp,instruction,Clear: look around,,,,,,,,,,,,,,,
            PR,1,10,closeUp,functionTest,Run it,,,,,,,,,,,,,,,
            """),
        ("crews", "crew,people,hours_per_week,hourly_rate\nFitters,2,80,50\n"),
        ("jobs", "job,description,procedure,kits,crew,hours\nREB,Rebuild the air valve,PR,K,Fitters,3.5\n"),
        ("stock", "part,lot,bin,quantity,received_on,unit_cost\nK,K-1,A-1,40,today-30,50\nQ,Q-1,A-1,80,today-30,30\n"),
    ];

    public static readonly BrowserTypeLaunchOptions Chromium = new()
    {
        ExecutablePath = Environment.GetEnvironmentVariable("KITORDERS_BROWSER") is { Length: > 0 } named ? named : "/usr/bin/chromium",
        Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage"],
    };

    RunningApp? app;
    int pumps;

    public RunningApp App => app ?? throw new InvalidOperationException("The app has not started.");

    public async ValueTask InitializeAsync()
    {
        app = await RunningApp.Start("--no-demo");
        using var api = app.Api();
        foreach (var (file, csv) in files)
            Expect(HttpStatusCode.OK, await api.Import(file, csv));
    }

    /// <summary>A tablet; whatever its page complains about in the console is in <see cref="Tablet.Complaints"/>.</summary>
    public async Task<Tablet> Tablet(int width = 800, int height = 1280, bool dark = false)
    {
        var context = await (await house.Browser()).NewContextAsync(new()
        {
            BaseURL = App.Address.ToString(),
            ViewportSize = new() { Width = width, Height = height },
            ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
            ExtraHTTPHeaders = new Dictionary<string, string> { ["Authorization"] = $"Bearer {RunningApp.Token}" },
        });
        return new Tablet(context, await context.NewPageAsync());
    }

    /// <summary>An order for a pump of its own, opened, picked and staged.</summary>
    public async Task<string> Staged()
    {
        using var api = App.Api();
        var tag = $"P-{Interlocked.Increment(ref pumps)}";
        Expect(HttpStatusCode.OK, await api.Import("pumps", $"tag,serial,model,area,zone,fluid,criticality,sensing_rod\n{tag},S-{tag},M30,Hall,none,water,8,yes\n"));
        var needed = DateOnly.FromDateTime(DateTime.UtcNow.AddDays(5)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        var number = (string)Expect(HttpStatusCode.Created, await api.Post("/api/orders", new { pump = tag, job = "REB", neededBy = needed, workClass = 7 }))["number"]!;
        var order = Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/open", new { }));
        var lines = order["demand"]!.AsArray().SelectMany(l => l!["reservations"]!.AsArray())
            .Select(r => new { reservation = (int)r!["id"]!, quantity = (decimal)r["quantity"]! }).ToArray();
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/picks", new { lines }));
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/stage", new { place = "S-1" }));
        return number;
    }

    /// <summary>An order underway with its first steps recorded by the API, up to the one given.</summary>
    public async Task<string> Underway(int recordedTo)
    {
        var number = await Staged();
        using var api = App.Api();
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/start", new { }));
        for (var step = 1; step <= recordedTo; step++)
        {
            object result = step switch
            {
                5 => new { outcome = "asSpecified", value = 0.05, unit = "bar", recordedAt = DateTimeOffset.UtcNow },
                6 => new { outcome = "asSpecified", decision = "reuse", recordedAt = DateTimeOffset.UtcNow },
                _ => new { outcome = "asSpecified", recordedAt = DateTimeOffset.UtcNow },
            };
            for (var times = step == 6 ? 2 : 1; times > 0; times--)
                Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/steps/{step}/results", result));
            if (step == 5)
                Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/steps/5/release", new { person = "bootstrap" }));
        }
        return number;
    }

    public async Task<JsonNode> Order(string number)
    {
        using var api = App.Api();
        return Expect(HttpStatusCode.OK, await api.Get($"/api/orders/{number}"));
    }

    public async Task<JsonArray> Results(string number, int step) =>
        (await Order(number))["steps"]!.AsArray().Single(s => (int)s!["step"]! == step)!["results"]!.AsArray();

    /// <summary>Waits until the server holds so many results of a step, then looks once more that it stays so.</summary>
    public async Task<JsonArray> Received(string number, int step, int count)
    {
        await Patience.For(async () => (await Results(number, step)).Count >= count);
        await Task.Delay(500);
        var results = await Results(number, step);
        Assert.Equal(count, results.Count);
        return results;
    }

    public static JsonNode Expect(HttpStatusCode status, Answer answer)
    {
        Assert.True(status == answer.Status, $"expected {(int)status}, was {answer}");
        return answer.Body;
    }

    public async ValueTask DisposeAsync()
    {
        if (app is not null)
            await app.DisposeAsync();
    }
}
