using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <param name="On">The day the meter was read; today when left out.</param>
/// <param name="MeterReplaced">The meter was replaced or set back since the last reading; then the note says why.</param>
public sealed record StrokesInput(long Strokes, DateOnly? On = null, bool MeterReplaced = false, string? Note = null);

/// <summary>A person reads the stroke meter of the pump at a position, or of a pump in the store by its serial number.</summary>
public sealed class RecordStrokes(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string tag, StrokesInput input, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Technician | Roles.Planner, "record-strokes", async work =>
        {
            var found = await PumpsAt.Locked(work, tag);
            if (found.Refusal is { } unknown)
                return unknown;
            var pump = found.Value;
            var last = await work.Db.StrokeReadings.Where(r => r.PumpId == pump.Id).OrderByDescending(r => r.ReadOn).ThenByDescending(r => r.Id)
                .Select(r => new MeterReading(r.ReadOn, r.Strokes)).Take(1).ToListAsync(ct);
            var on = input.On ?? work.Today;
            // A count without a reading behind it came with an import: it holds as well, without a day.
            MeterReading? before = last is [var one] ? one : pump.StrokeCount is { } count ? new MeterReading(null, count) : null;
            if (StrokeMeter.MayRead(before, input.Strokes, on, work.Today, input.MeterReplaced, input.Note) is { } refusal)
                return refusal;
            var note = string.IsNullOrWhiteSpace(input.Note) ? null : input.Note.Trim();
            work.Db.StrokeReadings.Add(new StrokeReading
            {
                PumpId = pump.Id, ReadOn = on, Strokes = input.Strokes, MeterReplaced = input.MeterReplaced, Note = note, ReadById = work.Actor.Person,
            });
            pump.StrokeCount = input.Strokes;
            pump.Touch();
            work.Audit($"pump {pump.Serial}", FormattableString.Invariant($"Read {input.Strokes:N0} strokes on {on:yyyy-MM-dd}{(input.MeterReplaced ? ", the meter was replaced" : "")}{(note is null ? "" : $": {note}")}"));
            work.Changed("pumps");
            return pump.Serial;
        }, ct);
}
