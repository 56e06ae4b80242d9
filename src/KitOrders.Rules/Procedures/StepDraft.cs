using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Procedures;

/// <summary>
/// A step as it is written and compared: all that it says but its number, which follows from its place. Models and parts go by
/// the names people know them by. Null is not stated.
/// </summary>
public sealed record StepDraft
{
    public const int MostSteps = 500;

    public PartOf PartOf { get; init; }
    public StepKind Kind { get; init; }
    public string Text { get; init; } = "";

    /// <summary>The only pump model it applies to, by code; null is all models.</summary>
    public string? Model { get; init; }

    public SignalWord? SignalWord { get; init; }
    public string? Hazard { get; init; }
    public string? Consequence { get; init; }
    public string? Avoid { get; init; }
    public string? Joint { get; init; }
    public int? Bolts { get; init; }
    public BoltSequence? Sequence { get; init; }
    public decimal? Target { get; init; }
    public decimal? Low { get; init; }
    public decimal? High { get; init; }
    public string? Unit { get; init; }
    public decimal? TolerancePct { get; init; }
    public int? Passes { get; init; }
    public bool HoldPoint { get; init; }
    public bool Witnessed { get; init; }

    /// <summary>Number of the part it speaks of; for a carry-over decision the part kept from the pump.</summary>
    public string? Part { get; init; }

    public decimal? Minutes { get; init; }
    public string? Tool { get; init; }
    public string? Document { get; init; }
    public string? Edition { get; init; }
    public string? Page { get; init; }

    /// <summary>The cited document on record; its title and edition then stand in <see cref="Document"/> and <see cref="Edition"/>.</summary>
    public int? DocumentId { get; init; }

    public IReadOnlyList<StepPicture> Pictures { get; init; } = [];

    public static StepDraft Of(ProcedureStep step, string? model, string? part) => new()
    {
        PartOf = step.PartOf, Kind = step.Kind, Text = step.Text, Model = model, SignalWord = step.SignalWord, Hazard = step.Hazard,
        Consequence = step.Consequence, Avoid = step.Avoid, Joint = step.Joint, Bolts = step.Bolts, Sequence = step.Sequence, Target = step.Target,
        Low = step.Low, High = step.High, Unit = step.Unit, TolerancePct = step.TolerancePct, Passes = step.Passes, HoldPoint = step.HoldPoint,
        Witnessed = step.Witnessed, Part = part, Minutes = step.Minutes, Tool = step.Tool, Document = step.Document, Edition = step.Edition,
        Page = step.Page, DocumentId = step.DocumentId?.Value, Pictures = StepPicture.Of(step),
    };

    public ProcedureStep At(int number, ProcedureRevisionId revision, PumpModelId? model, PartId? part) => new()
    {
        ProcedureRevisionId = revision, Number = number, PartOf = PartOf, Kind = Kind, Text = Text, ModelId = model, SignalWord = SignalWord, Hazard = Hazard,
        Consequence = Consequence, Avoid = Avoid, Joint = Joint, Bolts = Bolts, Sequence = Sequence, Target = Target, Low = Low, High = High,
        Unit = Unit, TolerancePct = TolerancePct, Passes = Passes, HoldPoint = HoldPoint, Witnessed = Witnessed, PartId = part, Minutes = Minutes,
        Tool = Tool, Document = Document, Edition = Edition, Page = Page, DocumentId = DocumentId is { } id ? new DocumentId(id) : null,
        Pictures = [.. Pictures.Select(p => p.ToString())],
    };

    /// <summary>What would stand against releasing these steps, numbered by their places; see <see cref="ReleaseChecks"/>.</summary>
    public static IReadOnlyList<ReleaseFinding> Findings(IReadOnlyList<StepDraft> steps)
    {
        var models = steps.Select(s => s.Model).OfType<string>().Distinct().Select((code, n) => (code, Id: new PumpModelId(n + 1))).ToDictionary(m => m.code, m => m.Id);
        return ReleaseChecks.Of(
            [.. steps.Select((s, n) => s.At(n + 1, default, s.Model is { } model ? models[model] : null, s.Part is null ? null : new PartId(1)))],
            models.ToDictionary(m => m.Value, m => m.Key));
    }

    /// <summary>
    /// What every procedure needs, so that a new one is begun with it: the energy steps in their order (29 CFR 1910.147(d), (e)),
    /// each with its lead word and nothing behind it yet, and the function test.
    /// </summary>
    public static IReadOnlyList<StepDraft> Begun { get; } =
    [
        .. Led(PartOf.Preliminary), new() { PartOf = PartOf.Main }, .. Led(PartOf.CloseUp), new() { PartOf = PartOf.CloseUp, Kind = StepKind.FunctionTest },
    ];

    static IEnumerable<StepDraft> Led(PartOf part) => EnergyPoints.Of(part).Select(point => new StepDraft
    {
        PartOf = part, Text = $"{Word.Of(point)}: ", Kind = point is EnergyPoint.HazardsKnown or EnergyPoint.AreaClear ? StepKind.Check : StepKind.Instruction,
    });
}
