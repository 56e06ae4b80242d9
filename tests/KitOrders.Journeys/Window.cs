using System.Text;
using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>One window of one person, which remembers all that its pages complained about and whom they asked.</summary>
public sealed class Window
{
    static readonly byte[] drawn = Encoding.ASCII.GetBytes("JS.RenderBatch");
    static readonly TimeSpan quietFor = TimeSpan.FromMilliseconds(200);

    readonly List<string> complaints = [];
    readonly string home;
    readonly Lock gate = new();
    bool live;
    long lastFrame;

    /// <summary>Marks what came with the first answer, so that it is not taken for the live page.</summary>
    public static Task Prepare(IBrowserContext context) => context.AddInitScriptAsync(
        "document.addEventListener('DOMContentLoaded', () => document.querySelectorAll('h1').forEach(h => h.dataset.first = ''), true)");

    public Window(IPage page, string home)
    {
        Page = page;
        this.home = home;
        page.SetDefaultTimeout(Patience.Milliseconds);
        page.PageError += (_, error) => Complain($"error: {error}");
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
                Complain($"console: {message.Text}");
        };
        page.Request += (_, request) =>
        {
            if (!request.Url.StartsWith(home, StringComparison.Ordinal) && !request.Url.StartsWith("data:", StringComparison.Ordinal) && !request.Url.StartsWith("blob:", StringComparison.Ordinal))
                Complain($"asked elsewhere: {request.Url}");
        };
        page.WebSocket += (_, socket) => socket.FrameReceived += (_, frame) =>
        {
            lock (gate)
            {
                live |= frame.Binary is { } bytes && bytes.AsSpan().IndexOf(drawn) >= 0;
                lastFrame = Environment.TickCount64;
            }
        };
    }

    public IPage Page { get; }

    /// <summary>What was complained about since the last time this was asked.</summary>
    public IReadOnlyList<string> Complaints()
    {
        lock (gate)
        {
            string[] said = [.. complaints];
            complaints.Clear();
            return said;
        }
    }

    void Complain(string said)
    {
        lock (gate)
            complaints.Add(said);
    }

    public async Task<IResponse?> Go(string path)
    {
        lock (gate)
            live = false;
        var answer = await Page.GotoAsync(path);
        await Settled();
        return answer;
    }

    /// <summary>Waits until the page answers to presses: its line to the server stands, and what the server had to say is drawn.</summary>
    public async Task Settled()
    {
        if (await Page.Locator("script[src*='MudBlazor.min']").CountAsync() > 0)
        {
            // The page of the first answer gives way to the live one, which shows its heading once it has read what it shows.
            await Until(() => live);
            await Page.Locator("main h1:not([data-first])").First.WaitForAsync(new() { State = WaitForSelectorState.Attached });
            await Until(() => Environment.TickCount64 - lastFrame > quietFor.TotalMilliseconds);
        }
        else
            await Page.WaitForFunctionAsync("() => !document.querySelector('[aria-busy=true]') && document.querySelector('h1')");
        await Page.EvaluateAsync("() => document.fonts.ready.then(() => new Promise(requestAnimationFrame))");
    }

    async Task Until(Func<bool> holds)
    {
        for (var waited = Environment.TickCount64; Environment.TickCount64 - waited < Patience.Milliseconds; await Task.Delay(20))
        {
            lock (gate)
            {
                if (holds())
                    return;
            }
        }

        throw new TimeoutException($"{Page.Url} was not drawn by the server.");
    }

    public Task Press(string button, bool exact = true) => Page.GetByRole(AriaRole.Button, new() { Name = button, Exact = exact }).ClickAsync();

    public Task Follow(string link) => Page.GetByRole(AriaRole.Link, new() { Name = link, Exact = true }).First.ClickAsync();

    public Task Fill(string label, string text) => Page.GetByLabel(label).First.FillAsync(text);

    public Task Sees(string text) => Assertions.Expect(Page.Locator("main")).ToContainTextAsync(text);

    /// <summary>What a program can find to be in the way of people: rules of WCAG 2.2 A and AA, and a page wider than the window.</summary>
    /// <param name="colours">Only what another scheme of colours can change.</param>
    public async Task<IReadOnlyList<string>> Barriers(bool colours = false)
    {
        List<string> found = [];
        // A bar that sticks to the window's edge lies over whatever is scrolled under it just then; the size of a target is its own.
        await Page.AddStyleTagAsync(new() { Content = "@media screen { .top, .nb { position: static !important } }" });
        var axe = await Axe.Look(Page, colours);
        if (axe.Passes < (colours ? 1 : 6))
            found.Add("the checks found nothing to check");
        found.AddRange(axe.Violations);
        if (await TooWide() is { } wide)
            found.Add(wide);
        return found;
    }

    /// <summary>Fails with what is in the way of people in this state of the page.</summary>
    public async Task Free(string state)
    {
        var found = await Barriers();
        await Pictures.Keep(Page, $"state {state}");
        Assert.True(found.Count == 0, $"{state}:\n{string.Join("\n", found)}");
    }

    /// <summary>Closes the window, which may have complained about nothing.</summary>
    public async Task Ended()
    {
        var said = Complaints();
        await Page.Context.DisposeAsync();
        Assert.True(said.Count == 0, string.Join("\n", said));
    }

    /// <summary>What makes the page wider than its window; null when it fits.</summary>
    public async Task<string?> TooWide()
    {
        return await Page.EvaluateAsync<string?>(
            """
            () => {
              const over = document.documentElement.scrollWidth - document.documentElement.clientWidth;
              if (over <= 0) return null;
              const worst = [...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 1 && !e.closest(".tb"));
              return `${over} px wider than the window: ` + worst.slice(0, 3).map(e => `${e.tagName.toLowerCase()}.${e.className}`).join(" ");
            }
            """);
    }
}
