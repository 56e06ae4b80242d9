using System.Text.Json.Nodes;

namespace KitOrders.Crash.Tests;

/// <summary>
/// Somebody who works at stock and orders with others and writes down what they sent and what came back. What they choose is
/// drawn from a seed; what they find depends on the others.
/// </summary>
sealed class Client(string name, int seed, KilledApp app, Book book)
{
    readonly Random random = new(seed);
    int made;

    /// <summary>Works until told to stop. Whatever ends without a word is written down as unknown.</summary>
    public async Task Work(CancellationToken stop)
    {
        using var http = app.Client();
        while (!stop.IsCancellationRequested)
        {
            try
            {
                if (await Next(http) is not { } command)
                    continue;
                book.Sent.Enqueue(command);
                var answer = await command.Send(http);
                if (answer.Done || answer.Refused)
                    command.Answer = answer;
                if (answer.Done && command.Operation == "create-order")
                    book.Orders.Push(command.Key);
            }
            catch (Exception e) when (e is HttpRequestException or IOException or TaskCanceledException)
            {
                // The program is gone or the database is: the next thing may work, or it is time to stop.
                await Task.Delay(5, CancellationToken.None);
            }
        }
    }

    async Task<Sent?> Next(HttpClient http) => random.Next(20) switch
    {
        < 3 => Create(),
        < 7 => Order() is { } order ? New("open-order", $"/api/orders/{order}/open", []) : null,
        < 11 => await Pick(http),
        < 13 => Receive(),
        13 => await Count(http),
        14 => Order() is { } order ? New("cancel-order", $"/api/orders/{order}/cancel", new() { ["reason"] = "not needed" }) : null,
        15 => await TakeOver(http),
        16 => await Return(http),
        17 => await Scrap(http),
        18 => await Transfer(http),
        _ => random.Next(2) == 0 ? await Correct(http) : Change(),
    };

    Sent Create() => New("create-order", "/api/orders", new()
    {
        ["pump"] = $"P-{random.Next(1, CrashPlant.Pumps + 1)}", ["job"] = "JOB", ["neededBy"] = CrashPlant.Day(random.Next(2, 30)),
        ["workClass"] = random.Next(1, 11), ["breakdown"] = true,
        ["kits"] = new JsonArray(new JsonObject { ["kit"] = One(CrashPlant.Kits), ["quantity"] = random.Next(1, 3) }),
    }, key => ("number", key));

    Sent Receive()
    {
        var (part, quantity) = (One(CrashPlant.Parts), random.Next(1, 4));
        return New("receive-lot", "/api/receipts", new() { ["part"] = part, ["quantity"] = quantity, ["bin"] = One(CrashPlant.Bins), ["unitCost"] = 2 },
            key => ("lot", key)) with { Changes = [(part, quantity)] };
    }

    Sent? Change() => Order() is { } order
        ? New("change-order", $"/api/orders/{order}/change", new() { ["workClass"] = random.Next(1, 11), ["plannedFitOn"] = CrashPlant.Day(random.Next(1, 40)) }) : null;

    async Task<Sent?> Pick(HttpClient http)
    {
        if (await Reservation(http, "quantity") is not { } held)
            return null;
        var lines = new JsonArray(new JsonObject { ["reservation"] = held.Id, ["quantity"] = held.Quantity });
        return New("pick-lines", $"/api/orders/{held.Order}/picks", new() { ["lines"] = lines }) with { Changes = [(held.Part, -held.Quantity)] };
    }

    async Task<Sent?> Return(HttpClient http) => await Reservation(http, "picked") is not { } held ? null
        : New("return-stock", "/api/returns", new() { ["order"] = held.Order, ["reservation"] = held.Id, ["quantity"] = 1 }) with { Changes = [(held.Part, 1)] };

    async Task<Sent?> TakeOver(HttpClient http) => await Reservation(http, "quantity") is not { } held || Order() is not { } order ? null
        : New("take-over", $"/api/orders/{order}/take-over", new() { ["from"] = held.Order, ["part"] = held.Part, ["quantity"] = 1, ["reason"] = "more pressing" });

    async Task<Sent?> Count(HttpClient http) => await Lot(http) is not { } lot ? null
        : New("count-bin", "/api/counts", new()
        {
            ["part"] = lot.Part, ["bin"] = lot.Bin, ["lot"] = lot.Number, ["accept"] = true, ["counted"] = Math.Max(0, lot.OnHand + random.Next(-1, 2)),
        });

    async Task<Sent?> Scrap(HttpClient http) => await Lot(http) is not { } lot ? null
        : New("scrap-stock", "/api/scraps", new() { ["part"] = lot.Part, ["bin"] = lot.Bin, ["lot"] = lot.Number, ["quantity"] = 1, ["reason"] = "bent" })
            with { Changes = [(lot.Part, -1)] };

    async Task<Sent?> Transfer(HttpClient http) => await Lot(http) is not { } lot ? null
        : New("transfer-stock", "/api/transfers", new()
        {
            ["part"] = lot.Part, ["lot"] = lot.Number, ["from"] = lot.Bin, ["to"] = One(CrashPlant.Bins), ["quantity"] = 1,
        });

    async Task<Sent?> Correct(HttpClient http)
    {
        var page = JsonNode.Parse(await http.GetStringAsync(new Uri($"/api/movements?part={One(CrashPlant.Parts)}&pageSize=500", UriKind.Relative)))!;
        var receipts = page["items"]!.AsArray().Where(m => (string?)m!["kind"] == "receipt" && m["corrects"] is null && m["correctedBy"] is null).ToArray();
        return receipts.Length == 0 ? null
            : New("correct-movement", $"/api/movements/{(long)One(receipts)!["id"]!}/correction", new() { ["reason"] = "typed wrong" });
    }

    /// <summary>Something that an order holds on the shelf, or has in hand.</summary>
    async Task<(string Order, string Part, int Id, decimal Quantity)?> Reservation(HttpClient http, string of)
    {
        for (var looked = 0; looked < 4; looked++)
        {
            if (await HeldBy(http, Order(), of) is { } held)
                return held;
        }
        return null;
    }

    async Task<(string Order, string Part, int Id, decimal Quantity)?> HeldBy(HttpClient http, string? order, string of)
    {
        if (order is null)
            return null;
        var view = JsonNode.Parse(await http.GetStringAsync(new Uri($"/api/orders/{order}", UriKind.Relative)))!;
        var held = view["demand"]!.AsArray().SelectMany(d => d!["reservations"]!.AsArray().Select(r => (Part: (string)d["part"]!, Row: r!)))
            .Where(r => (decimal)r.Row[of]! > 0).ToArray();
        if ((string?)view["state"] == "draft" || held.Length == 0)
            return null;
        var (part, row) = One(held);
        return (order, part, (int)row["id"]!, (decimal)row[of]!);
    }

    async Task<(string Part, string Number, string Bin, decimal OnHand)?> Lot(HttpClient http)
    {
        var part = One(CrashPlant.Parts);
        var lots = JsonNode.Parse(await http.GetStringAsync(new Uri($"/api/parts/{part}", UriKind.Relative)))!["lots"]!.AsArray().ToArray();
        if (lots.Length == 0)
            return null;
        var lot = One(lots)!;
        return (part, (string)lot["lot"]!, (string)lot["bin"]!, (decimal)lot["onHand"]!);
    }

    Sent New(string operation, string path, JsonObject body, Func<string, (string, string)>? named = null)
    {
        var key = $"{name}-{++made}";
        if (named?.Invoke(key) is var (field, value))
            body[field] = value;
        return new Sent(key, operation, path, body);
    }

    /// <summary>Lately made orders more often than old ones.</summary>
    string? Order()
    {
        var all = book.Orders.ToArray();
        return all.Length == 0 ? null : all[random.Next(Math.Min(all.Length, 10))];
    }

    T One<T>(IReadOnlyList<T> of) => of[random.Next(of.Count)];
}
