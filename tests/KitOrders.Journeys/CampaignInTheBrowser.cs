using System.Net;
using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>A planner makes and opens a campaign, a clerk walks its run, spares and all, and the report says what it came to.</summary>
public sealed class CampaignInTheBrowser(DemoHouse house)
{
    [Fact]
    public async Task A_campaign_is_made_opened_and_picked_with_its_spares_pooled()
    {
        using var api = (await house.App).Api();
        var p = await Plant(api);
        var planner = await house.Window("Maura Kinsey");
        var page = planner.Page;

        await planner.Go($"/campaigns/new?job={p}-RATE");
        await planner.Press("Choose the 3 pumps shown that may suit");
        await planner.Press("Make the campaign with 3 drafts");
        await planner.Sees("Give the campaign a name");
        await planner.Fill("Name of the campaign", $"Stop {p}");
        await planner.Free("a campaign that is being made");
        await planner.Press("Make the campaign with 3 drafts");
        await page.WaitForURLAsync("**/campaigns/C-*");
        await planner.Sees("hold 2 where 3 single orders would hold 3");
        await planner.Press("Open 3 orders");
        await planner.Sees("3 of 3 orders opened.");
        await planner.Free("a campaign that is open");
        var number = page.Url.Split('/')[^1];
        Assert.Equal((2m, 2m, 0m), await Spares(api, number));

        var clerk = await house.Window("Ned Farrant", 1280, 900);
        await clerk.Go($"/campaigns/{number}");
        await clerk.Page.GetByRole(AriaRole.Link, new() { Name = "Walk the run of" }).ClickAsync();
        await clerk.Sees(number);
        await clerk.Sees("Scan piece 1 of 2");
        await clerk.Press("Cannot scan");
        await clerk.Press("Count them");
        await clerk.Sees("Every line is picked.");
        Assert.Equal((2m, 0m, 2m), await Spares(api, number));
        await clerk.Sees("These spares stand together for all orders of the campaign");

        Assert.Equal(3, (await api.Get($"/api/campaigns/{number}/close-out")).Body["pumps"]!.AsArray().Count);
        await clerk.Ended();
        await planner.Ended();
    }

    /// <summary>Required, reserved and picked of the campaign's one spare part.</summary>
    static async Task<(decimal Required, decimal Reserved, decimal Picked)> Spares(ApiClient api, string number)
    {
        var spare = Assert.Single((await api.Get($"/api/campaigns/{number}")).Body["spares"]!.AsArray())!;
        return ((decimal)spare["required"]!, (decimal)spare["reserved"]!, (decimal)spare["picked"]!);
    }

    /// <summary>Three pumps, and a job whose kit keeps two valves of each, of which one in ten is rejected.</summary>
    static async Task<string> Plant(ApiClient api)
    {
        var p = await JourneyPlant.Make(api);
        (string File, string Csv)[] files =
        [
            ("pumps", "tag,serial,model,area,zone,fluid,criticality,sensing_rod\n" + string.Concat(Enumerable.Range(2, 2).Select(n => $"{p}-0{n},S-{p}{n},{p}-30,Journey hall,none,{p} water,{n},yes\n"))),
            ("parts", $"part,description,unit\n{p}-RK,Renewal kit,each\n"),
            ("kits", $"kit,revision,line,part,quantity,source,spare_policy,reject_rate\n{p}-RK,1,1,{p}-ELB,1,boughtSeparately,,\n{p}-RK,1,2,{p}-QEV,2,carriedOver,byRate,0.10\n"),
            ("fits", $"kit,revision,model,materials,once\n{p}-RK,1,{p}-30,PP+PTFE,no\n"),
            ("jobs", $"job,description,procedure,kits,crew,hours\n{p}-RATE,Renew {p},{p}-PR,{p}-RK,Fitters,2\n"),
        ];
        foreach (var (file, csv) in files)
        {
            var answer = await api.Import(file, csv);
            Assert.True(answer.Status == HttpStatusCode.OK, $"{file}: {answer}");
        }

        return p;
    }
}
