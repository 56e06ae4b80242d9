using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace KitOrders.Crash.Tests;

/// <summary>A command that was sent, and what is known of it.</summary>
/// <param name="Operation">As the product names it in its own records.</param>
sealed record Sent(string Key, string Operation, string Path, JsonNode Body)
{
    /// <summary>What it changes on hand, by part, where the command says so by itself; a count and a correction say so in the answer.</summary>
    public IReadOnlyList<(string Part, decimal Quantity)> Changes { get; init; } = [];

    /// <summary>The answer that came back; null while nobody knows whether it was done.</summary>
    public Answer? Answer { get; set; }

    public async Task<Answer> Send(HttpClient http)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, Path)
        {
            Content = new StringContent(Body.ToJsonString(), Encoding.UTF8, "application/json"),
        };
        request.Headers.Add("Idempotency-Key", Key);
        using var response = await http.SendAsync(request);
        return new Answer(response.StatusCode, await response.Content.ReadAsStringAsync());
    }

    /// <summary>
    /// Sends it until it is known whether it is done: the first calls after a kill may still meet connections that broke with it.
    /// </summary>
    public async Task<Answer> SendUntilKnown(HttpClient http)
    {
        for (var sent = 1; ; sent++)
        {
            var answer = await Send(http);
            if (answer.Done || answer.Refused || sent == 10)
                return answer;
        }
    }

    /// <summary>What it changed on hand, given what the operation answered.</summary>
    public IEnumerable<(string Part, decimal Quantity)> Effect(string answer) => Operation switch
    {
        "count-bin" => [Of(answer, "difference")],
        "correct-movement" => [Of(answer, "quantity")],
        _ => Changes,
    };

    static (string, decimal) Of(string answer, string field)
    {
        using var read = JsonDocument.Parse(answer);
        return (read.RootElement.GetProperty("part").GetString()!, read.RootElement.GetProperty(field).GetDecimal());
    }
}
