using System.Globalization;
using KitOrders.Rules;
using KitOrders.Rules.Procedures;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner.Procedures;

/// <summary>A picture with the caption as it is typed.</summary>
public sealed class PictureFields(string sha256, string caption)
{
    public string Sha256 { get; } = sha256;

    public string Caption { get; set; } = caption;
}

/// <summary>
/// A step as it is typed: numbers stay the text that was written, so that nothing is lost when it cannot be read, and the
/// sentence stands at the field.
/// </summary>
public sealed class StepFields
{
    readonly Dictionary<string, string> unreadable = [];
    readonly Dictionary<string, string> refused = [];

    /// <summary>What the page knows it by, wherever it stands.</summary>
    public string Key { get; } = Guid.NewGuid().ToString("N");

    public PartOf PartOf { get; set; }
    public StepKind Kind { get; set; }
    public string Text { get; set; } = "";
    public string? Model { get; set; }
    public SignalWord? SignalWord { get; set; }
    public string Hazard { get; set; } = "";
    public string Consequence { get; set; } = "";
    public string Avoid { get; set; } = "";
    public string Joint { get; set; } = "";
    public string Bolts { get; set; } = "";
    public BoltSequence? Sequence { get; set; }
    public string Target { get; set; } = "";
    public string Low { get; set; } = "";
    public string High { get; set; } = "";
    public string Unit { get; set; } = "";
    public string TolerancePct { get; set; } = "";
    public string Passes { get; set; } = "";
    public bool HoldPoint { get; set; }
    public bool Witnessed { get; set; }
    public string Part { get; set; } = "";
    public string Minutes { get; set; } = "";
    public string Tool { get; set; } = "";
    public string Document { get; set; } = "";
    public string Edition { get; set; } = "";
    public string Page { get; set; } = "";
    public int? DocumentId { get; set; }
    public List<PictureFields> Pictures { get; private init; } = [];

    /// <summary>A joint is shown for torque steps, and wherever one is written.</summary>
    public bool HasJoint => Kind == StepKind.Torque || $"{Joint}{Bolts}{Passes}{TolerancePct}".Length > 0 || Sequence is not null;

    /// <summary>A measure is shown where one is taken, and wherever one is written.</summary>
    public bool HasMeasure => HasJoint || Kind is StepKind.Reading or StepKind.FunctionTest || $"{Target}{Low}{High}{Unit}".Length > 0;

    public bool IsWrong => unreadable.Count + refused.Count > 0;

    /// <summary>Why the value of this field cannot be kept; null when it can.</summary>
    public string? Wrong(string field) => unreadable.GetValueOrDefault(field) ?? refused.GetValueOrDefault(field);

    public void Refuse(string field, string sentence) => refused[field] = sentence;

    /// <summary>Something was typed: what the record said of the step before is no longer about it.</summary>
    public void Touched() => refused.Clear();

    public static StepFields Of(StepDraft s) => new()
    {
        PartOf = s.PartOf, Kind = s.Kind, Text = s.Text, Model = s.Model, SignalWord = s.SignalWord, Hazard = s.Hazard ?? "", Consequence = s.Consequence ?? "",
        Avoid = s.Avoid ?? "", Joint = s.Joint ?? "", Bolts = Typed(s.Bolts), Sequence = s.Sequence, Target = Typed(s.Target), Low = Typed(s.Low), High = Typed(s.High),
        Unit = s.Unit ?? "", TolerancePct = Typed(s.TolerancePct), Passes = Typed(s.Passes), HoldPoint = s.HoldPoint, Witnessed = s.Witnessed, Part = s.Part ?? "",
        Minutes = Typed(s.Minutes), Tool = s.Tool ?? "", Document = s.Document ?? "", Edition = s.Edition ?? "", Page = s.Page ?? "", DocumentId = s.DocumentId,
        Pictures = [.. s.Pictures.Select(p => new PictureFields(p.Sha256, p.Caption))],
    };

    /// <summary>What is typed, as a step; a number that cannot be read is left out and said at its field.</summary>
    public StepDraft Read()
    {
        unreadable.Clear();
        var step = new StepDraft
        {
            PartOf = PartOf, Kind = Kind, Text = Text, Model = Model, SignalWord = SignalWord, Hazard = Said(Hazard), Consequence = Said(Consequence), Avoid = Said(Avoid),
            Joint = Said(Joint), Bolts = Whole("bolts", Bolts), Sequence = Sequence, Target = Number("target", Target), Low = Number("low", Low), High = Number("high", High),
            Unit = Said(Unit), TolerancePct = Number("tolerancePct", TolerancePct), Passes = Whole("passes", Passes), HoldPoint = HoldPoint, Witnessed = Witnessed,
            Part = Said(Part), Minutes = Number("minutes", Minutes), Tool = Said(Tool), Document = Said(Document), Edition = Said(Edition), Page = Said(Page),
            DocumentId = DocumentId, Pictures = [.. Pictures.Select(p => new StepPicture(p.Sha256, p.Caption))],
        };
        foreach (var fault in StepFaults.Of(step))
            unreadable.TryAdd(fault.Field, fault.Sentence);
        return step;
    }

    decimal? Number(string field, string text)
    {
        if (string.IsNullOrWhiteSpace(text))
            return null;
        var read = Amounts.Read(text, field);
        if (read.IsDone)
            return read.Value;
        unreadable[field] = read.Refusal!.Sentence;
        return null;
    }

    int? Whole(string field, string text)
    {
        if (string.IsNullOrWhiteSpace(text))
            return null;
        if (int.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var number))
            return number;
        unreadable[field] = $"\"{text.Trim()}\" is no whole number. Write it like 6.";
        return null;
    }

    static string? Said(string text) => string.IsNullOrWhiteSpace(text) ? null : text;

    static string Typed(decimal? value) => value?.ToString("0.####", CultureInfo.InvariantCulture) ?? "";
}
