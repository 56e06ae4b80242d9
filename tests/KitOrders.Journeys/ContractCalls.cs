using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;
using KitOrders.TestPlants;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>What the API says of every call, whatever it is about: bodies, queries, keys, versions, problem details.</summary>
public sealed class ContractCalls(ContractCalls.Plant plant) : IClassFixture<ContractCalls.Plant>
{
    const string Good = """{"pump":"P-1","job":"CONV","neededBy":"2026-12-01","workClass":7""";

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("""{"job":"CONV","neededBy":"2026-12-01","workClass":7}""", "pump-missing", "pump")]
    [InlineData("""{"pump":"P-1","job":"CONV","neededBy":"2026-12-01"}""", "work-class-missing", "workClass")]
    [InlineData("{}", "fields-missing", "neededBy")]
    [InlineData("", "fields-missing", "pump")]
    [InlineData("null", "body-unreadable", null)]
    [InlineData("[]", "body-unreadable", null)]
    [InlineData("5", "body-unreadable", null)]
    [InlineData("{", "body-unreadable", null)]
    [InlineData("""{"pump":null,"job":"CONV","neededBy":"2026-12-01","workClass":7}""", "body-unreadable", "pump")]
    [InlineData("""{"pump":1,"job":"CONV","neededBy":"2026-12-01","workClass":7}""", "body-unreadable", "pump")]
    [InlineData("""{"pump":{},"job":"CONV","neededBy":"2026-12-01","workClass":7}""", "body-unreadable", "pump")]
    [InlineData("""{"pump":"NOPE","job":"CONV","neededBy":"2026-12-01","workClass":7}""", "pump-unknown", "pump")]
    [InlineData("""{"pump":"P-1","job":"NOPE","neededBy":"2026-12-01","workClass":7}""", "job-unknown", "job")]
    [InlineData("""{"pump":"P-1","job":"CONV","neededBy":"2026-02-30","workClass":7}""", "body-unreadable", "neededBy")]
    [InlineData("""{"pump":"P-1","job":"CONV","neededBy":"12/01/2026","workClass":7}""", "body-unreadable", "neededBy")]
    [InlineData("""{"pump":"P-1","job":"CONV","neededBy":"2026-12-01","workClass":0}""", "order-values", "workClass")]
    [InlineData("""{"pump":"P-1","job":"CONV","neededBy":"2026-12-01","workClass":11}""", "order-values", "workClass")]
    [InlineData("""{"pump":"P-1","job":"CONV","neededBy":"2026-12-01","workClass":1.5}""", "body-unreadable", "workClass")]
    [InlineData("""{"pump":"P-1","job":"CONV","neededBy":"2026-12-01","workClass":"7"}""", "body-unreadable", "workClass")]
    [InlineData("""{"pump":"P-1","job":"CONV","neededBy":"2026-12-01","workClass":1e400}""", "body-unreadable", "workClass")]
    [InlineData(Good + ""","kits":[null]}""", "body-unreadable", "kits")]
    [InlineData(Good + ""","kits":{}}""", "body-unreadable", "kits")]
    [InlineData(Good + ""","kits":[{"quantity":1}]}""", "kit-missing", "kits")]
    [InlineData(Good + ""","kits":[{"kit":null,"quantity":1}]}""", "body-unreadable", "kits")]
    [InlineData(Good + ""","kits":[{"kit":"K","quantity":0}]}""", "order-values", "kits")]
    [InlineData(Good + ""","kits":[{"kit":"K","quantity":1.5}]}""", "order-values", "kits")]
    [InlineData(Good + ""","kits":[{"kit":"K","quantity":10000}]}""", "order-values", "kits")]
    [InlineData(Good + ""","kits":[{"kit":"B","quantity":1}]}""", "kit-unknown", "kits")]
    [InlineData(Good + ""","number":"<b>"}""", "order-values", "number")]
    [InlineData(Good + ""","number":".."}""", "order-values", "number")]
    [InlineData("{\"pump\":\"a\\u0000b\",\"job\":\"CONV\",\"neededBy\":\"2026-12-01\",\"workClass\":7}", "body-unreadable", "pump")]
    [InlineData("{\"pump\":\"\\ud800\",\"job\":\"CONV\",\"neededBy\":\"2026-12-01\",\"workClass\":7}", "body-unreadable", "pump")]
    public async Task A_body_that_cannot_be_taken_is_422_with_its_code_and_the_field_at_fault(string body, string code, string? field)
    {
        var problem = await Refused(HttpStatusCode.UnprocessableEntity, await Post("/api/orders", Encoding.UTF8.GetBytes(body)));
        Assert.Equal(code, (string?)problem["code"]);
        if (field is null)
            Assert.Null(problem["errors"]);
        else
            Assert.NotEmpty(problem["errors"]![field]!.AsArray());
        Assert.DoesNotContain("KitOrders.", problem.ToJsonString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Bytes_that_are_not_UTF8_a_deep_body_and_one_above_16_MB_are_422()
    {
        var broken = Encoding.UTF8.GetBytes(Good + "}");
        broken[9] = 0xff;
        Assert.Equal("body-unreadable", (string?)(await Refused(HttpStatusCode.UnprocessableEntity, await Post("/api/orders", broken)))["code"]);
        var deep = Encoding.UTF8.GetBytes("{\"kits\":" + new string('[', 5_000) + new string(']', 5_000) + "}");
        Assert.Equal("body-unreadable", (string?)(await Refused(HttpStatusCode.UnprocessableEntity, await Post("/api/orders", deep)))["code"]);
        foreach (var megabytes in (int[])[17, 40])
        {
            var big = Encoding.ASCII.GetBytes("{\"pump\":\"" + new string('x', megabytes * 1024 * 1024) + "\"}");
            Assert.Equal("body-too-large", (string?)(await Refused(HttpStatusCode.UnprocessableEntity, await Post("/api/orders", big)))["code"]);
        }
    }

    [Fact]
    public async Task Unknown_fields_nulls_for_what_may_be_missing_a_byte_order_mark_and_any_content_type_are_taken()
    {
        var body = Good + ""","foo":1,"kits":null,"number":null,"plannedFitOn":null,"breakdown":null}""";
        using var answer = await Post("/api/orders", [.. Encoding.UTF8.Preamble, .. Encoding.UTF8.GetBytes(body)], "text/plain");
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
    }

    [Theory]
    [InlineData("GET", "/api/nothing", 404)]
    [InlineData("GET", "/api/foo.bar", 404)]
    [InlineData("DELETE", "/api/orders/1", 404)]
    [InlineData("GET", "/api/orders/nope", 404)]
    [InlineData("GET", "/api/pumps/nope", 404)]
    [InlineData("GET", "/api/parts/nope", 404)]
    [InlineData("POST", "/api/orders/nope/open", 404)]
    [InlineData("POST", "/api/orders/nope/steps/99999999999/results", 404)]
    [InlineData("POST", "/api/imports/nope", 404)]
    [InlineData("GET", "/api/orders?state=foo", 422)]
    [InlineData("GET", "/api/orders?after=nope", 422)]
    [InlineData("GET", "/api/orders?pageSize=abc", 422)]
    [InlineData("GET", "/api/orders?pageSize=0", 422)]
    [InlineData("GET", "/api/orders?pageSize=99999999999", 422)]
    [InlineData("GET", "/api/movements?after=abc", 422)]
    [InlineData("GET", "/api/movements?part=%00", 422)]
    [InlineData("GET", "/api/parts/K?on=2026-02-30", 422)]
    [InlineData("GET", "/api/suitability?pump=P-1&kit=K&on=foo", 422)]
    [InlineData("GET", "/api/suitability?pump=P-1", 422)]
    [InlineData("GET", "/api/suitability?pump=P-1&kit=NOPE", 404)]
    [InlineData("GET", "/api/readiness?asOf=soon", 422)]
    [InlineData("GET", "/api/audit?pageSize=x", 422)]
    [InlineData("POST", "/api/imports/parts?dryRun=perhaps", 422)]
    public async Task A_path_or_query_that_means_nothing_hears_problem_details(string method, string path, int status)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), path);
        if (method != "GET")
            request.Headers.Add("Idempotency-Key", Guid.NewGuid().ToString());
        await Refused((HttpStatusCode)status, await plant.Http.SendAsync(request, Ct));
    }

    [Fact]
    public async Task A_call_without_a_token_and_one_with_a_wrong_token_are_401()
    {
        using var nobody = new HttpClient { BaseAddress = plant.Http.BaseAddress };
        await Refused(HttpStatusCode.Unauthorized, await nobody.GetAsync(new Uri("/api/orders", UriKind.Relative), Ct));
        nobody.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", "nonsense");
        await Refused(HttpStatusCode.Unauthorized, await nobody.GetAsync(new Uri("/api/orders", UriKind.Relative), Ct));
    }

    [Fact]
    public async Task A_write_needs_a_key_and_the_same_key_and_body_answer_the_same_once_more()
    {
        var body = Encoding.UTF8.GetBytes(Good + "}");
        Assert.Equal("idempotency-key-missing", (string?)(await Refused(HttpStatusCode.UnprocessableEntity, await Post("/api/orders", body, key: ""))) ["code"]);
        await Refused(HttpStatusCode.UnprocessableEntity, await Post("/api/orders", body, key: new string('k', 101)));
        var key = new string('k', 100);
        var all = await Task.WhenAll(Enumerable.Range(0, 10).Select(async _ =>
        {
            using var answer = await Post("/api/orders", body, key: key);
            Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
            return await answer.Content.ReadAsStringAsync(Ct);
        }));
        Assert.Single(all.Select(a => (string?)JsonNode.Parse(a)!["number"]).Distinct());
        using var again = await Post("/api/orders", body, key: key);
        using var onceMore = await Post("/api/orders", body, key: key);
        Assert.Equal(await again.Content.ReadAsStringAsync(Ct), await onceMore.Content.ReadAsStringAsync(Ct));
        Assert.Equal("idempotency-key-reused",
            (string?)(await Refused(HttpStatusCode.UnprocessableEntity, await Post("/api/orders", Encoding.UTF8.GetBytes(Good + " }"), key: key)))["code"]);
    }

    [Fact]
    public async Task A_command_that_was_refused_may_come_again_under_its_key_with_what_was_wrong_put_right()
    {
        var key = Guid.NewGuid().ToString();
        await Refused(HttpStatusCode.UnprocessableEntity, await Post("/api/orders", Encoding.UTF8.GetBytes(Good.Replace("7", "99", StringComparison.Ordinal) + "}"), key: key));
        using var right = await Post("/api/orders", Encoding.UTF8.GetBytes(Good + "}"), key: key);
        Assert.Equal(HttpStatusCode.Created, right.StatusCode);
    }

    [Fact]
    public async Task An_order_whose_number_has_a_slash_is_found_and_its_version_is_held_against_If_Match()
    {
        using var made = await Post("/api/orders", Encoding.UTF8.GetBytes(Good + ""","number":"WO-1.2/3"}"""));
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        await Refused(HttpStatusCode.Conflict, await Post("/api/orders", Encoding.UTF8.GetBytes(Good + ""","number":"WO-1.2/3"}""")));
        using var read = await plant.Http.GetAsync(new Uri("/api/orders/WO-1.2%2F3", UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.OK, read.StatusCode);
        var order = JsonNode.Parse(await read.Content.ReadAsStringAsync(Ct))!;
        Assert.Equal("draft", (string?)order["state"]);
        Assert.Equal($"\"{(long)order["version"]!}\"", read.Headers.ETag!.Tag);
        Assert.Equal("changed-meanwhile", (string?)(await Refused(HttpStatusCode.Conflict,
            await Post("/api/orders/WO-1.2%2F3/open", "{}"u8.ToArray(), ifMatch: "\"999\"")))["code"]);
        using var opened = await Post("/api/orders/WO-1.2%2F3/cancel", """{"reason":"x"}"""u8.ToArray(), ifMatch: read.Headers.ETag.Tag);
        Assert.Equal(HttpStatusCode.OK, opened.StatusCode);
    }

    [Fact]
    public async Task Lists_come_in_pages_that_meet()
    {
        for (var n = 0; n < 3; n++)
            using (await Post("/api/orders", Encoding.UTF8.GetBytes(Good + "}")))
            {
            }
        var seen = new List<string>();
        string? after = "";
        do
        {
            var page = JsonNode.Parse(await plant.Http.GetStringAsync(new Uri($"/api/orders?state=draft&pageSize=2&after={after}", UriKind.Relative), Ct))!;
            Assert.InRange(page["items"]!.AsArray().Count, 1, 2);
            seen.AddRange(page["items"]!.AsArray().Select(o => (string)o!["number"]!));
            after = (string?)page["next"];
        }
        while (after is not null);
        var whole = JsonNode.Parse(await plant.Http.GetStringAsync(new Uri("/api/orders?state=draft&pageSize=500", UriKind.Relative), Ct))!;
        Assert.Superset(seen.ToHashSet(), whole["items"]!.AsArray().Select(o => (string)o!["number"]!).ToHashSet());
        Assert.Equal(seen.Count, seen.Distinct().Count());
    }

    [Fact]
    public async Task Fifty_calls_at_once_are_all_answered()
    {
        var answers = await Task.WhenAll(Enumerable.Range(0, 50).Select(_ => plant.Http.GetAsync(new Uri("/api/parts/K", UriKind.Relative), Ct)));
        Assert.All(answers, a => Assert.Equal(HttpStatusCode.OK, a.StatusCode));
    }

    async Task<HttpResponseMessage> Post(string path, byte[] body, string type = "application/json", string? key = null, string? ifMatch = null)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new ByteArrayContent(body) };
        request.Content.Headers.ContentType = MediaTypeHeaderValue.Parse(type);
        if (key != "")
            request.Headers.Add("Idempotency-Key", key ?? Guid.NewGuid().ToString());
        if (ifMatch is not null)
            request.Headers.TryAddWithoutValidation("If-Match", ifMatch);
        return await plant.Http.SendAsync(request, Ct);
    }

    static async Task<JsonNode> Refused(HttpStatusCode status, HttpResponseMessage response)
    {
        using (response)
        {
            var text = await response.Content.ReadAsStringAsync(Ct);
            Assert.True(status == response.StatusCode, $"expected {(int)status}, was {(int)response.StatusCode} {text}");
            Assert.Equal("application/problem+json", response.Content.Headers.ContentType!.MediaType);
            var problem = JsonNode.Parse(text)!;
            foreach (var member in (string[])["type", "title", "detail", "code"])
                Assert.False(string.IsNullOrEmpty((string?)problem[member]), $"{member} is missing in {text}");
            Assert.Equal((int)status, (int)problem["status"]!);
            Assert.DoesNotContain("   at ", text, StringComparison.Ordinal);
            return problem;
        }
    }

    /// <summary>The worked plant in an app of its own, called by a client that keeps every header to itself.</summary>
    public sealed class Plant : IAsyncLifetime
    {
        RunningApp? app;

        public HttpClient Http { get; } = new() { Timeout = TimeSpan.FromSeconds(100) };

        public async ValueTask InitializeAsync()
        {
            app = await RunningApp.Start("--no-demo");
            Http.BaseAddress = app.Address;
            Http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", RunningApp.Token);
            using var api = app.Api();
            foreach (var (file, csv) in WorkedPlant.Files)
            {
                var answer = await api.Import(file, csv);
                Assert.True(answer.Status == HttpStatusCode.OK, answer.ToString());
            }
        }

        public async ValueTask DisposeAsync()
        {
            Http.Dispose();
            if (app is not null)
                await app.DisposeAsync();
        }
    }
}
