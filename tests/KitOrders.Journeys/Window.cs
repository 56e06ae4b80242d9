using System.Text;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace KitOrders.Journeys;

/// <summary>One window of one person, which remembers all that its pages complained about and whom they asked.</summary>
public sealed class Window
{
    static readonly byte[] drawn = Encoding.ASCII.GetBytes("JS.RenderBatch");
    static readonly TimeSpan quietFor = TimeSpan.FromMilliseconds(150);

    readonly List<string> complaints = [];
    readonly string home;
    readonly Lock gate = new();
    bool live;
    long lastFrame;

    public Window(IPage page, string home)
    {
        Page = page;
        this.home = home;
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
            await Page.Locator("main h1").First.WaitForAsync(new() { State = WaitForSelectorState.Attached });
            await Until(() => Environment.TickCount64 - lastFrame > quietFor.TotalMilliseconds);
        }
        else
            await Page.WaitForFunctionAsync("() => !document.querySelector('[aria-busy=true]') && document.querySelector('h1')");
        await Page.EvaluateAsync("() => document.fonts.ready.then(() => new Promise(requestAnimationFrame))");
    }

    async Task Until(Func<bool> holds)
    {
        for (var waited = Environment.TickCount64; Environment.TickCount64 - waited < 30_000; await Task.Delay(20))
        {
            lock (gate)
            {
                if (holds())
                    return;
            }
        }

        throw new TimeoutException($"{Page.Url} was not drawn by the server within 30 s.");
    }

    public Task Press(string button, bool exact = true) => Page.GetByRole(AriaRole.Button, new() { Name = button, Exact = exact }).ClickAsync();

    public Task Follow(string link) => Page.GetByRole(AriaRole.Link, new() { Name = link, Exact = true }).First.ClickAsync();

    public Task Fill(string label, string text) => Page.GetByLabel(label).First.FillAsync(text);

    public Task Sees(string text) => Assertions.Expect(Page.Locator("main")).ToContainTextAsync(text, new() { Timeout = 15_000 });

    /// <summary>What a program can find to be in the way of people: rules of WCAG 2.2 A and AA, and a page wider than the window.</summary>
    /// <param name="colours">Only what another scheme of colours can change.</param>
    public async Task<IReadOnlyList<string>> Barriers(bool colours = false)
    {
        List<string> found = [];
        // A bar that sticks to the window's edge lies over whatever is scrolled under it just then; the size of a target is its own.
        await Page.AddStyleTagAsync(new() { Content = "@media screen { .top, .nb { position: static !important } }" });
        var axe = await Page.RunAxe(new AxeRunOptions { RunOnly = colours ? RunOnlyOptions.Rules("color-contrast") : RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        if (axe.Passes.Length < (colours ? 1 : 6))
            found.Add("the checks found nothing to check");
        found.AddRange(axe.Violations.SelectMany(v => v.Nodes.Take(4).Select(n => $"{v.Id}: {Short(n.Html)} {Short(string.Join(" ", n.Any.Concat(n.All).Concat(n.None).Select(c => c.Message)))}")));
        var wide = await Page.EvaluateAsync<string?>(
            """
            () => {
              const over = document.documentElement.scrollWidth - document.documentElement.clientWidth;
              if (over <= 0) return null;
              const worst = [...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 1 && !e.closest(".tb"));
              return `${over} px wider than the window: ` + worst.slice(0, 3).map(e => `${e.tagName.toLowerCase()}.${e.className}`).join(" ");
            }
            """);
        if (wide is not null)
            found.Add(wide);
        return found;
    }

    static string Short(string text) => text.Length > 260 ? text[..260] + "…" : text;
}
