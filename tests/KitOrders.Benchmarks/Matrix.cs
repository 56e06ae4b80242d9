using System.Diagnostics;
using System.Globalization;
using System.Net.Sockets;
using KitOrders.Operations.Kits;
using Microsoft.Playwright;

namespace KitOrders.Benchmarks;

/// <summary>One turn: the judging alone, and the page from the address being asked for until its first screen stood.</summary>
/// <param name="First">When rows were first painted: the page that comes at once, which nobody can press yet.</param>
/// <param name="Painted">When the rows were painted that stay and answer to presses.</param>
sealed record MatrixTurn(double Judged, double First, double Painted);

/// <summary>5,000 pumps against 20 kits: judged by the operation in this process, painted by a browser from the running program.</summary>
sealed class Matrix(Machine machine)
{
    public const int Turns = 7;
    const string Token = "speed-token-0123456789-0123456789";

    public async Task<IReadOnlyList<MatrixTurn>> Measure()
    {
        var database = await machine.Made("matrix", MatrixPlant.Statements());
        var judged = await Judged(database);
        var painted = await Painted(database);
        return [.. judged.Zip(painted, (j, p) => new MatrixTurn(j, p.First, p.Lasting))];
    }

    async Task<IReadOnlyList<double>> Judged(string database)
    {
        await using var product = await Product.On(machine.App(database));
        var turns = new List<double>();
        // A program that has just started is compiling itself; its first answer is not counted.
        _ = await product.Get<SuitabilityMatrix>().Find(new MatrixFilter(), CancellationToken.None);
        for (var n = 0; n < Turns; n++)
        {
            var began = Stopwatch.GetTimestamp();
            var found = (await product.Get<SuitabilityMatrix>().Find(new MatrixFilter(), CancellationToken.None)).Value;
            turns.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
            if ((found.Pumps.Count, found.Kits.Count) != (MatrixPlant.Pumps, MatrixPlant.Kits))
            {
                throw new InvalidOperationException($"{found.Pumps.Count} pumps and {found.Kits.Count} kits were judged.");
            }
        }

        return turns;
    }

    async Task<IReadOnlyList<(double First, double Lasting)>> Painted(string database)
    {
        var folder = Directory.CreateTempSubdirectory("kitorders-shown-");
        using var app = Shown(database, folder.FullName, FreePort(), out var address);
        try
        {
            await Ready(app, address);
            using var driver = await Playwright.CreateAsync();
            await using var browser = await driver.Chromium.LaunchAsync(new()
            {
                ExecutablePath = Environment.GetEnvironmentVariable("KITORDERS_BROWSER") is { Length: > 0 } named ? named : "/usr/bin/chromium",
                Args = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run", "--disable-background-networking"],
            });
            var turns = new List<(double, double)>();
            _ = await Load(browser, address);
            _ = await Load(browser, address);
            for (var n = 0; n < Turns; n++)
            {
                turns.Add(await Load(browser, address));
            }

            return turns;
        }
        finally
        {
            app.Kill();
            await app.WaitForExitAsync();
            folder.Delete(recursive: true);
        }
    }

    /// <summary>
    /// A browser that knows nothing of the program yet asks for the page. Times are the browser's own, from its asking; rows
    /// count as painted in the frame after the one that drew them.
    /// </summary>
    static async Task<(double First, double Lasting)> Load(IBrowser browser, Uri address)
    {
        await using var context = await browser.NewContextAsync(new()
        {
            BaseURL = address.ToString(), ViewportSize = new() { Width = 1440, Height = 1000 },
            ExtraHTTPHeaders = new Dictionary<string, string> { ["Authorization"] = $"Bearer {Token}" },
        });
        await context.AddInitScriptAsync("""
            window.rowsPainted = []; let shown = null;
            new MutationObserver(() => {
              const row = document.querySelector('.mxt tbody button');
              if (row === shown) return;
              shown = row;
              if (row) requestAnimationFrame(() => requestAnimationFrame(() => window.rowsPainted.push(performance.now())));
            }).observe(document, { childList: true, subtree: true });
            """);
        var page = await context.NewPageAsync();
        page.SetDefaultTimeout(60_000);
        await page.GotoAsync("/kits/matrix", new() { WaitUntil = WaitUntilState.Commit });
        // The rows that stay open a pair when they are pressed.
        await page.WaitForFunctionAsync("""
            () => { const cell = document.querySelector('.mxt tbody button'); if (!cell) return false; if (!document.querySelector('#pair')) cell.click(); return !!document.querySelector('#pair'); }
            """, null, new() { PollingInterval = 50 });
        var painted = await page.EvaluateAsync<double[]>("() => window.rowsPainted");
        return (painted[0], painted[^1]);
    }

    Process Shown(string database, string folder, int port, out Uri address)
    {
        address = new Uri($"http://localhost:{port}");
        var start = new ProcessStartInfo("dotnet");
        foreach (var argument in (string[])[Path.Combine(AppContext.BaseDirectory, "KitOrders.Web.dll"), "--no-demo", "--data", folder, "--port", port.ToString(CultureInfo.InvariantCulture)])
        {
            start.ArgumentList.Add(argument);
        }

        start.Environment["ConnectionStrings__KitOrders"] = machine.App(database);
        start.Environment["KitOrders__Api__BootstrapToken"] = Token;
        start.Environment["ASPNETCORE_ENVIRONMENT"] = "Production";
        start.Environment["Logging__LogLevel__Default"] = "Warning";
        return Process.Start(start)!;
    }

    static async Task Ready(Process app, Uri address)
    {
        using var client = new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromSeconds(5) };
        for (var tries = 0; tries < 600 && !app.HasExited; tries++)
        {
            try
            {
                using var answer = await client.GetAsync(new Uri("/health/ready", UriKind.Relative));
                if (answer.IsSuccessStatusCode)
                {
                    return;
                }
            }
            catch (Exception e) when (e is HttpRequestException or TaskCanceledException)
            {
                // Not listening yet.
            }

            await Task.Delay(100);
        }

        throw new TimeoutException("The program was not ready to show the matrix.");
    }

    static int FreePort()
    {
        using var listener = new TcpListener(System.Net.IPAddress.Loopback, 0);
        listener.Start();
        return ((System.Net.IPEndPoint)listener.LocalEndpoint).Port;
    }
}
