using KitOrders.Operations.Kits;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Kits;

public sealed class SuitabilityMatrixTests(TestDatabase databases)
{
    [Theory]
    [InlineData(11)]
    [InlineData(12)]
    [InlineData(13)]
    public async Task Every_pair_of_many_is_judged_as_it_is_judged_alone(int seed)
    {
        await using var plant = await ImportBench.New(databases);
        var drawn = new RandomPlant(seed);
        await drawn.Fill(plant);
        await drawn.Orders(plant);
        var on = new DateOnly(2026, 3, 20);
        var matrix = Must(await new SuitabilityMatrix(plant.Desk).Find(new MatrixFilter { On = on }, Ct));
        Assert.Equal((RandomPlant.Pumps, RandomPlant.Kits, 0), (matrix.Pumps.Count, matrix.Kits.Count, matrix.KitsLeftOut));
        var alone = new SuitabilityOf(plant.Desk);
        var met = new HashSet<(Check, CheckResult)>();
        for (var p = 0; p < matrix.Pumps.Count; p++)
            for (var k = 0; k < matrix.Kits.Count; k++)
            {
                var expected = Must(await alone.Check(matrix.Pumps[p].Tag, matrix.Kits[k].Kit, on, Ct));
                Assert.Equal(expected.Select(Written), matrix.Look(p, k).Select(Written));
                Assert.Equal(expected.Select(e => e.Result), Enum.GetValues<Check>().Select(matrix.Cell(p, k).Of));
                var first = expected.FirstOrDefault(e => e.Result == CheckResult.Failed) ?? expected.FirstOrDefault(e => e.Result == CheckResult.Unknown);
                Assert.Equal((first?.Check, first?.Reason, first?.Result ?? CheckResult.Passed), (matrix.Cell(p, k).First, matrix.Reason(p, k), matrix.Cell(p, k).Result));
                Assert.Equal((expected.Count(e => e.Result == CheckResult.Passed), expected.Count(e => e.Result == CheckResult.Failed), expected.Count(e => e.Result == CheckResult.Unknown)),
                    (matrix.Cell(p, k).Passed, matrix.Cell(p, k).Failed, matrix.Cell(p, k).Unknown));
                met.UnionWith(expected.Select(e => (e.Check, e.Result)));
            }
        // The plants are worth drawing only while every check comes out in more than one way.
        Assert.All(Enum.GetValues<Check>(), check => Assert.True(met.Count(m => m.Item1 == check) > 1, $"{check} always came out the same."));
    }

    [Fact]
    public async Task The_kits_of_a_job_are_judged_as_an_order_brings_them()
    {
        await using var plant = await ImportBench.New(databases);
        var drawn = new RandomPlant(21);
        await drawn.Fill(plant);
        await drawn.Orders(plant);
        var on = new DateOnly(2026, 3, 20);
        var matrix = Must(await new SuitabilityMatrix(plant.Desk).Find(new MatrixFilter { Job = "ALL", On = on }, Ct));
        Assert.Equal(["K1", "K2", "K3"], matrix.Kits.Select(k => k.Kit));
        for (var p = 0; p < matrix.Pumps.Count; p++)
        {
            var draft = Must(await new CreateOrder(plant.Desk).Run(new Call(plant.Actor), new NewOrder(matrix.Pumps[p].Tag, "ALL", on, 5), Ct));
            var judged = await plant.Desk.Read(async reading =>
            {
                var order = await reading.Db.WorkOrders.Include(o => o.Kits).SingleAsync(o => o.Number == draft, reading.Ct);
                return await OrderJudging.Judge(reading, order, on);
            }, Ct);
            Assert.Equal(judged.Select(j => Written(new SuitabilityView(j.Check, j.Kit, j.Result, j.Reason, j.Finding.Numbers))),
                Enumerable.Range(0, 3).SelectMany(k => matrix.Look(p, k)).Select(Written));
            var worst = judged.Any(j => j.Result == CheckResult.Failed) ? CheckResult.Failed : judged.Any(j => j.Result == CheckResult.Unknown) ? CheckResult.Unknown : CheckResult.Passed;
            Assert.Equal(worst, matrix.Worst(p));
        }
    }

    [Fact]
    public async Task Pumps_and_kits_are_chosen_by_what_is_on_record_of_them()
    {
        await using var bench = await New(databases);
        var find = new SuitabilityMatrix(bench.Desk);
        async Task<string> Tags(MatrixFilter filter) => string.Join(' ', Must(await find.Find(filter, Ct)).Pumps.Select(p => p.Tag));
        await bench.Plant.Good("pumps", "tag,serial,model,area,zone,criticality\nT-9,S-9,M30-S,Yard,,3\n");
        Assert.Equal("P-1 P-2 T-9", await Tags(new MatrixFilter()));
        Assert.Equal("P-1 P-2", await Tags(new MatrixFilter { Search = "p-" }));
        Assert.Equal("P-2", await Tags(new MatrixFilter { Search = "s-2" }));
        Assert.Equal("", await Tags(new MatrixFilter { Search = "%" }));
        Assert.Equal("T-9", await Tags(new MatrixFilter { Model = "M30-S" }));
        Assert.Equal("T-9", await Tags(new MatrixFilter { Control = Control.Solenoid }));
        Assert.Equal("T-9", await Tags(new MatrixFilter { Area = "yard" }));
        Assert.Equal("P-1 P-2", await Tags(new MatrixFilter { Zone = Zone.None }));
        Assert.Equal("T-9", await Tags(new MatrixFilter { ZoneNotRecorded = true }));
        Assert.Equal("P-1 P-2", await Tags(new MatrixFilter { Fluid = "water" }));
        Assert.Equal("P-1 T-9", await Tags(new MatrixFilter { Tags = ["T-9", "P-1", "none"] }));
        // Of what has a bill of materials, an assembly inside a kit is judged only when it is asked for.
        Assert.Equal(["K"], Must(await find.Find(new MatrixFilter(), Ct)).Kits.Select(k => k.Kit));
        Assert.Equal(["V", "K"], Must(await find.Find(new MatrixFilter { Kits = ["V", "K", "V"] }, Ct)).Kits.Select(k => k.Kit));
        Refused(await find.Find(new MatrixFilter { Kits = ["E"] }, Ct), "kit-unknown");
        Refused(await find.Find(new MatrixFilter { Job = "NONE" }, Ct), "job-unknown");
    }

    static string Written(SuitabilityView view) =>
        $"{view.Kit} {view.Check} {view.Result}: {view.Reason} [{string.Join(", ", view.Numbers.OrderBy(n => n.Key, StringComparer.Ordinal).Select(n => FormattableString.Invariant($"{n.Key}={n.Value}")))}]";
}
