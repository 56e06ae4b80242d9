using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>File <c>pump-models</c>.</summary>
static class ImportPumpModels
{
    public static readonly ImportSpec Spec = new("pump-models", Roles.Planner | Roles.Administrator,
        "model* description control* sensing_rod displacement_ml ports", "model", Run, Export: ExportPumps.Models);

    static async Task Run(ImportRun run)
    {
        var codes = run.Values("model");
        var recorded = await run.Db.PumpModels.Where(m => codes.Contains(m.Code)).ToDictionaryAsync(m => m.Code, run.Ct);
        foreach (var row in run.Rows())
        {
            var code = row.NeedText("model", 60);
            var control = row.NeedWord<Control>("control");
            if (!recorded.TryGetValue(code, out var model))
                run.Db.Add(model = new PumpModel { Code = code, Control = control });
            model.Control = control;
            model.Description = row.Text("description", 300, model.Description, lines: true);
            model.SensingRodAvailable = row.Flag("sensing_rod", model.SensingRodAvailable);
            model.DisplacementMl = row.Amount("displacement_ml", Bounds.AboveZero, model.DisplacementMl);
            model.Ports = Ports(row, model.Ports);
        }
    }

    /// <summary>Ports as they are written, once they can be read.</summary>
    internal static string? Ports(CsvRow row, string? kept)
    {
        var text = row.Text("ports", 500, kept);
        if (text is not null && row.Has("ports"))
            row.Take("ports", PortList.Parse(text));
        return text;
    }
}
