using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace KitOrders.Journeys;

/// <summary>The real program in a process of its own, with a private database in a folder of its own.</summary>
public sealed class RunningApp : IAsyncDisposable
{
    public const string Token = "journeys-token-0123456789-0123456789";

    static readonly TimeSpan readyWithin = TimeSpan.FromSeconds(300);

    readonly string folder;
    readonly string[] options;
    Process process;

    RunningApp(string folder, string[] options, Process process, Uri address)
    {
        this.folder = folder;
        this.options = options;
        this.process = process;
        Address = address;
    }

    public Uri Address { get; }

    public static async Task<RunningApp> Start(params string[] options)
    {
        var folder = Path.Combine(Path.GetTempPath(), $"kitorders-journey-{Environment.ProcessId}-{Path.GetRandomFileName()[..6]}");
        Directory.CreateDirectory(folder, (UnixFileMode)0b111_101_101);
        var port = FreePort();
        var app = new RunningApp(folder, options, Launch(folder, port, options), new Uri($"http://localhost:{port}"));
        await app.Ready();
        return app;
    }

    /// <summary>A client of the HTTP API that acts as the person of the configured token.</summary>
    public ApiClient Api() => new(Address, Token);

    /// <summary>Ends the process at once, as a power cut would, and starts it again on the same data.</summary>
    public async Task KillAndStartAgain()
    {
        process.Kill();
        await process.WaitForExitAsync();
        process = Launch(folder, Address.Port, options);
        await Ready();
    }

    static Process Launch(string folder, int port, string[] options)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "KitOrders.Web.dll"));
        foreach (var argument in (string[])["--data", folder, "--port", $"{port}", .. options])
            start.ArgumentList.Add(argument);
        start.Environment["KitOrders__Api__BootstrapToken"] = Token;
        start.Environment["ASPNETCORE_ENVIRONMENT"] = "Production";
        start.Environment["Logging__LogLevel__Default"] = "Warning";
        var process = Process.Start(start)!;
        process.OutputDataReceived += (_, line) => TestContextLine(line.Data);
        process.ErrorDataReceived += (_, line) => TestContextLine(line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        return process;
    }

    static void TestContextLine(string? line)
    {
        if (!string.IsNullOrEmpty(line))
            Console.WriteLine($"  app: {line}");
    }

    async Task Ready()
    {
        using var client = new HttpClient { BaseAddress = Address, Timeout = TimeSpan.FromSeconds(5) };
        var waited = Stopwatch.StartNew();
        while (waited.Elapsed < readyWithin)
        {
            if (process.HasExited)
                throw new InvalidOperationException($"The app ended with code {process.ExitCode} before it was ready.");
            try
            {
                using var answer = await client.GetAsync(new Uri("/health/ready", UriKind.Relative));
                if (answer.StatusCode == HttpStatusCode.OK)
                    return;
            }
            catch (Exception e) when (e is HttpRequestException or TaskCanceledException)
            {
                // Not listening yet.
            }
            await Task.Delay(100);
        }
        throw new TimeoutException($"The app was not ready after {readyWithin.TotalSeconds:0} s.");
    }

    static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
        {
            // The stop of an ordinary day: the private database stops with it.
            using var kill = Process.Start("kill", ["-TERM", $"{process.Id}"]);
            await kill.WaitForExitAsync();
            using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(20));
            try
            {
                await process.WaitForExitAsync(patience.Token);
            }
            catch (OperationCanceledException)
            {
                process.Kill(entireProcessTree: true);
            }
        }
        process.Dispose();
        Directory.Delete(folder, recursive: true);
    }
}
