using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.RegularExpressions;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>Coming in by cookie and by token, and staying out, at the real program with the demo plant.</summary>
public sealed partial class AccessOverHttp(DemoHouse house)
{
    static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task People_and_scripts_come_in_by_their_own_ways_and_nobody_else_does()
    {
        var app = await house.App;
        await Outside_everything_asks_who_one_is(app);
        await Guessing_ends_in_a_minute_of_rest(app);
        await An_invented_person_comes_in_by_a_cookie_that_scripts_of_other_sites_cannot_use(app);
        await The_configured_token_writes_without_a_browser(app);
    }

    static async Task Outside_everything_asks_who_one_is(RunningApp app)
    {
        using var nobody = Browser(app, new CookieContainer());
        using var page = await nobody.GetAsync(new Uri("/setup/people?person=2", UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.Redirect, page.StatusCode);
        Assert.EndsWith("/sign-in?returnUrl=%2Fsetup%2Fpeople%3Fperson%3D2", page.Headers.Location!.ToString(), StringComparison.Ordinal);

        using var call = await nobody.GetAsync(new Uri("/api/audit", UriKind.Relative), Ct);
        await IsProblem(call, HttpStatusCode.Unauthorized, "not-signed-in");
        using var wrong = new HttpRequestMessage(HttpMethod.Get, new Uri("/api/audit", UriKind.Relative)) { Headers = { Authorization = new AuthenticationHeaderValue("Bearer", "ko_nobody") } };
        using var refused = await nobody.SendAsync(wrong, Ct);
        await IsProblem(refused, HttpStatusCode.Unauthorized, "not-signed-in");
        foreach (var open in new[] { "/health/live", "/health/ready", "/sign-in" })
        {
            using var answer = await nobody.GetAsync(new Uri(open, UriKind.Relative), Ct);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            Assert.Equal("nosniff", answer.Headers.GetValues("X-Content-Type-Options").Single());
        }
    }

    static async Task Guessing_ends_in_a_minute_of_rest(RunningApp app)
    {
        var jar = new CookieContainer();
        using var browser = Browser(app, jar);
        List<HttpStatusCode> answers = [];
        for (var guess = 0; guess < 7; guess++)
        {
            using var answer = await Post(browser, "/sign-in", "/sign-in", new() { ["_handler"] = "sign-in", ["userName"] = "somebody", ["password"] = $"guess number {guess}" });
            answers.Add(answer.StatusCode);
        }

        Assert.Equal([.. Enumerable.Repeat(HttpStatusCode.OK, 5), HttpStatusCode.TooManyRequests, HttpStatusCode.TooManyRequests], answers);
        Assert.DoesNotContain(jar.GetAllCookies(), cookie => cookie.Name == "kitorders");
    }

    static async Task An_invented_person_comes_in_by_a_cookie_that_scripts_of_other_sites_cannot_use(RunningApp app)
    {
        var jar = new CookieContainer();
        using var browser = Browser(app, jar);
        var door = await browser.GetStringAsync(new Uri("/sign-in", UriKind.Relative), Ct);
        var planner = DemoPerson().Matches(door).First(m => m.Groups["roles"].Value == "planner").Groups["id"].Value;
        using var forged = await browser.PostAsync(new Uri("/sign-in", UriKind.Relative),
            new FormUrlEncodedContent([new("_handler", "continue"), new("person", planner)]), Ct);
        Assert.Equal(HttpStatusCode.BadRequest, forged.StatusCode);
        using var nobodys = await Post(browser, "/sign-in", "/sign-in", new() { ["_handler"] = "continue", ["person"] = "999999" });
        Assert.DoesNotContain(jar.GetAllCookies(), cookie => cookie.Name == "kitorders");

        using var into = await Post(browser, "/sign-in?returnUrl=%2F%2Felsewhere.example", "/sign-in", new() { ["_handler"] = "continue", ["person"] = planner });
        Assert.Equal(HttpStatusCode.Redirect, into.StatusCode);
        Assert.DoesNotContain("elsewhere", into.Headers.Location!.ToString(), StringComparison.Ordinal);
        var set = into.Headers.GetValues("Set-Cookie").Single(c => c.StartsWith("kitorders=", StringComparison.Ordinal));
        Assert.Contains("httponly", set, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=lax", set, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("expires=", set, StringComparison.OrdinalIgnoreCase);

        var profile = await browser.GetStringAsync(new Uri("/profile", UriKind.Relative), Ct);
        Assert.Contains("Demo plant:", profile, StringComparison.Ordinal);
        using var audit = await browser.GetAsync(new Uri("/api/audit", UriKind.Relative), Ct);
        await IsProblem(audit, HttpStatusCode.Forbidden, "not-allowed");
        using var people = await browser.GetAsync(new Uri("/setup/people", UriKind.Relative), Ct);
        Assert.EndsWith("/not-yours", people.Headers.Location!.ToString(), StringComparison.Ordinal);

        using var bare = await browser.PostAsJsonAsync(new Uri("/api/orders", UriKind.Relative), new { }, Ct);
        await IsProblem(bare, HttpStatusCode.BadRequest, "antiforgery-token-missing");
        var csrf = await browser.GetFromJsonAsync<JsonElement>(new Uri("/api/csrf", UriKind.Relative), Ct);
        using var write = new HttpRequestMessage(HttpMethod.Post, new Uri("/api/orders", UriKind.Relative)) { Content = JsonContent.Create(new { }) };
        write.Headers.Add("X-CSRF-TOKEN", csrf.GetProperty("token").GetString());
        using var taken = await browser.SendAsync(write, Ct);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, taken.StatusCode);

        using var pulled = await browser.PostAsync(new Uri("/sign-out", UriKind.Relative), new FormUrlEncodedContent([new("leave", "here")]), Ct);
        Assert.Equal(HttpStatusCode.BadRequest, pulled.StatusCode);
        using var outside = await Post(browser, "/profile", "/sign-out", new() { ["leave"] = "here" });
        Assert.Equal(HttpStatusCode.Redirect, outside.StatusCode);
        using var after = await browser.GetAsync(new Uri("/api/csrf", UriKind.Relative), Ct);
        await IsProblem(after, HttpStatusCode.Unauthorized, "not-signed-in");
    }

    static async Task The_configured_token_writes_without_a_browser(RunningApp app)
    {
        using var script = Browser(app, new CookieContainer());
        script.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", RunningApp.Token);
        var audit = await script.GetFromJsonAsync<JsonElement>(new Uri("/api/audit?pageSize=2", UriKind.Relative), Ct);
        Assert.Equal(2, audit.GetProperty("items").GetArrayLength());
        var older = await script.GetFromJsonAsync<JsonElement>(new Uri($"/api/audit?pageSize=2&after={audit.GetProperty("next")}", UriKind.Relative), Ct);
        Assert.True(older.GetProperty("items")[0].GetProperty("id").GetInt64() < audit.GetProperty("items")[1].GetProperty("id").GetInt64());
        using var write = await script.PostAsJsonAsync(new Uri("/api/orders", UriKind.Relative), new { }, Ct);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, write.StatusCode);
    }

    static HttpClient Browser(RunningApp app, CookieContainer jar) =>
        new(new HttpClientHandler { CookieContainer = jar, AllowAutoRedirect = false }) { BaseAddress = app.Address };

    /// <summary>Fills a form of the page as a browser does, with the antiforgery token that stands in it.</summary>
    static async Task<HttpResponseMessage> Post(HttpClient browser, string page, string action, Dictionary<string, string> form)
    {
        var shown = await browser.GetStringAsync(new Uri(page, UriKind.Relative), Ct);
        form["__RequestVerificationToken"] = FormToken().Match(shown).Groups[1].Value;
        using var content = new FormUrlEncodedContent(form);
        return await browser.PostAsync(new Uri(action == "/sign-in" ? page : action, UriKind.Relative), content, Ct);
    }

    static async Task IsProblem(HttpResponseMessage answer, HttpStatusCode status, string code)
    {
        Assert.Equal(status, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        Assert.Equal(code, (await answer.Content.ReadFromJsonAsync<JsonElement>(Ct)).GetProperty("code").GetString());
    }

    [GeneratedRegex("__RequestVerificationToken\" value=\"([^\"]+)\"")]
    private static partial Regex FormToken();

    [GeneratedRegex("name=\"person\" value=\"(?<id>\\d+)\">[^<,]+, (?<roles>[^<]+)<")]
    private static partial Regex DemoPerson();
}
