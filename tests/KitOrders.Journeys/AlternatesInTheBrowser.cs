using System.Net;
using System.Text.Json.Nodes;
using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>What a planner decides about a short line and about a newer revision, in a window and as the API has it afterwards.</summary>
public sealed class AlternatesInTheBrowser(DemoHouse house)
{
    [Fact]
    public async Task A_planner_uses_an_alternate_and_plans_the_order_again_once_a_newer_revision_is_current()
    {
        using var api = (await house.App).Api();
        var p = await JourneyPlant.Make(api);
        await Import(api, "parts", $"part,description,unit\n{p}-ELS,\"Street elbow, steel\",each\n");
        await Import(api, "alternates", $"part,alternate\n{p}-ELB,{p}-ELS\n");
        await Import(api, "stock", $"part,lot,bin,quantity,received_on\n{p}-ELS,{p}-E1,{p}-A,3,today-5\n");
        var number = (string)(await Ok(api.Post("/api/orders", new { pump = $"{p}-01", job = $"{p}-CONV", neededBy = JourneyPlant.Day(12), workClass = 5 })))["number"]!;
        await Ok(api.Post($"/api/orders/{number}/open", new { }));
        var planner = await house.Window("Maura Kinsey");
        var page = planner.Page;

        await planner.Go($"/orders/{number}");
        await planner.Press("Use an alternate");
        await planner.Sees("3 free and usable");
        await page.GetByLabel("Why the alternate is used").FillAsync("the line stands still");
        await planner.Press("Use the alternate");
        await planner.Sees($"1 in place of {p}-ELB");
        await planner.Sees($"1 replaced by {p}-ELS");
        var line = (await Ok(api.Get($"/api/orders/{number}")))["demand"]!.AsArray().Single(l => (string?)l!["part"] == $"{p}-ELS")!;
        Assert.Equal((1m, $"{p}-ELB"), ((decimal)line["reserved"]!, (string?)line["origins"]![0]!["inPlaceOf"]));

        await Import(api, "kits", $"kit,revision,line,part,quantity,source\n{p}-KIT,2,1,{p}-VLV,1,inTheBox\n{p}-KIT,2,2,{p}-ELB,2,boughtSeparately\n");
        await Import(api, "fits", $"kit,revision,model,converts_to,needs_sensing_rod,ports,supply_kind,volts,volts_tolerance_pct,amps,materials,once\n{p}-KIT,2,{p}-30,{p}-30-S,yes,exhaust=NPT 1/2 male,dc,24,10,0.2,PP+PTFE,yes\n");
        await planner.Go($"/orders/{number}");
        await planner.Sees($"{p}-KIT rev 2 is current; this order was opened with rev 1.");
        await page.GetByRole(AriaRole.Link, new() { Name = "Plan again" }).ClickAsync();
        await planner.Sees($"1 × {p}-ELS in place of {p}-ELB");
        await Assertions.Expect(page.Locator("tr", new() { HasText = $"{p}-QEV" })).ToContainTextAsync("goes; 2 free for others");
        Assert.Equal(1, (int)(await Ok(api.Get($"/api/orders/{number}")))["kits"]![0]!["revision"]!);
        await planner.Press("Plan it again");
        await planner.Sees($"{number} is planned again.");
        var order = await Ok(api.Get($"/api/orders/{number}"));
        Assert.Equal(2, (int)order["kits"]![0]!["revision"]!);
        Assert.Equal([($"{p}-ELB", 2m), ($"{p}-KIT", 0m)], order["demand"]!.AsArray().Select(l => ((string)l!["part"]!, (decimal)l["short"]!)).Order());
        Assert.Empty(planner.Complaints());
    }

    static async Task Import(ApiClient api, string file, string csv)
    {
        var answer = await api.Import(file, csv);
        Assert.True(answer.Status == HttpStatusCode.OK, $"{file}: {answer}");
    }

    static async Task<JsonNode> Ok(Task<Answer> asked)
    {
        var answer = await asked;
        Assert.True((int)answer.Status < 300, $"{answer}");
        return answer.Body;
    }
}
