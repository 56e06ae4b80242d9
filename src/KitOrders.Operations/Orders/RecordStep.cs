using System.Globalization;
using KitOrders.Operations.People;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>A second person who stands by, with the reading they took themselves before seeing the first.</summary>
public sealed record WitnessInput(string Person, string? Pin = null, decimal? Value = null);

/// <summary>What somebody records of a step.</summary>
public sealed record StepInput(StepOutcome Outcome)
{
    public decimal? Value { get; init; }
    public string? Unit { get; init; }
    public int? Pass { get; init; }
    public int? Bolt { get; init; }
    public int? Piece { get; init; }
    public CarryOverDecision? Decision { get; init; }
    public string? Tool { get; init; }
    public string? Note { get; init; }

    /// <summary>When it was done, by the clock of the device; now when not given.</summary>
    public DateTimeOffset? RecordedAt { get; init; }

    public WitnessInput? Witness { get; init; }

    /// <summary>The result that this one corrects.</summary>
    public long? Corrects { get; init; }
}

/// <summary>Appends a result to a step of an order underway, if it is the step's turn and the value agrees.</summary>
public sealed class RecordStep(Desk desk, CheckPin pins)
{
    public const int NoteMaxLength = 2_000;

    public async Task<Outcome<string>> Run(Call call, string number, int step, StepInput input, CancellationToken ct)
    {
        if (input.Witness is not { } witness)
            return await Record(call, number, step, input, null, ct);
        if (string.Equals(witness.Person.Trim(), call.Actor.Name, StringComparison.OrdinalIgnoreCase))
            return Refusal.Field("witness", "witness-same-person", $"Step {step} needs a second person; {call.Actor.Name} cannot witness their own work.");
        var known = await pins.Run(call, witness.Person, witness.Pin, ct);
        return known.Refusal is { } refusal ? refusal : await Record(call, number, step, input, known.Value, ct);
    }

    /// <summary>As <see cref="Run"/>, once the second person is known.</summary>
    internal Task<Outcome<string>> Record(Call call, string number, int step, StepInput input, Actor? witness, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Technician, "record-step", async work =>
        {
            if (input.Note?.Length > NoteMaxLength)
                return Refusal.Field("note", "note-too-long", $"A note has at most {NoteMaxLength} characters.");
            if (input.Decision == CarryOverDecision.Replace)
                await LockCarriedPart(work, number, step);
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            var order = found.Value;
            if (order.State != OrderState.Underway)
                return Refusal.Conflict("order-state", $"Order {number} is {Word.Of(order.State)}. Steps are recorded while it is underway.");
            var steps = await work.Db.OrderSteps.AsNoTracking().Where(s => s.OrderId == order.Id).ToListAsync(ct);
            var results = (await work.Db.StepResults.AsNoTracking().Where(r => r.OrderId == order.Id).ToListAsync(ct)).ToLookup(r => r.OrderStepId);
            var facts = steps.OrderBy(s => s.Number).Select(s => StepState.FactsOf(s, [.. results[s.Id]])).ToList();
            if (StepOrder.MayRecord(facts, new RecordAttempt(step.ToString(CultureInfo.InvariantCulture), input.Outcome, input.Note,
                    work.Actor.Name, witness?.Name, input.Witness?.Value is not null)) is { } notNow)
                return notNow;

            var target = steps.Single(s => s.Number == step);
            var state = StepState.Of(target, [.. results[target.Id]]);
            if (state.Progress.MayAppend(state.Shape, Attempt(input)) is { } no)
                return no;
            var value = StepValues.Read(target, input);
            if (value.Refusal is { } badValue)
                return badValue;
            if (WitnessDisagrees(target, input) is { } disagrees)
                return disagrees;
            if (await StepValues.ToolMayBeUsed(work, target, input) is { } badTool)
                return badTool;

            work.Db.StepResults.Add(new StepResult
            {
                OrderId = order.Id, OrderStepId = target.Id, Outcome = input.Outcome,
                Value = value.Value.Value, Unit = value.Value.Unit, Pass = input.Pass, Bolt = input.Bolt,
                Piece = target.Kind == StepKind.CarryOver ? input.Piece ?? NextPiece(state) : null,
                Decision = target.Kind == StepKind.CarryOver ? input.Decision : null,
                Tool = input.Tool ?? (target.Kind is StepKind.Torque or StepKind.Reading ? target.Tool : null), Note = input.Note,
                // The device's clock is a claim; it cannot lie in the future.
                RecordedAt = input.RecordedAt is { } at && at < work.Now ? at.ToUniversalTime() : work.Now,
                ReceivedAt = work.Now, PersonId = work.Actor.Person, WitnessId = witness?.Person, WitnessValue = input.Witness?.Value,
                CorrectsId = input.Corrects, Device = work.Actor.Device,
            });
            order.Touch();
            if (order.CampaignId is not null && target is { Kind: StepKind.CarryOver, PartId: { } kept })
            {
                await work.Db.SaveChangesAsync(ct);
                await CampaignSpares.Judged(work, order, kept, step);
            }
            else if (input is { Decision: CarryOverDecision.Replace, Outcome: not StepOutcome.NotApplicable })
            {
                await work.Db.SaveChangesAsync(ct);
                await TakeSpare(work, order, target);
            }
            work.Audit($"order {number}, step {step}", SentenceOf(target, input, value.Value), order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);

    static RecordedResult Attempt(StepInput input) => new("new", input.Outcome)
    {
        Corrects = input.Corrects?.ToString(CultureInfo.InvariantCulture), Pass = input.Pass, Bolt = input.Bolt,
        Piece = input.Piece, Decision = input.Decision,
    };

    static int NextPiece(StepState state) => Enumerable.Range(1, state.Shape.Pieces)
        .FirstOrDefault(p => state.Progress.Standing.All(r => r.Piece != p), state.Shape.Pieces);

    /// <summary>The second reading is held against the same limits; two people who read differently have not finished.</summary>
    static Refusal? WitnessDisagrees(OrderStep step, StepInput input) =>
        step is { Witnessed: true, Kind: StepKind.Reading } && input is { Outcome: StepOutcome.AsSpecified, Witness.Value: { } second }
            && !new ReadingLimits(step.Low, step.High, step.Unit).Holds(second)
            ? Refusal.Field("witness", "witness-outside-limits", $"The second reading, {second:0.####} {step.Unit}, is outside the limits. Look again together, or record the step as not as specified.")
            : null;

    static async Task LockCarriedPart(Work work, string number, int step)
    {
        var part = await (from o in work.Db.WorkOrders
                          join s in work.Db.OrderSteps on o.Id equals s.OrderId
                          where o.Number == number && s.Number == step
                          select s.PartId).SingleOrDefaultAsync(work.Ct);
        if (part is { } known)
            await new StockLedger(work).Lock([known]);
    }

    /// <summary>
    /// A rejected part takes a spare. Where fewer spares are demanded than pieces rejected, the demand grows, stock is held at
    /// once if there is any, and work is marked paused until a spare is in hand.
    /// </summary>
    static async Task TakeSpare(Work work, WorkOrder order, OrderStep step)
    {
        if (step.PartId is not { } part)
            return;
        var results = await work.Db.StepResults.AsNoTracking().Where(r => r.OrderStepId == step.Id).ToListAsync(work.Ct);
        var rejected = StepState.Of(step, results).Progress.Standing.Count(r => r.Decision == CarryOverDecision.Replace);
        var line = await work.Db.DemandLines.AsNoTracking().SingleOrDefaultAsync(
            l => l.OrderId == order.Id && l.PartId == part && l.Source == LineSource.CarriedOver, work.Ct);
        if (line is null)
        {
            var costs = await UnitCosts.Of(work.Db, [part], work.Ct);
            work.Db.DemandLines.Add(new DemandLine
            {
                OrderId = order.Id, PartId = part, Source = LineSource.CarriedOver, Gross = rejected, Built = 0, Required = rejected,
                Short = rejected, Spare = true, UnitCost = costs.GetValueOrDefault(part),
            });
            await work.Db.SaveChangesAsync(work.Ct);
        }
        // What stands in for the spare counts as the spare.
        var standIns = line is null ? [] : await (from r in work.Db.Replacements
                                                  join other in work.Db.DemandLines on r.ByLineId equals other.Id
                                                  where r.LineId == line.Id
                                                  select new { r.Quantity, other.Picked }).ToListAsync(work.Ct);
        if (line is not null && rejected - line.Required - standIns.Sum(s => s.Quantity) is > 0 and var more)
        {
            await work.Db.DemandLines.Where(l => l.Id == line.Id).ExecuteUpdateAsync(set => set
                .SetProperty(l => l.Gross, l => l.Gross + more).SetProperty(l => l.Required, l => l.Required + more)
                .SetProperty(l => l.Short, l => l.Short + more)
                .SetProperty(l => l.ReleasedById, (PersonId?)null).SetProperty(l => l.ReleaseReason, (string?)null), work.Ct);
        }
        await CoverShortages.Run(work, [part], $"free stock, for step {step.Number} of order {order.Number}");
        if (rejected > (line?.Picked ?? 0) + standIns.Sum(s => Math.Min(s.Quantity, s.Picked)))
        {
            var partNumber = await work.Db.Parts.Where(p => p.Id == part).Select(p => p.Number).SingleAsync(work.Ct);
            order.Pause($"Step {step.Number}: a spare of {partNumber} is needed and not in hand.");
        }
    }

    static string SentenceOf(OrderStep step, StepInput input, StepValues.Kept kept)
    {
        var where = (input.Pass, input.Bolt, input.Piece) switch
        {
            ({ } pass, { } bolt, _) => $", pass {pass}, bolt {bolt}",
            ({ } pass, null, _) => $", pass {pass}",
            (_, _, { } piece) => $", piece {piece}",
            _ => "",
        };
        var what = input.Decision is { } decision ? Word.Of(decision)
            : kept.Value is { } value ? string.Create(CultureInfo.InvariantCulture, $"{value:0.####} {kept.Unit}").TrimEnd() : "";
        var outcome = input.Outcome switch
        {
            StepOutcome.AsSpecified => "as specified",
            StepOutcome.NotAsSpecified => "not as specified",
            _ => "not applicable",
        };
        return string.Join(", ", new[] { $"Step {step.Number}{where}: {outcome}", what, input.Note ?? "", input.Corrects is null ? "" : "a correction" }.Where(t => t.Length > 0)) + ".";
    }
}
