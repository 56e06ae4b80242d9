using System.Globalization;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

public sealed record HoursInput(string Person, decimal Hours);

/// <summary>The technician says that the work is done: who worked how long, how long the pump stood, what the meter reads.</summary>
public sealed class FinishOrder(Desk desk)
{
    public const decimal MostHours = 1_000;
    public const decimal MostDowntime = 100_000;

    public Task<Outcome<string>> Run(Call call, string number, IReadOnlyList<HoursInput> hours, decimal? downtimeHours, long? strokeCount, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Technician, "finish-order", async work =>
        {
            if (hours.Count == 0)
                return Refusal.Field("hours", "hours-missing", "Say who worked and for how many hours.");
            if (hours.Any(h => h.Hours is <= 0 or > MostHours))
                return Refusal.Field("hours", "hours-range", $"Hours of a person lie above 0 and up to {MostHours:0}.");
            if (downtimeHours is < 0 or > MostDowntime)
                return Refusal.Field("downtimeHours", "downtime-range", $"Downtime lies from 0 to {MostDowntime:0} hours.");
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            var order = found.Value;
            var names = hours.Select(h => h.Person).ToList();
            var people = await work.Db.People.AsNoTracking().Where(p => names.Contains(p.Name)).ToDictionaryAsync(p => p.Name, ct);
            if (names.Find(n => !people.ContainsKey(n)) is { } stranger)
                return Refusal.Field("hours", "person-unknown", $"There is no person named {stranger}. Write the name as it stands under Setup.");
            var meter = await work.Db.Pumps.Where(p => p.Id == order.PumpId).Select(p => p.StrokeCount).SingleAsync(ct);
            if (strokeCount < 0 || strokeCount < meter)
                return Refusal.Field("strokeCount", "stroke-count", strokeCount < 0 ? "A stroke count cannot be below zero."
                    : $"The meter read {meter} before; {strokeCount} is less. Read it again, or leave it out and say in a note that the meter was changed.");
            if (order.Finish(work.Now, downtimeHours, strokeCount) is { } wrongState)
                return wrongState;
            var crews = people.Values.Select(p => p.Crew).OfType<string>().ToList();
            var rates = await work.Db.Crews.AsNoTracking().Where(c => crews.Contains(c.Name)).ToDictionaryAsync(c => c.Name, c => c.HourlyRate, ct);
            foreach (var input in hours)
                work.Db.HoursWorked.Add(new HoursWorked
                {
                    OrderId = order.Id, Person = input.Person, Hours = input.Hours,
                    HourlyRate = (people[input.Person].Crew is { } crew ? rates.GetValueOrDefault(crew) : null) ?? order.HourlyRate,
                });
            work.Audit($"order {number}", string.Create(CultureInfo.InvariantCulture,
                $"Finished: {string.Join(", ", hours.Select(h => string.Create(CultureInfo.InvariantCulture, $"{h.Person} {h.Hours:0.##} h")))}{(downtimeHours is { } down ? $", pump down {down:0.##} h" : "")}{(strokeCount is { } strokes ? $", meter {strokes}" : "")}."), order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}

/// <summary>Takes finished work up again, with the reason.</summary>
public sealed class ReopenOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, string reason, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner | Roles.Technician, "reopen-order", async work =>
        {
            if (string.IsNullOrWhiteSpace(reason))
                return Refusal.Field("reason", "reason-missing", "Say why the work is taken up again.");
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            if (found.Value.Reopen() is { } refusal)
                return refusal;
            work.Audit($"order {number}", $"Reopened: {reason.Trim()}", found.Value.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}
