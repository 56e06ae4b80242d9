using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;

namespace KitOrders.Web.Tests.Planner;

/// <summary>Orders as pages get them, with what a test does not speak of filled in.</summary>
static class Sheets
{
    public static readonly DateOnly Today = new(2027, 3, 2);

    public static DemandView Line(string part, decimal required = 1, decimal picked = 0, decimal shortBy = 0, decimal incoming = 0, DateOnly? promised = null,
        LineSource source = LineSource.InTheBox, bool spare = false, string? releasedBy = null, int? lead = 8, decimal? cost = 5) => new()
        {
            Part = part, Description = $"Thing {part}", Unit = Unit.Each, Source = source, Gross = required, Built = 0, Required = required,
            Picked = picked, Reserved = required - picked - shortBy, Short = shortBy, Incoming = incoming, PromisedOn = promised,
            PromiseReference = promised is null ? null : "B-1", LeadTimeDays = lead, Spare = spare, UnitCost = cost, ReleasedBy = releasedBy, ReleaseReason = null,
            Origins = [], Reservations = [],
        };

    public static CheckView Check(CheckResult result, string? answer = null, bool answerable = true) =>
        new(Rules.Kits.Check.Ports, "K", result, "Because.", new Dictionary<string, decimal>(), false, answerable, null, answer, null, null, null);

    public static OrderView Order(OrderState state, IReadOnlyList<DemandView>? demand = null, IReadOnlyList<CheckView>? checks = null, string? paused = null) => new()
    {
        Number = "10482", State = state, Pump = "GP-204", Serial = "30-77142", Model = "M30", Job = "CONV", JobDescription = "Convert control", Procedure = "P-118",
        ProcedureRevision = 4, Score = 56, Criticality = 8, WorkClass = 7, NeededBy = Today.AddDays(14), PlannedFitOn = null, FitOn = Today.AddDays(14), Breakdown = false,
        Paused = paused, StagedPlace = null, CancelReason = null, PumpIs = null, EstimatedHours = 3.5m, DowntimeHours = null, StrokeCount = null,
        MadeAt = default, OpenedAt = null, StartedAt = null, FinishedAt = null, ClosedAt = null, Version = 1, Kits = [], Demand = demand ?? [], Steps = [],
        Suitability = checks ?? [], Cost = new CostView("EUR", new CostSum(0, 0), new CostSum(0, 0)), Permits = [], Hours = [], Removed = [], History = [],
    };

    public static OrderSheetView Of(OrderView order, OrderDay? day = null, IReadOnlyList<WaysOut>? ways = null) => new(order,
        new PumpNowAndAfter("Hall", "M30", null, Control.PilotAir, true, null, null, null, [], "M30-S", Control.Solenoid, "24 V DC"), day, ways ?? [], Today, 1, 1);

    public static AwaitedPart Awaited(string part, DateOnly? on, decimal uncovered = 0, bool binds = false, bool late = false) =>
        new(part, $"Thing {part}", LineSource.InTheBox, on, uncovered, late, binds);
}
