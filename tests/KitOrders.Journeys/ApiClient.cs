using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace KitOrders.Journeys;

/// <summary>What an answer said: its status and its body.</summary>
public sealed record Answer(HttpStatusCode Status, JsonNode Body)
{
    public string Code => (string?)Body["code"] ?? "";

    public override string ToString() => $"{(int)Status} {Body.ToJsonString()}";
}

/// <summary>Calls the HTTP API as an outsider would: with a token and a new key for every write.</summary>
public sealed class ApiClient : IDisposable
{
    readonly HttpClient http;

    public ApiClient(Uri address, string token)
    {
        http = new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromSeconds(100) };
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
    }

    public Task<Answer> Get(string path) => Send(new HttpRequestMessage(HttpMethod.Get, path));

    public Task<Answer> Post(string path, object body, string? key = null)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, path)
        {
            Content = new StringContent(JsonSerializer.Serialize(body), Encoding.UTF8, "application/json"),
        };
        request.Headers.Add("Idempotency-Key", key ?? Guid.NewGuid().ToString());
        return Send(request);
    }

    public Task<Answer> Import(string file, string csv, bool dryRun = false)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, $"/api/imports/{file}?dryRun={(dryRun ? "true" : "false")}")
        {
            Content = new StringContent(csv, Encoding.UTF8, "text/csv"),
        };
        request.Headers.Add("Idempotency-Key", Guid.NewGuid().ToString());
        return Send(request);
    }

    public async Task<Answer> Send(HttpRequestMessage request)
    {
        using (request)
        using (var response = await http.SendAsync(request))
        {
            var text = await response.Content.ReadAsStringAsync();
            return new Answer(response.StatusCode, text.Length == 0 ? new JsonObject() : JsonNode.Parse(text)!);
        }
    }

    public void Dispose() => http.Dispose();
}
