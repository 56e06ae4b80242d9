using KitOrders.Rules.People;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Stock;

/// <summary>File <c>bins</c>: the shelf places in walking order.</summary>
static class ImportBins
{
    public static readonly ImportSpec Spec = new("bins", Roles.Planner | Roles.Storeroom | Roles.Administrator, "bin* walk_order*", "bin", Run, Export: ExportStock.Bins);

    static Task Run(ImportRun run) => run.Write(
        run.Rows().Select(row => new Bin { Code = row.NeedText("bin", 40), WalkOrder = row.NeedWhole("walk_order", 0, 10_000_000) }).ToList(), nameof(Bin.Code));
}
