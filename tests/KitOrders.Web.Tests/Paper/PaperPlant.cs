using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Procedures;
using KitOrders.Web.Paper;

namespace KitOrders.Web.Tests.Paper;

/// <summary>An order, its steps and its run, to print.</summary>
static class PaperPlant
{
    static readonly DateTimeOffset noon = new(2027, 3, 2, 12, 0, 0, TimeSpan.Zero);

    public static PaperHead Head(string title, string of) => new(title, of, "Tarnholt Tile Works", noon, "T. Reyk");

    public static StepView Step(int number, PartOf part, StepKind kind, string text) => new()
    {
        Step = number, PartOf = part, Kind = kind, Text = text, SignalWord = null, Hazard = null, Consequence = null, Avoid = null, Joint = null, Bolts = null,
        Sequence = null, Target = null, Low = null, High = null, Unit = null, TolerancePct = null, Passes = null, HoldPoint = false, Witnessed = false, Part = null,
        PartDescription = null, Pieces = 1, Minutes = 5, Tool = null, Document = null, Edition = null, Page = null, Recorded = false, Deviates = false,
        ReleasedAt = null, ReleasedBy = null, AcceptedBy = null, AcceptReason = null, Results = [],
    };

    public static IReadOnlyList<StepView> Steps { get; } =
    [
        Step(1, PartOf.Preliminary, StepKind.Check, "Read the fluid card"),
        Step(2, PartOf.Preliminary, StepKind.Instruction, "Isolate the air") with { SignalWord = SignalWord.Danger, Hazard = "Stored air.", Consequence = "It can kill.", Avoid = "Lock it." },
        Step(3, PartOf.Preliminary, StepKind.Reading, "Read both gauges") with { Low = 0, High = 0, Unit = "bar", HoldPoint = true, Witnessed = true },
        Step(4, PartOf.Main, StepKind.CarryOver, "Judge the valves") with { Part = "Q-1", PartDescription = "Quick-exhaust valve", Pieces = 2 },
        Step(5, PartOf.Main, StepKind.Torque, "Tighten the cover") with
        {
            Joint = "cover", Bolts = 6, Sequence = BoltSequence.Star, Target = 10, TolerancePct = 10, Unit = "Nm", Passes = 3,
            SignalWord = SignalWord.Notice, Hazard = "One-sided pull.", Consequence = "The cover cracks.", Avoid = "Go across.",
        },
        Step(6, PartOf.CloseUp, StepKind.FunctionTest, "Run it"),
        Step(7, PartOf.CloseUp, StepKind.Photograph, "Take a picture"),
    ];

    public static OrderView Order { get; } = new()
    {
        Number = "10482", State = OrderState.Staged, Pump = "GP-204", Serial = "S-9", Model = "M30", Job = "CONV", JobDescription = "Convert control", Procedure = "PR", ProcedureRevision = 2,
        Score = 40, Criticality = 8, WorkClass = 5, NeededBy = new(2027, 3, 15), PlannedFitOn = null, FitOn = new(2027, 3, 15), Breakdown = false, Paused = null, StagedPlace = "S-2",
        CancelReason = null, PumpIs = null, EstimatedHours = 3.5m, DowntimeHours = null, StrokeCount = null, MadeAt = noon, OpenedAt = noon, StartedAt = null, FinishedAt = null,
        ClosedAt = null, Version = 1, Kits = [new("K", "Conversion kit", 3, 1, null)], Demand = [Line("V-1", 2, 2, 0, 0), Line("P-1", 4, 3, 0, 1)], Steps = Steps,
        Suitability = [new(Check.Area, "K", CheckResult.Passed, "Suits.", new Dictionary<string, decimal>(), false, false, Suitability.BondingCaution, null, null, null, null)],
        Cost = new("EUR", new(null, null), new(null, null)), Permits = [], Hours = [], Removed = [], History = [],
    };

    static DemandView Line(string part, decimal required, decimal picked, decimal reserved, decimal lacking) => new()
    {
        Part = part, Description = $"The {part}", Unit = Unit.Each, Source = LineSource.InTheBox, Gross = required, Built = 0, Required = required, Picked = picked, Reserved = reserved,
        Short = lacking, LeadTimeDays = 5, Spare = false, UnitCost = null, ReleasedBy = null, ReleaseReason = null, Origins = [],
        Reservations = [new(1, $"L-{part}", "01-A-01", 1, null, reserved, picked, 0, 0, 0)],
    };

    public static PickRunView Run(int lines, string part = "30-22") => new(
        [new("10482", "A", "GP-204", OrderState.Open, new(2027, 3, 15), ["1 × 30-11"], null), new("10486", "B", "GP-207", OrderState.Open, new(2027, 3, 17), [], null)],
        [.. Enumerable.Range(1, lines).Select(n => new RunLine($"01-A-{n:00}", n, $"{part}{n:00}", $"Thing {n}", Unit.Each, null, $"26-{n:0000}", null, 9, 1, [],
            [new("10482", "A", n, 1, 0), new("10486", "B", 100 + n, 2, 0)]))], []);
}
