using System.Collections.Concurrent;
using KitOrders.Operations;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Storage;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Npgsql;

namespace KitOrders.Benchmarks;

/// <summary>The operations as the app registers them, with everything around them, on one database.</summary>
sealed class Product : IAsyncDisposable
{
    static readonly ConcurrentDictionary<PostgresException, bool> passing = [];

    readonly ServiceProvider services;
    readonly IHostedService[] running;

    Product(ServiceProvider services, IHostedService[] running)
    {
        this.services = services;
        this.running = running;
    }

    /// <summary>Serialisation failures, deadlocks and lock time-outs so far: what an operation runs again after.</summary>
    public static int Retries => passing.Count;

    static Product() => AppDomain.CurrentDomain.FirstChanceException += (_, e) =>
    {
        if (e.Exception is PostgresException { SqlState: PostgresErrorCodes.SerializationFailure or PostgresErrorCodes.DeadlockDetected or PostgresErrorCodes.LockNotAvailable } found)
        {
            passing[found] = true;
        }
    };

    public static async Task<Product> On(string connectionString)
    {
        var services = new ServiceCollection().AddLogging().AddSingleton(TimeProvider.System)
            .AddKitOrdersStorage(connectionString).AddOperations().BuildServiceProvider();
        var running = services.GetServices<IHostedService>().ToArray();
        foreach (var service in running)
        {
            await service.StartAsync(CancellationToken.None);
        }

        return new Product(services, running);
    }

    public T Get<T>() where T : notnull => services.GetRequiredService<T>();

    public async Task Open(int client, string order) => Must(await Get<OpenOrder>().Run(CallOf(client), order, CancellationToken.None));

    public async Task Pick(string order, IReadOnlyList<PickInput> lines) => Must(await Get<PickLines>().Run(CallOf(0), order, lines, CancellationToken.None));

    public async Task<ReceiptAnswer> Receive(Receipt receipt) => Must(await Get<ReceiveLot>().Run(CallOf(0), receipt, CancellationToken.None));

    /// <summary>What is not as it must be; empty when stock is true.</summary>
    public async Task<IReadOnlyList<string>> Untrue() =>
        [.. (await Get<StockTruth>().Read(CancellationToken.None)).Where(c => !c.Holds).Select(c => $"{c.Check}: {string.Join("; ", c.Broken.Take(3))}")];

    static Call CallOf(int client)
    {
        var person = (client % FillPlant.People) + 1;
        var key = Guid.NewGuid().ToString("N");
        return new Call(new Actor(new PersonId(person), $"Planner {person}", Roles.All, "bench"), new CommandKey(key, key));
    }

    static T Must<T>(Outcome<T> outcome) =>
        outcome.IsDone ? outcome.Value : throw new InvalidOperationException($"{outcome.Refusal!.Code}: {outcome.Refusal.Sentence}");

    public async ValueTask DisposeAsync()
    {
        foreach (var service in running)
        {
            await service.StopAsync(CancellationToken.None);
        }

        await services.DisposeAsync();
    }
}
