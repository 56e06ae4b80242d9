using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using Npgsql;

namespace KitOrders.Crash.Tests;

/// <summary>What was answered, word for word.</summary>
sealed record Answer(HttpStatusCode Status, string Text)
{
    public bool Done => (int)Status is >= 200 and < 300;

    /// <summary>It was understood and not done; anything else that is not done leaves open what happened.</summary>
    public bool Refused => (int)Status is >= 400 and < 500;
}

/// <summary>The program in a process of its own with a private database, to be killed and started again.</summary>
sealed class KilledApp : IAsyncDisposable
{
    /// <summary>As people get it, and with the points at which it ends itself.</summary>
    public const string AsShipped = "KitOrders.Web.dll", WithPoints = "KitOrders.FaultHost.dll";

    const string Token = "crash-token-0123456789-0123456789";
    static readonly TimeSpan patience = TimeSpan.FromSeconds(120);

    readonly string folder = Path.Combine(Path.GetTempPath(), $"kitorders-crash-{Environment.ProcessId}-{Path.GetRandomFileName()[..6]}");
    readonly int port = FreePort();
    readonly StringBuilder said = new();
    Process? process;

    Process Running => process ?? throw new InvalidOperationException("The program was not started.");

    public static async Task<KilledApp> Start(string program)
    {
        var app = new KilledApp();
        Directory.CreateDirectory(app.folder, (UnixFileMode)0b111_101_101);
        await app.Launch(program);
        return app;
    }

    public HttpClient Client()
    {
        var client = new HttpClient { BaseAddress = new Uri($"http://localhost:{port}"), Timeout = TimeSpan.FromSeconds(60) };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", Token);
        return client;
    }

    /// <summary>The one that runs, as shipped or with the points.</summary>
    public string Program { get; private set; } = "";

    public async Task Launch(string program)
    {
        Program = program;
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var argument in (string[])[Path.Combine(AppContext.BaseDirectory, program), "--data", folder, "--port", $"{port}", "--no-demo"])
            start.ArgumentList.Add(argument);
        start.Environment["KitOrders__Api__BootstrapToken"] = Token;
        start.Environment["ASPNETCORE_ENVIRONMENT"] = "Production";
        // What a killed program leaves lying goes with the rest.
        start.Environment["TMPDIR"] = folder;
        start.Environment["Logging__LogLevel__Default"] = "Critical";
        process = Process.Start(start)!;
        process.OutputDataReceived += (_, line) => Keep(line.Data);
        process.ErrorDataReceived += (_, line) => Keep(line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        await Ready();
    }

    /// <summary>kill -9, as a power cut would.</summary>
    public async Task Kill()
    {
        Running.Kill();
        await HasEnded();
    }

    /// <summary>Waits for the program to end by itself.</summary>
    public async Task HasEnded()
    {
        using var waiting = new CancellationTokenSource(patience);
        await Running.WaitForExitAsync(waiting.Token);
        Running.Dispose();
    }

    /// <summary>kill -9 of the database server's first process. The program starts it again by itself.</summary>
    public async Task KillServer()
    {
        var (id, _) = Postmaster();
        using var server = Process.GetProcessById(id);
        server.Kill();
        await server.WaitForExitAsync();
        await Until(() => Task.FromResult(Postmaster() is var (now, _) && now != id));
        await Ready();
    }

    /// <summary>kill -9 of one of the database server's sessions with the program, upon which the server ends all of them and recovers.</summary>
    public async Task KillSession(Random random)
    {
        int id;
        await using (var connection = await Database())
        {
            var sessions = await Ask(connection, "select pid::text from pg_stat_activity where application_name = 'KitOrders' and usename = 'kitorders_app' order by pid");
            id = int.Parse(sessions[random.Next(sessions.Count)], CultureInfo.InvariantCulture);
        }
        using (var session = Process.GetProcessById(id))
            session.Kill();
        // The server's memory names it until the server has noticed and made its memory anew.
        await Until(async () =>
        {
            await using var connection = await Database();
            return (await Ask(connection, $"select count(*)::text from pg_stat_activity where pid = {id}"))[0] == "0";
        });
        await Ready();
    }

    /// <summary>What a killed program left running in the server has ended: from now on nothing of it can still happen.</summary>
    public async Task LeftoversHaveEnded(DateTimeOffset killedAt)
    {
        await using var connection = await Database();
        await Until(async () => (await Ask(connection, $"select count(*)::text from pg_stat_activity where usename = 'kitorders_app' and backend_start < '{killedAt:O}'"))[0] == "0");
    }

    /// <summary>As the owner of the database, past the program.</summary>
    public async Task<NpgsqlConnection> Database()
    {
        var connection = new NpgsqlConnection(new NpgsqlConnectionStringBuilder
        {
            Host = Postmaster().Folder, Port = 5432, Username = "kitorders_owner", Database = "kitorders", Pooling = false,
            GssEncryptionMode = GssEncryptionMode.Disable, ApplicationName = "crash test",
        }.ConnectionString);
        await connection.OpenAsync();
        return connection;
    }

    public static async Task<List<string>> Ask(NpgsqlConnection connection, string statement)
    {
#pragma warning disable CA2100 // Statements of our own; what stands in them was made here.
        await using var command = new NpgsqlCommand(statement, connection);
#pragma warning restore CA2100
        await using var reader = await command.ExecuteReaderAsync();
        var rows = new List<string>();
        while (await reader.ReadAsync())
            rows.Add(reader.GetString(0));
        return rows;
    }

    public async ValueTask DisposeAsync()
    {
        if (process is not null && !process.HasExited)
        {
            using var kill = Process.Start("kill", ["-TERM", $"{process.Id}"]);
            await kill.WaitForExitAsync();
            using var waiting = new CancellationTokenSource(TimeSpan.FromSeconds(30));
            await process.WaitForExitAsync(waiting.Token);
            process.Dispose();
        }
        Directory.Delete(folder, recursive: true);
    }

    async Task Ready()
    {
        using var client = Client();
        await Until(async () =>
        {
            if (Running.HasExited)
                throw new InvalidOperationException($"The program ended with code {Running.ExitCode} before it was ready:\n{said}");
            using var answer = await client.GetAsync(new Uri("/health/ready", UriKind.Relative));
            return answer.StatusCode == HttpStatusCode.OK;
        });
    }

    /// <summary>Asks again and again; what is not there yet answers with an exception or no.</summary>
    async Task Until(Func<Task<bool>> come)
    {
        for (var waited = Stopwatch.StartNew(); waited.Elapsed < patience; await Task.Delay(25))
        {
            try
            {
                if (await come())
                    return;
            }
            catch (Exception e) when (e is HttpRequestException or NpgsqlException or TaskCanceledException or IOException)
            {
                // Not there yet.
            }
        }
        throw new TimeoutException($"It did not come within {patience.TotalSeconds:0} s. The program said:\n{said}");
    }

    (int Id, string Folder) Postmaster()
    {
        var note = Path.Combine(folder, "postgres.location");
        var home = File.Exists(note) ? File.ReadAllText(note).Trim() : Path.Combine(folder, "postgres");
        var lines = File.ReadAllLines(Path.Combine(home, "data", "postmaster.pid"));
        return lines.Length >= 5 ? (int.Parse(lines[0], CultureInfo.InvariantCulture), lines[4].Trim()) : throw new IOException("The server is only starting.");
    }

    void Keep(string? line)
    {
        lock (said)
            said.AppendLine(line);
    }

    static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
