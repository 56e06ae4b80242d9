using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>File <c>fluids</c>: what the plant itself has approved and refused for each fluid.</summary>
static class ImportFluids
{
    public static readonly ImportSpec Spec = new("fluids", Roles.Planner | Roles.Administrator,
        "fluid* hazard approved refused ignition_c bonding", "fluid", Run, Export: ExportPumps.Fluids);

    static async Task Run(ImportRun run)
    {
        var names = run.Values("fluid");
        var recorded = await run.Db.Fluids.Where(f => names.Contains(f.Name)).ToDictionaryAsync(f => f.Name, run.Ct);
        foreach (var row in run.Rows())
        {
            var name = row.NeedText("fluid", 100);
            if (!recorded.TryGetValue(name, out var fluid))
                run.Db.Add(fluid = new Fluid { Name = name });
            fluid.Hazard = row.Text("hazard", 500, fluid.Hazard, lines: true);
            fluid.Approved = row.List("approved", 60, fluid.Approved);
            fluid.Refused = row.List("refused", 60, fluid.Refused);
            fluid.IgnitionC = row.Amount("ignition_c", Bounds.Between(-273, 5000), fluid.IgnitionC);
            fluid.Bonding = row.Flag("bonding", fluid.Bonding);
            foreach (var both in fluid.Approved.Intersect(fluid.Refused, StringComparer.OrdinalIgnoreCase))
                row.Refuse(row.Has("refused") ? "refused" : "approved", $"{both} is approved and refused for {name} at once. Keep it in one of the two.");
        }
    }
}
