using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using KitOrders.Operations;
using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Web.Access;
using Microsoft.AspNetCore.Http.Features;

namespace KitOrders.Web.Api;

/// <summary>
/// What every call of the API has in common: who calls, the body read with a sentence for what cannot be read, the key that
/// makes a write happen once, the version that was seen, and the reply kept for the same call again.
/// </summary>
sealed class ApiCall(HttpContext http, Replies replies)
{
    const int MostBody = 16 * 1024 * 1024;

    static readonly Refusal tooLarge = Refusal.Invalid("body-too-large", "The body is larger than 16 MB. Send it in pieces.");

    public Actor Actor { get; } = http.User.ActorOf();

    public CancellationToken Ct => http.RequestAborted;

    /// <summary>One write: the operation once, then the answer it is asked for.</summary>
    public Task<IResult> Write<TBody, TDone, TAnswer>(
        Func<Call, TBody, Task<Outcome<TDone>>> operation, Func<TDone, Task<Outcome<TAnswer>>> answer, int status = StatusCodes.Status200OK) =>
        Once(bytes => RequestBody.Read<TBody>(bytes), operation, answer, status);

    /// <summary>One write whose body is a file, taken as it comes; the operation tells what it is.</summary>
    public Task<IResult> WriteFile<TDone, TAnswer>(Func<Call, byte[], Task<Outcome<TDone>>> operation, Func<TDone, Task<Outcome<TAnswer>>> answer) =>
        Once(bytes => bytes, operation, answer, StatusCodes.Status200OK);

    async Task<IResult> Once<TBody, TDone, TAnswer>(
        Func<byte[], Outcome<TBody>> parse, Func<Call, TBody, Task<Outcome<TDone>>> operation, Func<TDone, Task<Outcome<TAnswer>>> answer, int status)
    {
        var body = await ReadAll();
        if (body.Refusal is { } tooLong)
            return Problem.Of(tooLong);
        var read = parse(body.Value);
        if (read.Refusal is { } unreadable)
            return Problem.Of(unreadable);
        var key = KeyOf(body.Value);
        if (key.Refusal is { } noKey)
            return Problem.Of(noKey);
        var seen = SeenVersion();
        if (seen.Refusal is { } badVersion)
            return Problem.Of(badVersion);
        var kept = await replies.Find(Actor, key.Value, Ct);
        if (kept.Refusal is { } reused)
            return Problem.Of(reused);
        if (kept.Value is { } before)
            return Reply(before, status);

        var done = await operation(new Call(Actor, key.Value, seen.Value), read.Value);
        if (done.Refusal is { } refusal)
            return Problem.Of(refusal);
        var answered = await answer(done.Value);
        if (answered.Refusal is { } lost)
            return Problem.Of(lost);
        if (answered.Value is OrderView order)
            http.Response.Headers.ETag = $"\"{order.Version}\"";
        var json = JsonSerializer.Serialize(answered.Value, Json.Options);
        // The effect stands; whether the sender is still there to hear of it must not keep the reply from being kept.
        await replies.Keep(Actor, key.Value, json, CancellationToken.None);
        return Reply(json, status);
    }

    /// <summary>One write whose operation answers by itself.</summary>
    public Task<IResult> Write<TBody, TDone>(Func<Call, TBody, Task<Outcome<TDone>>> operation, int status = StatusCodes.Status200OK) =>
        Write<TBody, TDone, TDone>(operation, done => Task.FromResult<Outcome<TDone>>(done), status);

    public static IResult Read<T>(Outcome<T> outcome) =>
        outcome.Refusal is { } refusal ? Problem.Of(refusal) : Results.Json(outcome.Value, Json.Options);

    /// <summary>A whole order, with its version as the tag that If-Match gives back.</summary>
    public IResult ReadOrder(Outcome<OrderView> outcome)
    {
        if (outcome.IsDone)
            http.Response.Headers.ETag = $"\"{outcome.Value.Version}\"";
        return Read(outcome);
    }

    static IResult Reply(string json, int status) => Results.Content(json, "application/json", Encoding.UTF8, status);

    async Task<Outcome<byte[]>> ReadAll()
    {
        using var text = new MemoryStream();
        var buffer = new byte[16 * 1024];
        // What is too large is read to its end all the same: a sender that is cut off while sending never hears why.
        if (http.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
            limit.MaxRequestBodySize = 4 * MostBody;
        var whole = true;
        int read;
        while ((read = await http.Request.Body.ReadAsync(buffer, Ct)) > 0)
        {
            whole = whole && text.Length + read <= MostBody;
            if (whole)
                text.Write(buffer, 0, read);
        }
        return whole ? text.ToArray() : tooLarge;
    }

    /// <summary>The key where one was sent; null where none was.</summary>
    public Outcome<CommandKey?> KeyIfAny(ReadOnlySpan<byte> body)
    {
        if (http.Request.Headers["Idempotency-Key"].ToString().Trim().Length == 0)
            return (CommandKey?)null;
        var key = KeyOf(body);
        return key.Refusal is { } refusal ? refusal : key.Value;
    }

    Outcome<CommandKey> KeyOf(ReadOnlySpan<byte> body)
    {
        var key = http.Request.Headers["Idempotency-Key"].ToString().Trim();
        if (key.Length == 0)
            return Refusal.Invalid("idempotency-key-missing",
                "A write carries an Idempotency-Key, a name of your own for this one command, so that sending it twice does it once. Nothing was done.");
        if (key.Length > CommandKey.MaxLength)
            return Refusal.Invalid("idempotency-key-too-long", $"An Idempotency-Key has at most {CommandKey.MaxLength} characters. Nothing was done.");
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.UTF8.GetBytes($"{http.Request.Method} {http.Request.Path}{http.Request.QueryString}\n"));
        hash.AppendData(body);
        return new CommandKey(key, Convert.ToHexStringLower(hash.GetHashAndReset()));
    }

    Outcome<long?> SeenVersion()
    {
        var given = http.Request.Headers.IfMatch.ToString().Trim();
        if (given.Length == 0 || given == "*")
            return (long?)null;
        return long.TryParse((given.StartsWith("W/", StringComparison.Ordinal) ? given[2..] : given).Trim('"'), out var version) ? version
            : Refusal.Invalid("if-match-unreadable", "If-Match carries the version of the order as a number, as its answer shows it.");
    }
}
