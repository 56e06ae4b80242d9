using Xunit;

namespace KitOrders.Journeys;

/// <summary>The first day: nothing is there yet.</summary>
public sealed class EmptyPlant(DemoHouse house, BareApp bare) : IClassFixture<BareApp>
{
    [Fact]
    public async Task A_plant_with_nothing_in_it_says_on_every_page_what_to_do_next()
    {
        var window = await house.WindowInto(bare.App, 1440, 1000);
        foreach (var address in new[] { "/today", "/orders", "/orders/new", "/pumps", "/kits", "/readiness", "/backlog", "/shortages", "/storeroom", "/storeroom/bins", "/storeroom/shelf-life", "/bench", "/setup", "/setup/imports", "/setup/exports" })
        {
            await window.Go(address);
            Assert.Equal(1, await window.Page.Locator("h1").CountAsync());
            await window.Free($"empty {address}");
            await window.Page.SetViewportSizeAsync(800, 1280);
            Assert.Null(await window.TooWide());
            await window.Page.SetViewportSizeAsync(1440, 1000);
        }

        await window.Ended();
    }
}
