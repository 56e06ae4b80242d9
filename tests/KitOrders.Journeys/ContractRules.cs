using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>The rules with numbers worked by hand, as they come out of the running program.</summary>
[Collection("A plant for rules")]
public sealed class ContractRules(ContractRules.Plant plant)
{
    static readonly DateOnly today = DateOnly.FromDateTime(DateTime.UtcNow);

    [Fact]
    public async Task Lines_of_other_sources_follow_the_gross_of_their_parent_also_inside_boxed_parents()
    {
        await plant.Parts("LK", "LA", "LB", "LC");
        await plant.Kits("LA,1,1,LB,2,inTheBox,,,,,yes", "LA,1,2,LC,1,boughtSeparately,,,,,", "LK,1,1,LA,3,inTheBox,,,,,yes", "LK,1,2,LB,1,inTheBox,,,,,");
        await plant.Stock("LK,l,A-1,1,today,,", "LA,l,A-1,2,today,,", "LB,l,A-1,3,today,,", "LC,l,A-1,5,today,,");
        // One LK boxed, one built: 3 LA, 2 boxed and 1 built: 1 + 2 LB; six LA in all ask for 6 LC.
        Assert.Equal(
            ["LA 3 1 2 2 0", "LB 3 0 3 3 0", "LC 6 0 6 5 1", "LK 2 1 1 1 0"],
            Lines(await plant.Opened("P-5", [("LK", 2)]), "gross", "built", "required", "reserved", "short"));
    }

    [Fact]
    public async Task Stock_goes_to_the_sources_in_their_order_so_that_spares_fall_short_first()
    {
        await plant.Parts("SK", "SP");
        await plant.Kits("SK,1,1,SP,2,carriedOver,all,,,,yes", "SK,1,2,SP,1,shopSupply,,,,,", "SK,1,3,SP,1,boughtSeparately,,,,,", "SK,1,4,SP,2,inTheBox,,,,,");
        await plant.Stock("SP,l,A-1,4,today,,");
        var order = await plant.Opened("P-5", [("SK", 1)]);
        Assert.Equal(
            ["boughtSeparately 1 0 False", "carriedOver 0 2 True", "inTheBox 2 0 False", "shopSupply 1 0 False"],
            order["demand"]!.AsArray().Where(l => (string?)l!["part"] == "SP")
                .Select(l => $"{l!["source"]} {Plain(l["reserved"]!)} {Plain(l["short"]!)} {(bool)l["spare"]!}").Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("none", "", 2, 0)]
    [InlineData("all", "", 2, 4)]
    [InlineData("byRate", "0.10", 1, 1)]
    [InlineData("byRate", "0.10", 20, 7)]
    public async Task Spares_are_held_by_policy(string policy, string rate, int kits, int spares)
    {
        var kit = $"RK{policy}{kits}";
        await plant.Parts(kit, $"{kit}P");
        await plant.Kits($"{kit},1,1,{kit}P,2,carriedOver,{policy},{rate},,,");
        await plant.Stock($"{kit},l,A-1,20,today,,");
        var line = (await plant.Opened("P-5", [(kit, kits)]))["demand"]!.AsArray().SingleOrDefault(l => (string?)l!["part"] == $"{kit}P");
        Assert.Equal(spares, line is null ? 0 : (decimal)line["required"]!);
    }

    [Theory]
    [InlineData(1, 300, 5)]
    [InlineData(4, 1100, 10)]
    public async Task Tape_is_wraps_by_circumference_of_the_taper_threads_rounded_up_once_to_what_is_handed_out(int kits, int tape, int grease)
    {
        // 3 wraps × π × 13.716 mm (NPT 1/4) × 2 fittings = 258.54 mm a kit; the parallel G 1/2 takes none.
        var kit = $"WK{kits}";
        await plant.Import("parts", $"part,description,unit,thread,handed_out_in\n{kit},k,each,,\n{kit}T,tape,mm,,100\n{kit}G,grease,g,,5\n{kit}N,elbow,each,NPT 1/4 male,\n{kit}P,plug,each,G 1/2 male,\n");
        await plant.Kits($"{kit},1,1,{kit}N,2,boughtSeparately,,,,,", $"{kit},1,2,{kit}P,1,boughtSeparately,,,,,", $"{kit},1,3,{kit}T,1,shopSupply,,,3,1+2,", $"{kit},1,4,{kit}G,2,shopSupply,,,,,");
        await plant.Stock($"{kit},l,A-1,9,today,,");
        var order = await plant.Opened("P-5", [(kit, kits)]);
        Assert.Equal(tape, (decimal)Line(order, $"{kit}T")["required"]!);
        Assert.Equal(grease, (decimal)Line(order, $"{kit}G")["required"]!);
    }

    [Fact]
    public async Task Lots_go_by_expiry_then_receipt_then_smallest_then_number_then_bin()
    {
        await plant.Parts("EK", "XP");
        await plant.Import("parts", "part,description,unit,elastomers\nEP,seal,each,NBR\n");
        await plant.Kits("EK,1,1,EP,10,boughtSeparately,,,,,", "EK,1,2,XP,12,boughtSeparately,,,,,");
        await plant.Stock("EK,l,A-1,9,today,,", "EP,c,A-1,3,today-5,today-100,", "EP,a,A-2,2,today-5,today-200,", "EP,b1,A-3,4,today-9,today-150,", "EP,b2,A-2,4,today-5,today-150,",
            "EP,b3,A-1,3,today-5,today-150,", "XP,n2,A-1,5,today-3,,", "XP,n1,A-2,5,today-4,,", "XP,n0,A-3,4,today-3,,", "XP,n3,A-3,5,today-3,,");
        var order = await plant.Opened("P-5", [("EK", 1)]);
        Assert.Equal(["a 2", "b1 4", "b2 1", "b3 3"], Held(order, "EP"));
        Assert.Equal(["n0 4", "n1 5", "n2 3"], Held(order, "XP"));
    }

    [Theory]
    [InlineData("3Q25", "2032-09-30")]
    [InlineData("3Q2025", "2032-09-30")]
    [InlineData("3/25", "2032-09-30")]
    [InlineData("3/2025", "2032-09-30")]
    [InlineData("2024-02-29", "2031-02-28")]
    [InlineData("4Q99", "2006-12-31")]
    public async Task A_cure_date_or_quarter_gives_the_last_good_day(string cured, string last)
    {
        var part = $"CP{cured.Replace('/', 'S')}";
        await plant.Import("parts", $"part,description,unit,elastomers\n{part},seal,each,NBR\n");
        await plant.Stock($"{part},q,A-1,1,today,{cured},");
        Assert.Equal(last, (string?)(await plant.Get($"/api/parts/{part}"))["lots"]![0]!["expiresOn"]);
    }

    [Fact]
    public async Task A_lot_serves_up_to_and_on_its_last_good_day()
    {
        await plant.Parts("GK");
        await plant.Import("parts", "part,description,unit,elastomers\nGP,seal,each,NBR\n");
        await plant.Kits("GK,1,1,GP,1,boughtSeparately,,,,,");
        var last = today.AddDays(20);
        await plant.Stock("GK,l,A-1,9,today,,", $"GP,g,A-1,1,today-5,{Day(last.AddYears(-7))},");
        Assert.Equal(1m, (decimal)Line(await plant.Opened("P-5", [("GK", 1)], last.AddDays(1)), "GP")["short"]!);
        Assert.Equal(0m, (decimal)Line(await plant.Opened("P-5", [("GK", 1)], last), "GP")["short"]!);
        Assert.True((bool)(await plant.Get($"/api/parts/GP?on={Day(last)}"))["lots"]![0]!["usable"]!);
        Assert.False((bool)(await plant.Get($"/api/parts/GP?on={Day(last.AddDays(1))}"))["lots"]![0]!["usable"]!);
    }

    [Fact]
    public async Task Stock_that_comes_or_is_freed_covers_the_most_pressing_first_and_a_take_over_moves_what_is_held()
    {
        await plant.Parts("ZK", "ZP");
        await plant.Kits("ZK,1,1,ZP,4,boughtSeparately,,,,,");
        await plant.Stock("ZK,l,A-1,9,today,,", "ZP,l,A-1,3,today,,");
        var low = (string)(await plant.Opened("P-2", [("ZK", 1)], workClass: 2))["number"]!;
        var late = (string)(await plant.Opened("P-9", [("ZK", 1)], workClass: 9))["number"]!;
        var early = (string)(await plant.Opened("P-9", [("ZK", 1)], today.AddDays(4), workClass: 9))["number"]!;
        Assert.Equal(["3 1", "0 4", "0 4"], await Standing(low, late, early));
        await plant.Done("/api/receipts", new { part = "ZP", quantity = 5, bin = "A-2" });
        Assert.Equal(["3 1", "1 3", "4 0"], await Standing(low, late, early));
        await plant.Done($"/api/orders/{late}/take-over", new { from = low, part = "ZP", quantity = 2, reason = "urgent" });
        Assert.Equal(["1 3", "3 1", "4 0"], await Standing(low, late, early));
        await plant.Done($"/api/orders/{early}/cancel", new { reason = "gone" });
        Assert.Equal(["4 0", "4 0"], await Standing(low, late));
        Assert.All((await plant.Get("/api/stock-truth")).AsArray(), check => Assert.True((bool)check!["holds"]!, check.ToJsonString()));
    }

    [Fact]
    public async Task An_alternate_is_never_taken_unasked()
    {
        await plant.Parts("AK", "AP", "AQ");
        await plant.Kits("AK,1,1,AP,1,boughtSeparately,,,,,");
        await plant.Stock("AK,l,A-1,9,today,,", "AQ,l,A-1,5,today,,");
        await plant.Import("alternates", "part,alternate,preference,both_ways\nAP,AQ,1,yes\n");
        Assert.Equal(1m, (decimal)Line(await plant.Opened("P-5", [("AK", 1)]), "AP")["short"]!);
    }

    [Fact]
    public async Task A_kit_file_may_leave_a_buildable_kit_without_anything_in_its_box_with_a_warning()
    {
        await plant.Parts("NB", "NP");
        var report = await plant.Import("kits", "kit,revision,line,part,quantity,source,buildable\nNB,1,1,NP,2,boughtSeparately,yes\n");
        Assert.Single(report["warnings"]!.AsArray());
        await plant.Import("fits", "kit,revision,model\nNB,1,M\n");
        Assert.Equal(["NB 1 1 0", "NP 2 0 2"], Lines(await plant.Opened("P-5", [("NB", 1)]), "gross", "built", "short"));
    }

    [Theory]
    [InlineData("parts", "part,description,unit,colour\nA1,a,each,red\n", 1, 0, "colour")]
    [InlineData("parts", "part,description\nA1,a\nA2,b\n", 2, 0, "unit")]
    [InlineData("parts", "part,description,unit\nA1,a,each\nA2,b\n", 2, 2, "")]
    [InlineData("parts", "part,description,unit\nA1,a,each\nA2,b,furlong\n", 2, 2, "unit")]
    [InlineData("parts", "part,description,unit\nA1,a,each\nA1,b,each\n", 2, 2, "part")]
    public async Task A_refused_file_says_how_many_rows_it_has_and_where_the_fault_is(string file, string csv, int rows, int row, string column)
    {
        using var api = plant.App.Api();
        var refused = await api.Import(file, csv);
        Assert.Equal((HttpStatusCode.UnprocessableEntity, "import-refused"), (refused.Status, refused.Code));
        var dry = await api.Import(file, csv, dryRun: true);
        Assert.Equal(HttpStatusCode.OK, dry.Status);
        foreach (var report in (JsonNode[])[refused.Body, dry.Body])
        {
            Assert.Equal((rows, 0), ((int)report["rows"]!, (int)report["written"]!));
            Assert.Contains(report["errors"]!.AsArray(), e => (int)e!["row"]! == row && (string?)e["column"] == column);
        }
    }

    async Task<string[]> Standing(params string[] orders)
    {
        var lines = new List<string>();
        foreach (var number in orders)
        {
            var line = Line(await plant.Get($"/api/orders/{number}"), "ZP");
            lines.Add(string.Join(' ', ((string[])["reserved", "short"]).Select(f => Plain(line[f]!))));
        }
        return [.. lines];
    }

    static string Plain(JsonNode number) => ((decimal)number).ToString("0.####", CultureInfo.InvariantCulture);

    static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    static JsonNode Line(JsonNode order, string part) => order["demand"]!.AsArray().Single(l => (string?)l!["part"] == part)!;

    static string[] Lines(JsonNode order, params string[] fields) => [.. order["demand"]!.AsArray()
        .Select(l => $"{l!["part"]} {string.Join(' ', fields.Select(f => Plain(l[f]!)))}").Order(StringComparer.Ordinal)];

    static string[] Held(JsonNode order, string part) => [.. Line(order, part)["reservations"]!.AsArray()
        .Select(r => $"{r!["lot"]} {Plain(r["quantity"]!)}").Order(StringComparer.Ordinal)];

    /// <summary>Ten pumps of one model, a job without kits and three bins; each test brings parts and kits of its own.</summary>
    public sealed class Plant : IAsyncLifetime
    {
        RunningApp? app;

        public RunningApp App => app ?? throw new InvalidOperationException("The app has not started.");

        public async ValueTask InitializeAsync()
        {
            app = await RunningApp.Start("--no-demo");
            await Import("plant", "key,value\ntime_zone,UTC\nspare_risk,0.05\n");
            await Import("bins", "bin,walk_order\nA-1,1\nA-2,2\nA-3,3\n");
            await Import("pump-models", "model,control\nM,pilotAir\n");
            await Import("pumps", "tag,serial,model,zone,criticality\n" + string.Concat(Enumerable.Range(1, 10).Select(n => $"P-{n},S-{n},M,none,{n}\n")));
            await Import("procedures", "procedure,revision,step,part_of,kind,text\nPR,1,1,preliminary,check,Stop: stop it\nPR,1,2,main,instruction,Do it\nPR,1,3,closeUp,functionTest,Run it\n");
            await Import("jobs", "job,description,procedure,kits,hours\nJ,Job,PR,,4\n");
        }

        public ValueTask DisposeAsync() => app?.DisposeAsync() ?? ValueTask.CompletedTask;

        public Task<JsonNode> Parts(params string[] parts) => Import("parts", "part,description,unit\n" + string.Concat(parts.Select(p => $"{p},{p},each\n")));

        public async Task Kits(params string[] lines)
        {
            await Import("kits", "kit,revision,line,part,quantity,source,spare_policy,reject_rate,wraps,wraps_for,buildable\n" + string.Join('\n', lines));
            await Import("fits", "kit,revision,model\n" + string.Concat(lines.Select(l => l.Split(',')[0]).Distinct().Select(k => $"{k},1,M\n")));
        }

        public Task<JsonNode> Stock(params string[] rows) => Import("stock", "part,lot,bin,quantity,received_on,cured_on,unit_cost\n" + string.Join('\n', rows));

        public async Task<JsonNode> Import(string file, string csv)
        {
            using var api = App.Api();
            return Expect(HttpStatusCode.OK, await api.Import(file, csv));
        }

        public async Task<JsonNode> Opened(string pump, (string Kit, int Quantity)[] kits, DateOnly? neededBy = null, int workClass = 5)
        {
            using var api = App.Api();
            var draft = Expect(HttpStatusCode.Created, await api.Post("/api/orders", new
            {
                pump, job = "J", workClass, neededBy = Day(neededBy ?? today.AddDays(5)), kits = kits.Select(k => new { kit = k.Kit, quantity = k.Quantity }),
            }));
            return Expect(HttpStatusCode.OK, await api.Post($"/api/orders/{draft["number"]}/open", new { }));
        }

        public async Task<JsonNode> Done(string path, object body)
        {
            using var api = App.Api();
            return Expect(HttpStatusCode.OK, await api.Post(path, body));
        }

        public async Task<JsonNode> Get(string path)
        {
            using var api = App.Api();
            return Expect(HttpStatusCode.OK, await api.Get(path));
        }

        static JsonNode Expect(HttpStatusCode status, Answer answer)
        {
            Assert.True(status == answer.Status, $"expected {(int)status}, was {answer}");
            return answer.Body;
        }
    }
}
