using System.Reflection;
using KitOrders.Rules.People;
using KitOrders.Web.Access;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>
/// Every page the program has, as its own routes say, so that a new one cannot be forgotten. All rules are asked at the window a
/// page is made for and colours there in the dark too; in its other window it must fit. The longer proofs ask all everywhere.
/// </summary>
static class AllPages
{
    const int Desk = 1440;

    /// <summary>Where a route has a blank, things of the demo plant that go in: whatever looks different from one to the next.</summary>
    static readonly Dictionary<string, string[]> examples = new()
    {
        ["/orders/{Number}"] = ["/orders/20011", "/orders/20043", "/orders/20025", "/orders/20061", "/orders/99999"],
        ["/orders/{Number}/replan"] = ["/orders/20043/replan", "/orders/20061/replan"],
        ["/pumps/{Tag}"] = ["/pumps/LH-03", "/pumps/EW-07", "/pumps/NO-99"],
        ["/kits/{Kit}"] = ["/kits/CC-25", "/kits/NO-99"],
        ["/procedures/{Code}"] = ["/procedures/P-31", "/procedures/NO-99"],
        ["/procedures/{Code}/edit"] = ["/procedures/P-61/edit"],
        ["/kits/{Kit}/edit"] = ["/kits/CC-25/edit"],
        ["/where-used"] = ["/where-used?part=T-1801", "/where-used?part=NO-99"],
        ["/campaigns/{Number}"] = ["/campaigns/C-99"],
        ["/campaigns/new"] = ["/campaigns/new?job=CONV-50"],
        ["/go"] = ["/go?q=CC-25", "/go?q=no-such-thing", "/go"],
        ["/bench/{Order}"] = ["/bench/20027", "/bench/20021", "/bench/20023", "/bench/99999"],
        ["/storeroom/parts/{*Number}"] = ["/storeroom/parts/CC-25", "/storeroom/parts/NO-99"],
        ["/lots/{*Number}"] = ["/lots/NO-99"],
        ["/kits/matrix"] = ["/kits/matrix", "/kits/matrix?kit=CC-25"],
        ["/storeroom/pick"] = ["/storeroom/pick?orders=20033", "/storeroom/pick"],
        ["/set-up/{Secret}"] = ["/set-up/no-such-link"],
        ["/first-use/{Secret}"] = ["/first-use/no-such-link"],
    };

    static readonly IReadOnlyList<Type> pages = [.. typeof(Web.App).Assembly.GetTypes()
        .Where(t => t.GetCustomAttributes<RouteAttribute>(inherit: false).Any()).OrderBy(t => t.FullName, StringComparer.Ordinal)];

    public static TheoryData<string, string?> Addresses(Func<string, bool> wanted)
    {
        var data = new TheoryData<string, string?>();
        foreach (var page in pages)
        {
            foreach (var template in page.GetCustomAttributes<RouteAttribute>(inherit: false).Select(r => r.Template))
            {
                foreach (var address in (examples.GetValueOrDefault(template) ?? [template]).Where(wanted))
                    data.Add(address, Whose(page));
            }
        }

        return data;
    }

    /// <summary>The windows of a page, the one it is made for first.</summary>
    public static (int Width, int Height)[] Windows(string address) => address switch
    {
        _ when address.StartsWith("/storeroom", StringComparison.Ordinal) => [(360, 740), (Desk, 1000)],
        _ when address.StartsWith("/bench", StringComparison.Ordinal) => [(800, 1280), (Desk, 1000)],
        _ => [(Desk, 1000), (800, 1280)],
    };

    /// <summary>Whether the server says by its status that nothing is there. The specimen is for developers.</summary>
    public static bool NotThere(string address) => address is "/bench/99999" or "/not-found" or "/specimen";

    static string? Whose(Type page) => page.GetCustomAttribute<ForAttribute>() switch
    {
        null when page.GetCustomAttribute<AllowAnonymousAttribute>() is not null => null,
        null => "Maura Kinsey",
        { AnyOf: var roles } => roles switch
        {
            _ when roles.HasFlag(Roles.Planner) && !page.FullName!.Contains(".Storeroom.", StringComparison.Ordinal) => "Maura Kinsey",
            _ when roles.HasFlag(Roles.Storeroom) => "Ned Farrant",
            _ when roles.HasFlag(Roles.Technician) => "Dai Morrow",
            _ when roles.HasFlag(Roles.Manager) => "Harriet Voss",
            _ => "Jonas Pell",
        },
    };
}

/// <summary>Looks at pages, in one window for each person.</summary>
public abstract class PageLook(DemoHouse house, Desks desks)
{
    /// <param name="everywhere">All rules in every window and scheme of colours.</param>
    protected async Task Look(string address, string? person, bool everywhere)
    {
        Assert.False(address.Contains('{'), $"{address} has a blank: say above with what it is looked at.");
        var window = await desks.Window(house, person);
        var page = window.Page;
        var sizes = AllPages.Windows(address);
        await page.SetViewportSizeAsync(sizes[0].Width, sizes[0].Height);
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        await window.Go(address);
        List<string> wrong = [];
        if (string.IsNullOrWhiteSpace(await page.TitleAsync()))
            wrong.Add("no title");
        var headings = await page.Locator("h1").AllTextContentsAsync();
        if (headings is not [{ Length: > 0 }])
            wrong.Add($"{headings.Count} headings of the first level: {string.Join(" | ", headings)}");
        foreach (var (width, height) in sizes)
        {
            await page.SetViewportSizeAsync(width, height);
            foreach (var scheme in new[] { ColorScheme.Light, ColorScheme.Dark })
            {
                await page.EmulateMediaAsync(new() { ColorScheme = scheme });
                if (everywhere || width == sizes[0].Width)
                    wrong.AddRange((await window.Barriers(colours: scheme == ColorScheme.Dark && !everywhere)).Select(b => $"{width} {scheme}: {b}"));
                else if (scheme == ColorScheme.Light && await window.TooWide() is { } wide)
                    wrong.Add($"{width}: {wide}");
                await Pictures.Keep(page, $"{address}-{width}-{scheme}");
            }
        }

        wrong.AddRange(window.Complaints().Where(c => !(AllPages.NotThere(address) && c.Contains("404", StringComparison.Ordinal))));
        await page.GotoAsync("about:blank");
        Assert.True(wrong.Count == 0, $"{address} as {person ?? "a stranger"}:\n{string.Join("\n", wrong.Distinct())}");
    }
}

/// <summary>One window for each person, kept for the tests of a class: what a browser has read once it does not read again.</summary>
public sealed class Desks : IAsyncDisposable
{
    readonly Dictionary<string, Window> windows = [];

    public async Task<Window> Window(DemoHouse house, string? person)
    {
        if (!windows.TryGetValue(person ?? "", out var window))
            windows[person ?? ""] = window = await house.Window(person);
        _ = window.Complaints();
        return window;
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var window in windows.Values)
            await window.Page.Context.DisposeAsync();
    }
}

/// <summary>The pages of planners and managers.</summary>
public sealed class EveryPage(DemoHouse house, Desks desks) : PageLook(house, desks), IClassFixture<Desks>
{
    public static readonly string[] Desk = ["/today", "/orders", "/pumps", "/kits", "/readiness", "/backlog", "/shortages", "/go"];

    public static TheoryData<string, string?> Addresses => AllPages.Addresses(a => a == "/" || Desk.Any(d => a.StartsWith(d, StringComparison.Ordinal)));

    [Theory]
    [MemberData(nameof(Addresses))]
    public Task A_page_has_a_title_and_one_heading_no_known_barrier_and_fits_its_windows(string address, string? person) => Look(address, person, everywhere: false);
}

/// <summary>All other pages: store, bench, setup, doors.</summary>
public sealed class EveryOtherPage(DemoHouse house, Desks desks) : PageLook(house, desks), IClassFixture<Desks>
{
    public static TheoryData<string, string?> Addresses => AllPages.Addresses(a => a != "/" && !EveryPage.Desk.Any(d => a.StartsWith(d, StringComparison.Ordinal)));

    [Theory]
    [MemberData(nameof(Addresses))]
    public Task A_page_has_a_title_and_one_heading_no_known_barrier_and_fits_its_windows(string address, string? person) => Look(address, person, everywhere: false);
}

/// <summary>All rules, in every window, light and dark.</summary>
[Trait("Length", "Long")]
public sealed class EveryPageEverywhere(DemoHouse house, Desks desks) : PageLook(house, desks), IClassFixture<Desks>
{
    public static TheoryData<string, string?> Addresses => AllPages.Addresses(_ => true);

    [Theory]
    [MemberData(nameof(Addresses))]
    public Task A_page_has_no_known_barrier_in_any_window_or_scheme(string address, string? person) => Look(address, person, everywhere: true);
}

/// <summary>Pictures of what the tests saw, for people to look at; kept only where KITORDERS_PICTURES names a folder.</summary>
static class Pictures
{
    static readonly string? folder = Environment.GetEnvironmentVariable("KITORDERS_PICTURES");

    public static async Task Keep(IPage page, string name)
    {
        if (string.IsNullOrEmpty(folder))
            return;
        var file = string.Concat(name.Trim('/').Select(c => char.IsLetterOrDigit(c) || c == '-' ? c : '_'));
        await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{file}.png"), FullPage = true });
    }
}
