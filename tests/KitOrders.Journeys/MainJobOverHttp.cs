using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using KitOrders.TestPlants;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>
/// The main job as an outside program sees it, from the import files to the closed order, on the worked example of demand:
/// two orders need the same kit, one box is on the shelf, the second is built and goes short.
/// </summary>
public sealed class MainJobOverHttp(BareApp bare) : IClassFixture<BareApp>
{
    static readonly string today = DateOnly.FromDateTime(DateTime.UtcNow).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
    static readonly string soon = DateOnly.FromDateTime(DateTime.UtcNow.AddDays(5)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    [Fact]
    public async Task Two_orders_for_one_box_are_opened_supplied_done_and_closed()
    {
        using var api = bare.App.Api();
        foreach (var (file, csv) in WorkedPlant.Files)
            Expect(HttpStatusCode.OK, await api.Import(file, csv));

        var first = await Draft(api, "P-1");
        var second = await Draft(api, "P-2");
        var opened = Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{first}/open", new { }));
        Assert.Equal("open", (string?)opened["state"]);
        Assert.Equal([("E", 1m, 0m), ("K", 1m, 0m), ("Q", 2m, 0m)], Lines(opened, "reserved"));

        var built = Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{second}/open", new { }));
        Assert.Equal(
            [("B", 1m, 0m), ("C", 0m, 1m), ("E", 0m, 1m), ("K", 0m, 0m), ("P", 1m, 0m), ("Q", 1m, 1m), ("S", 1m, 0m), ("V", 0m, 0m)],
            Lines(built, "reserved"));
        Assert.Equal(1m, (decimal)Line(built, "C")["incoming"]!);

        await Receive(api, "C", 1, "PO-1");
        await Receive(api, "E", 1, null);
        await Receive(api, "Q", 1, null);
        var covered = Expect(HttpStatusCode.OK, await api.Get($"/api/orders/{second}"));
        Assert.All(covered["demand"]!.AsArray(), line => Assert.Equal(0m, (decimal)line!["short"]!));

        var closed = await DoTheWork(api, second);
        Assert.Equal("closed", (string?)closed["state"]);
        // 100 body + 40 coil + 20 seals + 2 plug + 6 elbow + 2 × 30 valves, and 3 h at 50.
        Assert.Equal(228m, (decimal)closed["cost"]!["actual"]!["parts"]!);
        Assert.Equal(150m, (decimal)closed["cost"]!["actual"]!["labour"]!);

        var pump = Expect(HttpStatusCode.OK, await api.Get("/api/pumps/P-2"));
        Assert.Equal("M30-S", (string?)pump["model"]);
        Assert.Equal("solenoid", (string?)pump["control"]);
        Assert.Contains("K", pump["fitted"]!.ToJsonString(), StringComparison.Ordinal);

        var again = await api.Get("/api/suitability?pump=P-2&kit=K");
        Expect(HttpStatusCode.OK, again);
        Assert.Contains(again.Body.AsArray(), c => (string?)c!["check"] == "alreadyFitted" && (string?)c["result"] == "failed"
            || (string?)c!["check"] == "model" && (string?)c["result"] == "failed");

        var truth = Expect(HttpStatusCode.OK, await api.Get("/api/stock-truth"));
        Assert.NotEmpty(truth.AsArray());
        Assert.All(truth.AsArray(), check => Assert.True((bool)check!["holds"]!, check.ToJsonString()));

        var cancelled = Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{first}/cancel", new { reason = "not needed" }));
        Assert.Equal("cancelled", (string?)cancelled["state"]);
        var kit = Expect(HttpStatusCode.OK, await api.Get("/api/parts/K"));
        Assert.Equal(1m, (decimal)kit["totals"]!["available"]!);
    }

    static async Task<string> Draft(ApiClient api, string pump)
    {
        var draft = Expect(HttpStatusCode.Created, await api.Post("/api/orders", new { pump, job = "CONV", neededBy = soon, workClass = 7 }));
        Assert.Equal("draft", (string?)draft["state"]);
        return (string)draft["number"]!;
    }

    static async Task Receive(ApiClient api, string part, int quantity, string? incoming) =>
        Expect(HttpStatusCode.OK, await api.Post("/api/receipts", new { part, quantity, bin = "B-1", incoming }));

    static async Task<JsonNode> DoTheWork(ApiClient api, string number)
    {
        var order = Expect(HttpStatusCode.OK, await api.Get($"/api/orders/{number}"));
        var lines = order["demand"]!.AsArray().SelectMany(l => l!["reservations"]!.AsArray())
            .Select(r => new { reservation = (int)r!["id"]!, quantity = (decimal)r["quantity"]! }).ToArray();
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/picks", new { lines }));
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/stage", new { place = "S-1" }));
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/start", new { permits = new[] { new { kind = "lockout", reference = "L-1", validTo = today } } }));

        var early = await Result(api, number, 6, new { outcome = "asSpecified", decision = "reuse" });
        Assert.Equal(HttpStatusCode.Conflict, early.Status);
        for (var step = 1; step <= 4; step++)
            Expect(HttpStatusCode.OK, await Result(api, number, step, new { outcome = "asSpecified" }));
        var high = await Result(api, number, 5, new { outcome = "asSpecified", value = 0.4, unit = "bar" });
        Assert.Equal(HttpStatusCode.UnprocessableEntity, high.Status);
        Expect(HttpStatusCode.OK, await Result(api, number, 5, new { outcome = "asSpecified", value = 0, unit = "bar" }));
        var held = await Result(api, number, 6, new { outcome = "asSpecified", decision = "reuse" });
        Assert.Equal("hold-point-not-released", held.Code);
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/steps/5/release", new { person = "bootstrap" }));
        Expect(HttpStatusCode.OK, await Result(api, number, 6, new { outcome = "asSpecified", decision = "reuse" }));
        Expect(HttpStatusCode.OK, await Result(api, number, 6, new { outcome = "asSpecified", decision = "replace" }));
        for (var pass = 1; pass <= 2; pass++)
            for (var bolt = 1; bolt <= 4; bolt++)
                Expect(HttpStatusCode.OK, await Result(api, number, 7, new { outcome = "asSpecified", value = pass == 1 ? 4.7 : 9.4, unit = "Nm", pass, bolt }));
        Expect(HttpStatusCode.OK, await Result(api, number, 8, new { outcome = "asSpecified" }));
        Expect(HttpStatusCode.OK, await Result(api, number, 9, new { outcome = "asSpecified" }));
        Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/finish", new { hours = new[] { new { person = "bootstrap", hours = 3 } }, downtimeHours = 4, strokeCount = 1000 }));
        return Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{number}/close", new { }));
    }

    static Task<Answer> Result(ApiClient api, string number, int step, object result)
    {
        var body = System.Text.Json.JsonSerializer.SerializeToNode(result)!;
        body["recordedAt"] = DateTimeOffset.UtcNow.ToString("O", CultureInfo.InvariantCulture);
        return api.Post($"/api/orders/{number}/steps/{step}/results", body);
    }

    static (string, decimal, decimal)[] Lines(JsonNode order, string field) => [.. order["demand"]!.AsArray()
        .Select(l => ((string)l!["part"]!, (decimal)l[field]!, (decimal)l["short"]!)).OrderBy(l => l.Item1, StringComparer.Ordinal)];

    static JsonNode Line(JsonNode order, string part) => order["demand"]!.AsArray().Single(l => (string?)l!["part"] == part)!;

    static JsonNode Expect(HttpStatusCode status, Answer answer)
    {
        Assert.True(status == answer.Status, $"expected {(int)status}, was {answer}");
        return answer.Body;
    }
}

/// <summary>The app with an empty database and no demo.</summary>
public sealed class BareApp : IAsyncLifetime
{
    RunningApp? app;

    public RunningApp App => app ?? throw new InvalidOperationException("The app has not started.");

    public async ValueTask InitializeAsync() => app = await RunningApp.Start("--no-demo");

    public ValueTask DisposeAsync() => app?.DisposeAsync() ?? ValueTask.CompletedTask;
}
