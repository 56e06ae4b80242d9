using System.Globalization;
using KitOrders.Operations.People;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>
/// One row of the file <c>happenings</c>. Its columns mean, by operation: for steps the reference is a step (<c>9</c>, <c>1-8</c>,
/// <c>13/1</c> for a piece, <c>20/1/4</c> for pass and bolt); for stock the reference is a part, the value a quantity, the unit a lot, the note a bin and then a
/// reason; at finishing the reference is the stroke count, the value hours and the unit hours of downtime.
/// </summary>
sealed class Happening(KitOrdersDb db, Desk desk, IReadOnlyDictionary<string, Actor> people, CsvRow row, CancellationToken ct)
{
    const string Witness = "witness:";

    public static readonly IReadOnlyDictionary<string, Func<Happening, Task<Refusal?>>> Operations = new Dictionary<string, Func<Happening, Task<Refusal?>>>
    {
        ["open"] = h => Of(new OpenOrder(h.desk).Run(h.Call, h.Order, h.ct)),
        ["pick"] = h => h.Pick(),
        ["stage"] = h => h.Stage(),
        ["start"] = h => Of(new StartOrder(h.desk).Run(h.Call, h.Order, h.Reference is { } permit ? [new PermitInput(h.Note ?? "permit to work", permit)] : null, h.ct)),
        ["pause"] = h => Of(new PauseOrder(h.desk).Run(h.Call, h.Order, h.Note ?? "", h.ct)),
        ["resume"] = h => h.Resume(),
        ["record"] = h => h.Record(StepOutcome.AsSpecified),
        ["not-as-specified"] = h => h.Record(StepOutcome.NotAsSpecified),
        ["not-applicable"] = h => h.Record(StepOutcome.NotApplicable),
        ["decide"] = h => h.Record(StepOutcome.AsSpecified),
        ["release"] = h => h.Release(),
        ["accept"] = h => Of(new AcceptDeviation(h.desk).Run(h.Call, h.Order, h.Steps().FirstOrDefault(), h.Note ?? "", h.ct)),
        ["answer"] = h => h.Answer(),
        ["finish"] = h => Of(new FinishOrder(h.desk).Run(h.Call, h.Order, [new HoursInput(h.Call.Actor.Name, h.Number(row => row["value"]) ?? 0)],
            h.Number(row => row["unit"]), (long?)h.Number(row => row["reference"]), h.ct)),
        ["close"] = h => Of(new CloseOrder(h.desk).Run(h.Call, h.Order, null, null, h.ct)),
        ["cancel"] = h => Of(new CancelOrder(h.desk).Run(h.Call, h.Order, h.Note ?? "", h.Row.Word<PumpAfterCancel>("reference"), h.ct)),
        ["note"] = h => Of(new NoteOrder(h.desk).Run(h.Call, h.Order, h.Note ?? "", h.ct)),
        ["receive"] = h => Of(new ReceiveLot(h.desk).Run(h.Call, new Receipt(h.Reference ?? "", h.Quantity, h.Bin) { Lot = h.Lot }, h.ct)),
        ["count"] = h => Of(new CountBin(h.desk).Run(h.Call, new Count(h.Reference ?? "", h.Bin, h.Lot ?? "", h.Quantity) { Accept = true, Reason = h.Reason }, h.ct)),
        ["scrap"] = h => Of(new ScrapStock(h.desk).Run(h.Call, new Scrap(h.Reference ?? "", h.Bin, h.Lot ?? "", h.Quantity, h.Reason ?? "Not fit for use"), h.ct)),
    };

    readonly Desk desk = desk;
    readonly CancellationToken ct = ct;

    CsvRow Row => row;
    Call Call => new(people[row["person"]!]);
    string Order => row["order"] ?? "";
    string? Reference => row["reference"];
    string? Note => row.Text("note", 1_000, lines: true);
    string? Lot => row["unit"];
    string Bin => Note?.Split(' ', 2)[0] ?? "";
    string? Reason => Note?.Split(' ', 2) is [_, var reason] ? reason : null;
    decimal Quantity => row.Amount("value", Bounds.NotNegative) ?? 0;

    public static string? WitnessOf(string? note) =>
        note?.StartsWith(Witness, StringComparison.Ordinal) == true ? note[Witness.Length..].Trim() : null;

    static async Task<Refusal?> Of<T>(Task<Outcome<T>> run) => (await run).Refusal;

    static Refusal Unreadable(string sentence) => Refusal.Invalid("happening-unreadable", sentence);

    decimal? Number(Func<CsvRow, string?> cell) =>
        decimal.TryParse(cell(row), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) ? number : null;

    /// <summary>Everything that is still held for the order, or what is held of the part that the reference names.</summary>
    async Task<Refusal?> Pick()
    {
        var held = await (from r in db.Reservations
                          join o in db.WorkOrders on r.OrderId equals o.Id
                          join p in db.Parts on r.PartId equals p.Id
                          where o.Number == Order && r.Held > 0 && (Reference == null || p.Number == Reference)
                          select new { r.Id, r.Held }).AsNoTracking().ToListAsync(ct);
        return await Of(new PickLines(desk).Run(Call, Order, held.ConvertAll(r => new PickInput(r.Id.Value, r.Held)), ct));
    }

    /// <summary>The note is the reason for which lines that are short are let go.</summary>
    async Task<Refusal?> Stage()
    {
        var release = Note is not { } reason ? null : await (
            from line in db.DemandLines
            join o in db.WorkOrders on line.OrderId equals o.Id
            join p in db.Parts on line.PartId equals p.Id
            where o.Number == Order && line.Short > 0 && line.ReleasedById == null
            select new LineRelease(p.Number, reason)).Distinct().ToListAsync(ct);
        return await Of(new StageOrder(desk).Run(Call, Order, Reference, release, ct));
    }

    async Task<Refusal?> Resume() =>
        await Of(new ResumeOrder(desk).Run(Call, Order, ct)) ?? (Note is { } note ? await Of(new NoteOrder(desk).Run(Call, Order, note, ct)) : null);

    async Task<Refusal?> Record(StepOutcome outcome)
    {
        var named = Steps();
        var steps = await (from step in db.OrderSteps
                           join o in db.WorkOrders on step.OrderId equals o.Id
                           where o.Number == Order && named.Contains(step.Number)
                           orderby step.Number
                           select step).AsNoTracking().ToListAsync(ct);
        if (steps.Count == 0)
            return Unreadable($"\"{Reference}\" is no step of order {Order}. Write a step, several as 1-8, a piece of a step as 13/1, pass and bolt as 20/1/4.");
        var witness = WitnessOf(Note) is { } name ? people.GetValueOrDefault(name) : null;
        if (WitnessOf(Note) is { } missing && witness is null)
            return Unreadable($"There is no person {missing} to witness the step.");
        var decides = row["operation"] == "decide";
        var value = decides ? null : row.Amount("value", Bounds.Any);
        var input = new StepInput(outcome)
        {
            Value = value,
            Unit = row["unit"],
            Decision = decides ? row.Word<CarryOverDecision>("value") : null,
            Note = witness is null ? Note : null,
            Witness = witness is null ? null : new WitnessInput(witness.Name, null, value),
        };
        var record = new RecordStep(desk, new CheckPin(desk));
        foreach (var step in steps)
            foreach (var pass in Passes(step, Placed(step, input)))
                if (await Of(record.Record(Call, Order, step.Number, pass, witness, ct)) is { } refusal)
                    return refusal;
        return null;
    }

    /// <summary>What stands after the step: of a kept part the piece, of a joint the pass and the bolt.</summary>
    StepInput Placed(OrderStep step, StepInput input)
    {
        var after = Reference!.Split('/').Skip(1).Select(n => int.TryParse(n, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : (int?)null).ToList();
        return step.Kind == StepKind.Torque
            ? input with { Pass = after.ElementAtOrDefault(0), Bolt = after.ElementAtOrDefault(1) }
            : input with { Piece = after.ElementAtOrDefault(0) };
    }

    /// <summary>A joint of several passes is recorded pass by pass where the row names none; the value given is that of the last.</summary>
    static IEnumerable<StepInput> Passes(OrderStep step, StepInput input)
    {
        var passes = step.Kind == StepKind.Torque && input is { Outcome: StepOutcome.AsSpecified, Pass: null } ? StepState.PassesOf(step) : 1;
        if (passes == 1)
            return [input];
        return Enumerable.Range(1, passes).Select(pass => pass == passes
            ? input with { Pass = pass }
            : input with { Pass = pass, Value = null, Witness = input.Witness is { } witness ? witness with { Value = null } : null });
    }

    /// <summary>The note names who releases, where it is somebody else.</summary>
    async Task<Refusal?> Release() => people.GetValueOrDefault(Note ?? Call.Actor.Name) is { } by
        ? await Of(new ReleaseHold(desk, new CheckPin(desk)).Release(Call, Order, Steps().FirstOrDefault(), by, ct))
        : Unreadable($"There is no person {Note} to release the step.");

    async Task<Refusal?> Answer() => (Reference ?? "").Split(':', 2) is [var word, ..] words && Word.TryRead<Check>(word, out var check)
        ? await Of(new AnswerCheck(desk).Run(Call, Order, check, words.Length == 2 ? words[1] : null, row["value"] ?? "passed", Note, ct))
        : Unreadable($"\"{Reference}\" names no check. Write check:kit, such as ports:LK-20.");

    List<int> Steps()
    {
        var ends = (Reference ?? "").Split('/')[0].Split('-');
        if (ends.Length > 2 || !ends.All(e => int.TryParse(e, NumberStyles.None, CultureInfo.InvariantCulture, out _)))
            return [];
        var (first, last) = (int.Parse(ends[0], CultureInfo.InvariantCulture), int.Parse(ends[^1], CultureInfo.InvariantCulture));
        return last < first || last - first > 500 ? [] : [.. Enumerable.Range(first, last - first + 1)];
    }
}
