using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>What the API says of quantities and dates that cannot be, and that nothing comes of them.</summary>
[Collection("A plant for rules")]
public sealed class ContractStock(ContractRules.Plant plant)
{
    static readonly DateOnly today = DateOnly.FromDateTime(DateTime.UtcNow);

    [Theory]
    [InlineData("0", "quantity-not-positive")]
    [InlineData("-1", "quantity-not-positive")]
    [InlineData("1.5", "quantity-not-whole")]
    [InlineData("100000000", "quantity-too-large")]
    [InlineData("79228162514264337593543950335", "quantity-too-large")]
    [InlineData("1e29", "body-unreadable")]
    [InlineData("1e400", "body-unreadable")]
    [InlineData("\"3\"", "body-unreadable")]
    [InlineData("0.00001", "quantity-too-fine", "m")]
    [InlineData("1e-5", "quantity-too-fine", "m")]
    public async Task A_quantity_that_cannot_be_is_refused_at_its_field_wherever_it_is_given(string quantity, string code, string unit = "each")
    {
        var part = $"BI{unit}";
        await plant.Import("parts", $"part,description,unit\n{part},bad input,{unit}\n");
        await plant.Stock($"{part},l,A-1,5,today,,");
        foreach (var (path, body, field) in new[]
        {
            ("/api/receipts", $$"""{"part":"{{part}}","bin":"A-1","quantity":{{quantity}}}""", "quantity"),
            ("/api/scraps", $$"""{"part":"{{part}}","bin":"A-1","lot":"l","reason":"x","quantity":{{quantity}}}""", "quantity"),
            ("/api/transfers", $$"""{"part":"{{part}}","lot":"l","from":"A-1","to":"A-2","quantity":{{quantity}}}""", "quantity"),
            ("/api/counts", $$"""{"part":"{{part}}","bin":"A-1","lot":"l","counted":{{quantity}}}""", "counted"),
        })
        {
            if (field == "counted" && quantity == "0")
                continue;
            await Refused(HttpStatusCode.UnprocessableEntity, code, field, path, body);
        }

        Assert.Equal(5m, (decimal)(await plant.Get($"/api/parts/{part}"))["totals"]!["onHand"]!);
    }

    [Fact]
    public async Task A_receipt_cured_after_today_or_in_a_quarter_not_yet_begun_is_refused_and_one_running_is_taken()
    {
        await plant.Import("parts", "part,description,unit,elastomers\nBISEAL,seal,each,NBR\n");
        var next = today.AddMonths(3);
        string Quarter(DateOnly day) => $"{(day.Month + 2) / 3}Q{day.Year.ToString(CultureInfo.InvariantCulture)}";
        foreach (var cured in new[] { today.AddDays(1).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), Quarter(next), "9999-12-31" })
            await Refused(HttpStatusCode.UnprocessableEntity, "cure-date-ahead", "curedOn", "/api/receipts", $$"""{"part":"BISEAL","bin":"A-1","quantity":1,"curedOn":"{{cured}}"}""");
        await Refused(HttpStatusCode.UnprocessableEntity, "cure-date-unreadable", "curedOn", "/api/receipts", """{"part":"BISEAL","bin":"A-1","quantity":1,"curedOn":"5Q26"}""");
        foreach (var cured in new[] { today.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), Quarter(today) })
            await plant.Done("/api/receipts", new { part = "BISEAL", bin = "A-1", quantity = 1, curedOn = cured });
        Assert.Equal(2m, (decimal)(await plant.Get("/api/parts/BISEAL"))["totals"]!["onHand"]!);
    }

    [Fact]
    public async Task A_count_below_what_is_reserved_asks_which_orders_lose_before_it_is_kept()
    {
        await plant.Parts("BCK", "BCP");
        await plant.Kits("BCK,1,1,BCP,2,boughtSeparately,,,,,");
        await plant.Stock("BCK,l,A-1,9,today,,", "BCP,l,A-1,5,today,,");
        var low = (string)(await plant.Opened("P-1", [("BCK", 1)], workClass: 1))["number"]!;
        var high = (string)(await plant.Opened("P-10", [("BCK", 1)], workClass: 9))["number"]!;
        var asked = await Refused(HttpStatusCode.Conflict, "count-below-reserved", "counted", "/api/counts", """{"part":"BCP","bin":"A-1","lot":"l","counted":3}""");
        Assert.Contains(low, (string)asked["detail"]!, StringComparison.Ordinal);
        Assert.DoesNotContain(high, (string)asked["detail"]!, StringComparison.Ordinal);
        Assert.Equal(["2 0", "2 0"], [await Standing(low, "BCP"), await Standing(high, "BCP")]);
        await plant.Done("/api/counts", new { part = "BCP", bin = "A-1", lot = "l", counted = 3, accept = true });
        Assert.Equal(["1 1", "2 0"], [await Standing(low, "BCP"), await Standing(high, "BCP")]);
    }

    [Fact]
    public async Task No_more_comes_back_than_was_handed_over()
    {
        await plant.Parts("BRK", "BRP");
        await plant.Kits("BRK,1,1,BRP,3,boughtSeparately,,,,,");
        await plant.Stock("BRK,l,A-1,9,today,,", "BRP,l,A-1,5,today,,");
        var order = await plant.Opened("P-4", [("BRK", 1)]);
        var number = (string)order["number"]!;
        var held = (int)order["demand"]!.AsArray().Single(l => (string?)l!["part"] == "BRP")!["reservations"]![0]!["id"]!;
        await Refused(HttpStatusCode.Conflict, "return-too-many", "quantity", "/api/returns", $$"""{"order":"{{number}}","reservation":{{held}},"quantity":1}""");
        await plant.Done($"/api/orders/{number}/picks", new { lines = new[] { new { reservation = held, quantity = 3 } } });
        await Refused(HttpStatusCode.Conflict, "return-too-many", "quantity", "/api/returns", $$"""{"order":"{{number}}","reservation":{{held}},"quantity":4}""");
        await Refused(HttpStatusCode.UnprocessableEntity, "quantity-too-large", "quantity", "/api/returns", $$"""{"order":"{{number}}","reservation":{{held}},"quantity":79228162514264337593543950335}""");
        await plant.Done("/api/returns", new { order = number, reservation = held, quantity = 3 });
        await Refused(HttpStatusCode.Conflict, "return-too-many", "quantity", "/api/returns", $$"""{"order":"{{number}}","reservation":{{held}},"quantity":1}""");
        Assert.Equal(5m, (decimal)(await plant.Get("/api/parts/BRP"))["totals"]!["onHand"]!);
        Assert.All((await plant.Get("/api/stock-truth")).AsArray(), check => Assert.True((bool)check!["holds"]!, check.ToJsonString()));
    }

    [Fact]
    public async Task An_alternate_a_purchase_and_a_new_plan_are_asked_and_refused_over_HTTP_like_everything_else()
    {
        await plant.Parts("UAK", "UAP", "UAQ");
        await plant.Kits("UAK,1,1,UAP,2,boughtSeparately,,,,,");
        await plant.Import("alternates", "part,alternate\nUAP,UAQ\n");
        await plant.Stock("UAK,l,A-1,9,today,,", "UAQ,l,A-1,1,today,,");
        var number = (string)(await plant.Opened("P-6", [("UAK", 1)]))["number"]!;
        var path = $"/api/orders/{number}";
        await Refused(HttpStatusCode.UnprocessableEntity, "alternate-missing", "alternate", $"{path}/use-alternate", """{"part":"UAP","quantity":1,"reason":"x"}""");
        await Refused(HttpStatusCode.UnprocessableEntity, "alternate-not-approved", "alternate", $"{path}/use-alternate", """{"part":"UAP","alternate":"UAK","quantity":1,"reason":"x"}""");
        await Refused(HttpStatusCode.UnprocessableEntity, "reference-missing", "reference", "/api/incoming", """{"part":"UAP","quantity":1}""");
        var used = await plant.Done($"{path}/use-alternate", new { part = "UAP", alternate = "UAQ", quantity = 2, reason = "it is late", source = "boughtSeparately" });
        Assert.Equal(["UAK 1 0", "UAP 0 0", "UAQ 1 1"], used["demand"]!.AsArray().Select(l => $"{l!["part"]} {(decimal)l["reserved"]!:0} {(decimal)l["short"]!:0}").Order(StringComparer.Ordinal));
        var shown = await plant.Get($"{path}/replan");
        Assert.Equal("2 × UAQ in place of UAP", (string?)Assert.Single(shown["givenUp"]!.AsArray()));
        await Refused(HttpStatusCode.UnprocessableEntity, "seen-missing", "seen", $"{path}/replan", """{}""");
        await plant.Done("/api/incoming", new { part = "UAP", quantity = 2, reference = "PO-UAP", promisedOn = today.AddDays(3).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) });
        var planned = await plant.Done($"{path}/replan", new { seen = (string)shown["seen"]! });
        Assert.Equal(["UAK 1 0", "UAP 0 2"], planned["demand"]!.AsArray().Select(l => $"{l!["part"]} {(decimal)l["reserved"]!:0} {(decimal)l["short"]!:0}").Order(StringComparer.Ordinal));
        await plant.Done($"{path}/use-alternate", new { part = "UAP", alternate = "UAQ", quantity = 1, reason = "it is late" });
        var back = await plant.Done($"{path}/take-back-alternate", new { part = "UAP", alternate = "UAQ", reason = "it came" });
        Assert.Equal(2m, (decimal)back["demand"]!.AsArray().Single(l => (string?)l!["part"] == "UAP")!["incoming"]!);
    }

    async Task<string> Standing(string order, string part)
    {
        var line = (await plant.Get($"/api/orders/{order}"))["demand"]!.AsArray().Single(l => (string?)l!["part"] == part)!;
        return $"{(decimal)line["reserved"]!:0.####} {(decimal)line["short"]!:0.####}";
    }

    async Task<JsonNode> Refused(HttpStatusCode status, string code, string field, string path, string body)
    {
        using var api = plant.App.Api();
        using var content = new StringContent(body, Encoding.UTF8, "application/json");
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = content };
        request.Headers.Add("Idempotency-Key", Guid.NewGuid().ToString());
        var answer = await api.Send(request);
        Assert.True(status == answer.Status && answer.Code == code, $"{path} {body}: expected {(int)status} {code}, was {answer}");
        Assert.True(answer.Body["errors"]?[field] is JsonArray { Count: > 0 }, $"{path} {body}: no sentence at {field} in {answer}");
        return answer.Body;
    }
}

/// <summary>One running plant for the rules and the stock of the contract; each test brings parts of its own.</summary>
[CollectionDefinition("A plant for rules")]
public sealed class PlantForRules : ICollectionFixture<ContractRules.Plant>;
