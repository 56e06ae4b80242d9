using System.Net.Sockets;
using Npgsql;

namespace KitOrders.Benchmarks;

/// <summary>
/// Stands between the product and the server and counts how often the product sent something and had to wait: what it sends
/// after the server has said that it is ready for the next thing begins a new round trip. Nothing is timed through it.
/// </summary>
sealed class RoundTrips : IAsyncDisposable
{
    const int Port = 5432;

    readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("kitorders-trips-");
    readonly Socket listener = new(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
    readonly CancellationTokenSource stopping = new();
    readonly string server;
    readonly Task accepting;
    long trips;

    public RoundTrips(string connectionString)
    {
        var to = new NpgsqlConnectionStringBuilder(connectionString);
        server = Path.Combine(to.Host!, $".s.PGSQL.{to.Port}");
        ConnectionString = new NpgsqlConnectionStringBuilder(connectionString) { Host = folder.FullName, Port = Port }.ConnectionString;
        listener.Bind(new UnixDomainSocketEndPoint(Path.Combine(folder.FullName, $".s.PGSQL.{Port}")));
        listener.Listen();
        accepting = Task.Run(Accept);
    }

    public string ConnectionString { get; }

    public long Count => Interlocked.Read(ref trips);

    async Task Accept()
    {
        try
        {
            while (true)
            {
                var client = await listener.AcceptAsync(stopping.Token);
                var behind = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
                await behind.ConnectAsync(new UnixDomainSocketEndPoint(server), stopping.Token);
                _ = Carry(client, behind);
            }
        }
        catch (Exception e) when (e is OperationCanceledException or ObjectDisposedException)
        {
            // Counted enough.
        }
    }

    async Task Carry(Socket client, Socket behind)
    {
        var ready = 1;
        var there = Copy(client, behind, _ =>
        {
            if (Interlocked.Exchange(ref ready, 0) == 1)
            {
                Interlocked.Increment(ref trips);
            }
        });
        var back = Copy(behind, client, sent =>
        {
            if (IsReady(sent.Span))
            {
                Interlocked.Exchange(ref ready, 1);
            }
        });
        await Task.WhenAny(there, back);
        client.Dispose();
        behind.Dispose();
    }

    async Task Copy(Socket from, Socket to, Action<ReadOnlyMemory<byte>> seen)
    {
        var buffer = new byte[256 * 1024];
        try
        {
            while (await from.ReceiveAsync(buffer, stopping.Token) is > 0 and var read)
            {
                seen(buffer.AsMemory(0, read));
                await to.SendAsync(buffer.AsMemory(0, read), stopping.Token);
            }
        }
        catch (Exception e) when (e is OperationCanceledException or ObjectDisposedException or SocketException)
        {
            // One side has gone.
        }
    }

    /// <summary>ReadyForQuery: 'Z', length 5, and whether a transaction is open.</summary>
    static bool IsReady(ReadOnlySpan<byte> sent) =>
        sent.Length >= 6 && sent[^6..^1].SequenceEqual("Z\0\0\0\u0005"u8) && (char)sent[^1] is 'I' or 'T' or 'E';

    public async ValueTask DisposeAsync()
    {
        await stopping.CancelAsync();
        listener.Dispose();
        await accepting;
        stopping.Dispose();
        folder.Delete(recursive: true);
    }
}

/// <summary>The product, its talk with the server counted.</summary>
sealed class CountedProduct(RoundTrips trips, Product product) : IAsyncDisposable
{
    public Product Product => product;

    public static async Task<CountedProduct> On(string connectionString)
    {
        var trips = new RoundTrips(connectionString);
        return new CountedProduct(trips, await Product.On(trips.ConnectionString));
    }

    /// <summary>Round trips of one call, on average over the counted ones; the first ones only fill caches.</summary>
    public async Task<double> Average(int warm, int counted, Func<int, Task> call)
    {
        var before = 0L;
        for (var n = 0; n < warm + counted; n++)
        {
            if (n == warm)
            {
                before = trips.Count;
            }

            await call(n);
        }

        return (trips.Count - before) / (double)counted;
    }

    public async ValueTask DisposeAsync()
    {
        await product.DisposeAsync();
        await trips.DisposeAsync();
    }
}
