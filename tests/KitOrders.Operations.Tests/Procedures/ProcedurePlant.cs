using System.Globalization;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Tests.Orders;
using KitOrders.TestPlants;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Procedures;

/// <summary>One plant for all tests of a class; each takes a procedure and a job of its own, and orders for pumps of their own.</summary>
public sealed class ProcedurePlant(TestDatabase databases) : IAsyncLifetime
{
    OrderBench? bench;
    int procedures, pumps = 2;

    public OrderBench Bench => bench ?? throw new InvalidOperationException("The plant is not made yet.");

    public async ValueTask InitializeAsync()
    {
        bench = await New(databases);
        await bench.Plant.Good("pumps", "tag,serial,model,area,zone,supply_kind,supply_volts,cable_m,cable_mm2,fluid,criticality,sensing_rod,strokes_per_pulse\n"
            + string.Join('\n', Enumerable.Range(3, 10).Select(n => $"P-{n},S-{n},M30,Hall,none,dc,24.0,10,0.75,water,5,yes,2")) + "\n");
    }

    public ValueTask DisposeAsync() => bench?.DisposeAsync() ?? ValueTask.CompletedTask;

    /// <summary>The worked example's procedure under a code of its own, with a job that uses it.</summary>
    public async Task<string> Procedure()
    {
        var code = string.Create(CultureInfo.InvariantCulture, $"PR{++procedures:00}");
        await Bench.Plant.Good("procedures", WorkedPlant.Files.Single(f => f.File == "procedures").Csv.Replace("PR,1,", $"{code},1,", StringComparison.Ordinal));
        await Bench.Plant.Good("jobs", $"job,description,procedure,kits,crew,hours\nCONV-{code},Convert control,{code},K,Fitters,3.5\n");
        return code;
    }

    public async Task<string> Opened(string procedure)
    {
        var number = Must(await new CreateOrder(Bench.Desk).Run(Bench.Planner, new NewOrder($"P-{++pumps}", $"CONV-{procedure}", Today.AddDays(10), 5), Ct));
        Must(await new OpenOrder(Bench.Desk).Run(Bench.Planner, number, Ct));
        return number;
    }
}
