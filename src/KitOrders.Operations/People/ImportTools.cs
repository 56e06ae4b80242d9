using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>File <c>tools</c>: measuring tools with their usable range and calibration.</summary>
static class ImportTools
{
    public static readonly ImportSpec Spec = new("tools", Roles.Planner | Roles.Administrator,
        "tool* description low high unit calibrated_on due_on", "tool", Run, "calibrated_on due_on", ExportPeople.Tools);

    static async Task Run(ImportRun run)
    {
        var codes = run.Values("tool");
        var recorded = await run.Db.Tools.Where(t => codes.Contains(t.Code)).ToDictionaryAsync(t => t.Code, run.Ct);
        foreach (var row in run.Rows())
        {
            var code = row.NeedText("tool", 60);
            if (!recorded.TryGetValue(code, out var tool))
                run.Db.Add(tool = new Tool { Code = code });
            tool.Description = row.Text("description", 300, tool.Description, lines: true);
            tool.Low = row.Amount("low", Bounds.Any, tool.Low);
            tool.High = row.Amount("high", Bounds.Any, tool.High);
            tool.Unit = row.Text("unit", 20, tool.Unit);
            tool.CalibratedOn = row.Date("calibrated_on", tool.CalibratedOn);
            tool.DueOn = row.Date("due_on", tool.DueOn);
            if (tool.Low > tool.High)
                row.Refuse("low", $"The range of {code} runs from {tool.Low:0.####} to {tool.High:0.####}. The low end must not lie above the high end.");
            if (tool.CalibratedOn > tool.DueOn)
                row.Refuse("due_on", $"The calibration of {code} would run out before it was made. Correct one of the dates.");
        }
    }
}
