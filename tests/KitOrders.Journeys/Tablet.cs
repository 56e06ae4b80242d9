using Microsoft.Playwright;

namespace KitOrders.Journeys;

/// <summary>A browser as a technician's tablet, and the few gestures of the bench.</summary>
public sealed class Tablet : IAsyncDisposable
{
    /// <summary>How long the bench takes a second tap for the same finger's, and a little more.</summary>
    const int Settles = 650;

    readonly List<string> complaints = [];
    long lastDone;

    public Tablet(IBrowserContext context, IPage page)
    {
        Context = context;
        Page = page;
        page.SetDefaultTimeout(Patience.Milliseconds);
        page.PageError += (_, error) => complaints.Add(error);
        page.Console += (_, message) =>
        {
            // A request that got no answer is what these tests bring about; the page must bear it and say nothing else.
            if (message.Type is "error" && !message.Text.StartsWith("Failed to load resource", StringComparison.Ordinal))
                complaints.Add(message.Text);
        };
    }

    public IBrowserContext Context { get; }

    public IPage Page { get; }

    public IReadOnlyList<string> Complaints => complaints;

    public async Task Open(string order)
    {
        await Page.GotoAsync($"/bench/{order}");
        await Page.Locator(".bench .bs").WaitForAsync();
    }

    /// <summary>The one large action, once the screen has settled after the last one.</summary>
    public async Task Done(string label)
    {
        var action = Page.GetByRole(AriaRole.Button, new() { Name = label, Exact = true });
        await action.WaitForAsync();
        if (Settles - (Environment.TickCount64 - lastDone) is > 0 and var left)
            await Task.Delay((int)left);
        await action.ClickAsync();
        lastDone = Environment.TickCount64;
    }

    public Task Press(string label) => Page.GetByRole(AriaRole.Button, new() { Name = label }).First.ClickAsync();

    public async Task Type(string figures)
    {
        foreach (var figure in figures)
            await Page.Locator($"[data-k='key {figure}']").ClickAsync();
    }

    public Task Sees(string text) => Assertions.Expect(Page.Locator("#bench")).ToContainTextAsync(text);

    /// <summary>Waits until the service worker holds the page and what it is made of.</summary>
    public async Task KeptForOffline()
    {
        if (!await Patience.For(() => Page.EvaluateAsync<bool>(Kept)))
            throw new TimeoutException("The page was not kept for work without network.");
    }

    const string Kept =
        """
        async () => {
          if (!navigator.serviceWorker.controller) return false;
          const cache = await caches.open("kitorders-bench-1");
          const kept = new Set((await cache.keys()).map(r => new URL(r.url).pathname));
          const parts = performance.getEntriesByType("resource").map(e => new URL(e.name).pathname).filter(p => /\.(js|css|woff2)$/.test(p) && p !== "/sw.js");
          return parts.length > 20 && kept.has(location.pathname) && parts.every(p => kept.has(p));
        }
        """;

    public async ValueTask DisposeAsync() => await Context.DisposeAsync();
}
