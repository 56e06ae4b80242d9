using KitOrders.Rules.Parts;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;

namespace KitOrders.Operations.Procedures;

/// <summary>One step as a row of the file <c>procedures</c>.</summary>
static class StepRow
{
    public static ProcedureStep Read(CsvRow row, Dictionary<string, PartId> parts, Dictionary<string, PumpModelId> models, ProcedureRevision? known)
    {
        var number = row.NeedWhole("step", 1, 99_999);
        var kept = known?.Steps.SingleOrDefault(s => s.Number == number);
        return new ProcedureStep
        {
            Number = number,
            PartOf = row.NeedWord<PartOf>("part_of"),
            Kind = row.NeedWord<StepKind>("kind"),
            Text = row.NeedText("text", 2000, lines: true),
            ModelId = row.Has("model") ? row.Find("model", models, "pump model", "pump-models") : kept?.ModelId,
            SignalWord = row.Word("signal_word", kept?.SignalWord),
            Hazard = row.Text("hazard", 500, kept?.Hazard, lines: true),
            Consequence = row.Text("consequence", 500, kept?.Consequence, lines: true),
            Avoid = row.Text("avoid", 500, kept?.Avoid, lines: true),
            Joint = row.Text("joint", 200, kept?.Joint),
            Bolts = row.Whole("bolts", 1, 200, kept?.Bolts),
            Sequence = row.Word("sequence", kept?.Sequence),
            Target = row.Amount("target", Bounds.Any, kept?.Target),
            Low = row.Amount("low", Bounds.Any, kept?.Low),
            High = row.Amount("high", Bounds.Any, kept?.High),
            Unit = row.Text("unit", 20, kept?.Unit),
            TolerancePct = row.Amount("tolerance_pct", Bounds.Between(0, 100), kept?.TolerancePct),
            Passes = row.Whole("passes", 1, 20, kept?.Passes),
            HoldPoint = row.Flag("hold_point", kept?.HoldPoint) ?? false,
            Witnessed = row.Flag("witnessed", kept?.Witnessed) ?? false,
            PartId = row.Has("part") ? row.Find("part", parts, "part", "parts") : kept?.PartId,
            Minutes = row.Amount("minutes", Bounds.NotNegative, kept?.Minutes),
            Tool = row.Text("tool", 100, kept?.Tool),
            Document = row.Text("document", 200, kept?.Document),
            Edition = row.Text("edition", 60, kept?.Edition),
            Page = row.Text("page", 60, kept?.Page),
        };
    }

    public static bool Same(ProcedureStep? a, ProcedureStep b) => a is not null && Values(a).SequenceEqual(Values(b));

    static object?[] Values(ProcedureStep s) =>
    [
        s.PartOf, s.Kind, s.Text, s.ModelId, s.SignalWord, s.Hazard, s.Consequence, s.Avoid, s.Joint, s.Bolts, s.Sequence, s.Target, s.Low,
        s.High, s.Unit, s.TolerancePct, s.Passes, s.HoldPoint, s.Witnessed, s.PartId, s.Minutes, s.Tool, s.Document, s.Edition, s.Page,
    ];
}
