using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>Pages in the states that are easily forgotten: something open, something refused, nothing there, nothing yet, by keyboard alone.</summary>
public sealed class PageStates(DemoHouse house)
{
    const string Tabbable =
        """
        [...document.querySelectorAll("a[href], button:not(:disabled), input:not(:disabled):not([type=hidden]), select:not(:disabled), textarea, summary, [tabindex='0']")]
          .filter(e => e.tabIndex >= 0 && e.checkVisibility({ visibilityProperty: true }) && !e.closest("dialog:not([open])") && e.getClientRects().length > 0)
        """;

    [Fact]
    public async Task The_help_opens_and_closes_by_its_key_and_gives_the_focus_back()
    {
        var window = await house.Window("Maura Kinsey");
        await window.Go("/orders");
        await window.Page.Keyboard.PressAsync("?");
        await Assertions.Expect(window.Page.Locator("dialog#keys")).ToBeVisibleAsync();
        await Free(window, "the help");
        await window.Page.Keyboard.PressAsync("Escape");
        await Assertions.Expect(window.Page.Locator("dialog#keys")).ToBeHiddenAsync();
        await window.Page.Keyboard.PressAsync("/");
        await Assertions.Expect(window.Page.Locator(".top input[name=q]")).ToBeFocusedAsync();
        await Ended(window);
    }

    [Fact]
    public async Task What_a_planner_is_asked_and_what_is_refused_stay_readable_to_all()
    {
        var window = await house.Window("Maura Kinsey");
        await window.Go("/orders/20043");
        foreach (var act in new[] { "Cancel order", "Change date", "Record a permit" })
        {
            await window.Press(act);
            await Assertions.Expect(window.Page.Locator("#panel")).ToBeVisibleAsync();
            await Free(window, act);
            await window.Press("Leave it");
        }

        await window.Press("Cancel order");
        await window.Page.GetByLabel("Why the order will not be done").FillAsync("   ");
        await window.Press("Cancel 20043");
        await window.Sees("Nothing was done.");
        await Free(window, "a cancellation that was refused");
        await Ended(window);
    }

    [Fact]
    public async Task What_the_store_scanned_stays_when_it_is_refused()
    {
        var window = await house.Window("Ned Farrant", 360, 740);
        await window.Go("/storeroom/receive");
        await window.Page.GetByLabel("Part, number or barcode").FillAsync("NO-SUCH-PART");
        await window.Page.GetByLabel("Quantity").FillAsync("2");
        await window.Page.GetByLabel("Bin", new() { Exact = true }).FillAsync("N01-1");
        await window.Press("Receive");
        await window.Sees("Nothing was received.");
        await Assertions.Expect(window.Page.GetByLabel("Part, number or barcode")).ToHaveValueAsync("NO-SUCH-PART");
        await Free(window, "a refused receipt");
        await window.Page.GetByLabel("Quantity").FillAsync("99999999999999999999999999999999");
        await window.Press("Receive");
        await Assertions.Expect(window.Page.Locator("#wrong-quantity")).ToContainTextAsync("larger than can be kept");
        await Assertions.Expect(window.Page.Locator("[aria-invalid]")).ToHaveValueAsync("99999999999999999999999999999999");
        await Assertions.Expect(window.Page.GetByLabel("Part, number or barcode")).ToHaveValueAsync("NO-SUCH-PART");
        await Ended(window);
    }

    [Fact]
    public async Task An_address_with_nothing_at_it_and_a_page_of_somebody_else_say_so()
    {
        var window = await house.Window("Ned Farrant");
        Assert.Equal(404, (await window.Page.GotoAsync("/no/such/page"))!.Status);
        await window.Sees("There is nothing at this address");
        await Free(window, "an address with nothing at it");
        await window.Page.GotoAsync("/setup/people");
        Assert.EndsWith("/not-yours", window.Page.Url, StringComparison.Ordinal);
        await Free(window, "a page of somebody else");
        await window.Page.Context.DisposeAsync();
    }

    [Fact]
    public async Task A_wrong_password_is_answered_in_words()
    {
        var window = await house.Window(null, 800, 1280, dark: true);
        await window.Page.GotoAsync("/sign-in");
        await window.Page.GetByLabel("Name or badge").FillAsync("nobody");
        await window.Page.GetByLabel("Password").FillAsync("not the password");
        await window.Press("Sign in");
        await Assertions.Expect(window.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("do not open the door");
        await Free(window, "a wrong password");
        await Ended(window);
    }

    [Theory]
    [InlineData("/orders/20043", "Maura Kinsey")]
    [InlineData("/orders/new?pump=LH-02", "Maura Kinsey")]
    [InlineData("/readiness", "Maura Kinsey")]
    [InlineData("/storeroom", "Ned Farrant")]
    public async Task The_tab_key_reaches_everything_shows_where_it_is_and_comes_out_again(string address, string person)
    {
        var window = await house.Window(person);
        var page = window.Page;
        await window.Go(address);
        var all = await page.EvaluateAsync<int>($"() => {{ window.all = {Tabbable}; document.activeElement?.blur(); return window.all.length; }}");
        Assert.True(all > 10, $"{address} has only {all} things to press.");
        // The keys start at the top of the page, wherever the focus was.
        await page.EvaluateAsync("() => { const top = document.createElement('span'); top.tabIndex = -1; document.body.prepend(top); top.focus(); }");
        List<string> unseen = [];
        HashSet<int> reached = [];
        for (var press = 0; press < all + 20; press++)
        {
            await page.Keyboard.PressAsync("Tab");
            var at = await page.EvaluateAsync<string>(
                """
                () => {
                  const e = document.activeElement;
                  if (!e || e === document.body) return "-1||";
                  const s = getComputedStyle(e);
                  const seen = s.outlineStyle !== "none" && parseFloat(s.outlineWidth) > 0 || s.boxShadow !== "none";
                  return `${window.all.indexOf(e)}|${seen ? "" : "unseen"}|${e.outerHTML.slice(0, 90)}`;
                }
                """);
            var parts = at.Split('|', 3);
            if (parts[0] == "-1" && parts[2].Length == 0)
                break;
            reached.Add(int.Parse(parts[0], System.Globalization.CultureInfo.InvariantCulture));
            if (parts[1].Length > 0)
                unseen.Add(parts[2]);
        }

        Assert.Empty(unseen);
        var missed = await page.EvaluateAsync<string[]>("reached => window.all.filter((e, i) => !reached.includes(i)).filter(e => !(e.type === 'radio' && e.name)).map(e => e.outerHTML.slice(0, 90))", reached);
        Assert.Empty(missed);
        await Ended(window);
    }

    static Task Free(Window window, string state) => window.Free(state);

    static Task Ended(Window window) => window.Ended();
}
