using System.Buffers.Binary;
using System.Collections.Concurrent;
using System.Net.Sockets;
using Npgsql;

namespace KitOrders.TestWire;

/// <summary>
/// Stands between the product and PostgreSQL and reads what they say to each other, so that a test can let a command fail,
/// break a connection, hold it, change its words or end the program at a named point, without a hook in the product. It sees
/// every command, however it was sent.
/// </summary>
sealed class Wire : IDisposable
{
    const int Port = 5432;

    readonly string folder = Directory.CreateTempSubdirectory("kitorders-wire-").FullName;
    readonly UnixDomainSocketEndPoint server;
    readonly Socket listener = new(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
    readonly ConcurrentDictionary<int, Line> lines = [];
    readonly NpgsqlConnectionStringBuilder through;
    int made;

    /// <param name="connectionString">Of the database, reached through a socket in a folder.</param>
    public Wire(string connectionString)
    {
        var direct = new NpgsqlConnectionStringBuilder(connectionString);
        server = new UnixDomainSocketEndPoint(Path.Combine(direct.Host!, $".s.PGSQL.{direct.Port}"));
        through = new NpgsqlConnectionStringBuilder(connectionString) { Host = folder, Port = Port, SslMode = SslMode.Disable };
        listener.Bind(new UnixDomainSocketEndPoint(Path.Combine(folder, $".s.PGSQL.{Port}")));
        listener.Listen(64);
        _ = Accept();
    }

    /// <summary>Leads to the same database by way of this wire.</summary>
    public string ConnectionString => through.ConnectionString;

    /// <summary>Asked before the server hears of an exchange.</summary>
    public Func<Exchange, Task<Then>> Before { get; set; } = _ => Task.FromResult(Then.Go);

    /// <summary>Asked when the server has answered and the client has not heard yet.</summary>
    public Func<Exchange, Task<Then>> After { get; set; } = _ => Task.FromResult(Then.Go);

    /// <summary>Breaks every connection, as the end of the program does.</summary>
    public void CutAll()
    {
        foreach (var line in lines.Values)
            line.Cut();
    }

    public void Dispose()
    {
        listener.Dispose();
        CutAll();
        Directory.Delete(folder, recursive: true);
    }

    async Task Accept()
    {
        try
        {
            while (true)
                _ = Serve(await listener.AcceptAsync());
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // The wire was taken down.
        }
    }

    async Task Serve(Socket client)
    {
        var number = Interlocked.Increment(ref made);
        using var upstream = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
        using (client)
        {
            try
            {
                await upstream.ConnectAsync(server);
                using var line = lines[number] = new Line(this, number, client, upstream);
                await Task.WhenAny(line.Forth(), line.Back());
            }
            catch (Exception e) when (e is SocketException or IOException or ObjectDisposedException)
            {
                // The client sees its connection end.
            }
            finally
            {
                lines.TryRemove(number, out _);
            }
        }
    }

    /// <summary>One connection, forth and back.</summary>
    sealed class Line(Wire wire, int number, Socket clientSocket, Socket serverSocket) : IDisposable
    {
        readonly BufferedStream client = new(new NetworkStream(clientSocket), 16 * 1024);
        readonly BufferedStream server = new(new NetworkStream(serverSocket), 16 * 1024);
        readonly NetworkStream toClient = new(clientSocket);
        readonly NetworkStream toServer = new(serverSocket);
        readonly ConcurrentQueue<Exchange> waiting = [];
        readonly Dictionary<string, Message> prepared = [];
        readonly SemaphoreSlim clientGate = new(1);
        Exchange? late;
        byte state = (byte)'I';

        public void Cut()
        {
            clientSocket.Dispose();
            serverSocket.Dispose();
        }

        public async Task Forth()
        {
            // The greeting has no type, and its answer ends as any other does.
            waiting.Enqueue(new Exchange(number, [], prepared));
            await Send(toServer, await Greeting());
            var asked = new List<Message>();
            while (await Read(client) is { } message)
            {
                asked.Add(message);
                if (message.Type == Message.Terminate)
                {
                    await Send(toServer, Bytes(asked));
                    return;
                }
                if (message.Type is not (Message.Sync or Message.Query))
                    continue;
                var exchanges = new Exchange(number, asked, prepared).BeforeItsCommit();
                asked = [];
                foreach (var exchange in exchanges)
                {
                    if (!await Pass(exchange))
                        return;
                    // As the server itself does: after a failure it does not hear of the rest.
                    if (exchange.GoesOn && !await exchange.Passed)
                        break;
                }
            }
        }

        /// <summary>Lets the server hear of it, or what else was decided; false when the line is cut.</summary>
        async Task<bool> Pass(Exchange exchange)
        {
            if (late is { } before)
            {
                late = null;
                await Ask(before);
            }
            switch (await wire.Before(exchange))
            {
                case Then.Cut:
                    Cut();
                    return false;
                case Then.Fail:
                    await Answer([Message.OfError("58000", "It failed before it was done."), new Message(Message.Ready, [state])]);
                    exchange.Pass(false);
                    break;
                case Then.Later:
                    late = new Exchange(number, [.. exchange.Asked], prepared) { Hidden = true };
                    await Answer([.. exchange.AsDone("COMMIT"), new Message(Message.Ready, [(byte)'I'])]);
                    break;
                default:
                    if (exchange.Ahead is { } ahead)
                        await Ask(new Exchange(number, [Message.OfQuery(ahead)], prepared) { Hidden = true });
                    await Ask(exchange);
                    if (exchange.Behind is { } behind)
                        await Ask(new Exchange(number, [Message.OfQuery(behind)], prepared) { Hidden = true });
                    break;
            }
            return true;
        }

        public async Task Back()
        {
            var answered = new List<Message>();
            while (await Read(server) is { } message)
            {
                if (!waiting.TryPeek(out var exchange))
                {
                    // Said unasked: a notification, or that the server stops.
                    await Answer([message]);
                    continue;
                }
                answered.Add(message);
                if (message.Type != Message.Ready)
                    continue;
                state = message.Body[0];
                exchange.Answered.AddRange(answered);
                answered.Clear();
                waiting.TryDequeue(out _);
                if (exchange.Hidden)
                    continue;
                switch (exchange.Asked.Count == 0 ? Then.Go : await wire.After(exchange))
                {
                    case Then.Cut:
                        Cut();
                        return;
                    case Then.Fail:
                        await Answer([Message.OfError("58000", "It was done and is said to have failed."), message]);
                        exchange.Pass(false);
                        break;
                    default:
                        var well = exchange.Answered.TrueForAll(m => m.Type != Message.Error);
                        await Answer(exchange.GoesOn && well ? [.. exchange.Heard().SkipLast(1)] : exchange.Heard());
                        exchange.Pass(well);
                        break;
                }
            }
        }

        public void Dispose()
        {
            client.Dispose();
            server.Dispose();
            toClient.Dispose();
            toServer.Dispose();
            clientGate.Dispose();
        }

        async Task Ask(Exchange exchange)
        {
            foreach (var left in exchange.Asked.Where(m => m.Type == Message.Parse && m.Name.Length > 0))
                prepared[left.Name] = left;
            waiting.Enqueue(exchange);
            await Send(toServer, Bytes(exchange.Asked));
        }

        async Task Answer(IReadOnlyList<Message> messages)
        {
            await clientGate.WaitAsync();
            try
            {
                await Send(toClient, Bytes(messages));
            }
            finally
            {
                clientGate.Release();
            }
        }

        async Task<byte[]> Greeting()
        {
            var length = new byte[4];
            await client.ReadExactlyAsync(length);
            var rest = new byte[BinaryPrimitives.ReadInt32BigEndian(length) - 4];
            await client.ReadExactlyAsync(rest);
            return [.. length, .. rest];
        }

        static async Task<Message?> Read(Stream from)
        {
            var head = new byte[5];
            if (await from.ReadAtLeastAsync(head, head.Length, throwOnEndOfStream: false) < head.Length)
                return null;
            var body = new byte[BinaryPrimitives.ReadInt32BigEndian(head.AsSpan(1)) - 4];
            await from.ReadExactlyAsync(body);
            return new Message(head[0], body);
        }

        static async Task Send(NetworkStream to, byte[] bytes) => await to.WriteAsync(bytes);

        static byte[] Bytes(IReadOnlyList<Message> messages)
        {
            var bytes = new byte[messages.Sum(m => 5 + m.Body.Length)];
            var at = 0;
            foreach (var message in messages)
            {
                bytes[at] = message.Type;
                BinaryPrimitives.WriteInt32BigEndian(bytes.AsSpan(at + 1), message.Body.Length + 4);
                message.Body.CopyTo(bytes, at + 5);
                at += 5 + message.Body.Length;
            }
            return bytes;
        }
    }
}
