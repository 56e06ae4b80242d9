using System.Reflection;
using KitOrders.Rules.People;
using KitOrders.Web.Access;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>
/// Every page the program has, as its own routes say, so that a new one cannot be forgotten: light and dark at a desk, and on
/// a tablet, the store's pages on a handheld.
/// </summary>
public sealed class EveryPage(DemoHouse house)
{
    /// <summary>Where a route has a blank, things of the demo plant that go in: whatever looks different from one to the next.</summary>
    static readonly Dictionary<string, string[]> examples = new()
    {
        ["/orders/{Number}"] = ["/orders/20011", "/orders/20043", "/orders/20025", "/orders/20061", "/orders/99999"],
        ["/pumps/{Tag}"] = ["/pumps/LH-03", "/pumps/EW-07", "/pumps/NO-99"],
        ["/kits/{Kit}"] = ["/kits/CC-25", "/kits/NO-99"],
        ["/go"] = ["/go?q=CC-25", "/go?q=no-such-thing", "/go"],
        ["/bench/{Order}"] = ["/bench/20027", "/bench/20021", "/bench/20023", "/bench/99999"],
        ["/storeroom/parts/{*Number}"] = ["/storeroom/parts/CC-25", "/storeroom/parts/NO-99"],
        ["/storeroom/pick"] = ["/storeroom/pick?orders=20033", "/storeroom/pick"],
        ["/set-up/{Secret}"] = ["/set-up/no-such-link"],
        ["/first-use/{Secret}"] = ["/first-use/no-such-link"],
    };

    static readonly IReadOnlyList<Type> pages = [.. typeof(Web.App).Assembly.GetTypes()
        .Where(t => t.GetCustomAttributes<RouteAttribute>(inherit: false).Any()).OrderBy(t => t.FullName, StringComparer.Ordinal)];

    public static TheoryData<string, string?> Addresses
    {
        get
        {
            var data = new TheoryData<string, string?>();
            foreach (var page in pages)
            {
                foreach (var template in page.GetCustomAttributes<RouteAttribute>(inherit: false).Select(r => r.Template))
                {
                    foreach (var address in examples.GetValueOrDefault(template) ?? [template])
                        data.Add(address, Whose(page));
                }
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Addresses))]
    public async Task A_page_has_a_title_and_one_heading_no_known_barrier_and_fits_its_window(string address, string? person)
    {
        Assert.False(address.Contains('{'), $"{address} has a blank: say above with what it is looked at.");
        var window = await house.Window(person);
        var page = window.Page;
        await window.Go(address);
        List<string> wrong = [];
        if (string.IsNullOrWhiteSpace(await page.TitleAsync()))
            wrong.Add("no title");
        var headings = await page.Locator("h1").AllTextContentsAsync();
        if (headings is not [{ Length: > 0 }])
            wrong.Add($"{headings.Count} headings of the first level: {string.Join(" | ", headings)}");
        foreach (var (width, height) in Sizes(address))
        {
            await page.SetViewportSizeAsync(width, height);
            // Another scheme changes colours alone, and those not by the width.
            foreach (var scheme in width == Desk ? new[] { ColorScheme.Light, ColorScheme.Dark } : [ColorScheme.Light])
            {
                await page.EmulateMediaAsync(new() { ColorScheme = scheme });
                wrong.AddRange((await window.Barriers(colours: scheme == ColorScheme.Dark)).Select(b => $"{width} {scheme}: {b}"));
                await Pictures.Keep(page, $"{address}-{width}-{scheme}");
            }
        }

        wrong.AddRange(window.Complaints().Where(c => !(NotThere(address) && c.Contains("404", StringComparison.Ordinal))));
        await page.Context.DisposeAsync();
        Assert.True(wrong.Count == 0, $"{address} as {person ?? "a stranger"}:\n{string.Join("\n", wrong.Distinct())}");
    }

    /// <summary>Whether the server says by its status that nothing is there. The specimen is for developers.</summary>
    static bool NotThere(string address) => address is "/bench/99999" or "/not-found" or "/specimen";

    const int Desk = 1440;

    static (int, int)[] Sizes(string address) => address.StartsWith("/storeroom", StringComparison.Ordinal)
        ? [(Desk, 1000), (360, 740)] : [(Desk, 1000), (800, 1280)];

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
