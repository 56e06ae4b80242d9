using System.Collections.Concurrent;
using KitOrders.Journeys;
using Microsoft.Playwright;
using Xunit;

[assembly: AssemblyFixture(typeof(DemoHouse))]

namespace KitOrders.Journeys;

/// <summary>The demo plant and a browser, started once, when the first test asks, for all tests that look at pages.</summary>
public sealed class DemoHouse : IAsyncDisposable
{
    readonly Lazy<Task<RunningApp>> app = new(() => RunningApp.Start());
    readonly Lazy<Task<(IPlaywright Driver, IBrowser Browser)>> browser = new(Launch);
    readonly ConcurrentDictionary<string, Lazy<Task<string>>> doors = new();

    public Task<RunningApp> App => app.Value;

    /// <summary>The one browser of all tests; every window in it is a browser of its own to the app.</summary>
    public async Task<IBrowser> Browser() => (await browser.Value).Browser;

    static async Task<(IPlaywright, IBrowser)> Launch()
    {
        var driver = await Playwright.CreateAsync();
        return (driver, await driver.Chromium.LaunchAsync(BenchPlant.Chromium));
    }

    /// <summary>A window of one of the invented people, who came in by the sign-in page; of a stranger when nobody is named.</summary>
    public async Task<Window> Window(string? person, int width = 1440, int height = 1000, bool dark = false)
    {
        var state = person is null ? null : await doors.GetOrAdd(person, p => new(() => SignIn(p))).Value;
        return await Open(state, width, height, dark);
    }

    /// <summary>A window into another app with the same browser, whose person is the one of the token.</summary>
    public async Task<Window> WindowInto(RunningApp other, int width, int height)
    {
        var context = await (await browser.Value).Browser.NewContextAsync(new()
        {
            BaseURL = other.Address.ToString(),
            ViewportSize = new() { Width = width, Height = height },
            ExtraHTTPHeaders = new Dictionary<string, string> { ["Authorization"] = $"Bearer {RunningApp.Token}" },
        });
        await KitOrders.Journeys.Window.Prepare(context);
        return new Window(await context.NewPageAsync(), other.Address.ToString());
    }

    async Task<Window> Open(string? state, int width, int height, bool dark)
    {
        var address = (await App).Address.ToString();
        var context = await (await browser.Value).Browser.NewContextAsync(new()
        {
            BaseURL = address,
            ViewportSize = new() { Width = width, Height = height },
            ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
            StorageState = state,
        });
        await KitOrders.Journeys.Window.Prepare(context);
        return new Window(await context.NewPageAsync(), address);
    }

    async Task<string> SignIn(string person)
    {
        var window = await Open(null, 1440, 1000, dark: false);
        await window.Page.GotoAsync("/sign-in?returnUrl=%2Fprofile");
        await window.Page.GetByRole(AriaRole.Button, new() { Name = person }).ClickAsync();
        await window.Page.WaitForURLAsync("**/profile");
        var state = await window.Page.Context.StorageStateAsync();
        await window.Page.Context.DisposeAsync();
        return state;
    }

    public async ValueTask DisposeAsync()
    {
        if (browser.IsValueCreated)
        {
            var (driver, chromium) = await browser.Value;
            await chromium.DisposeAsync();
            driver.Dispose();
        }

        if (app.IsValueCreated)
            await (await app.Value).DisposeAsync();
    }
}
