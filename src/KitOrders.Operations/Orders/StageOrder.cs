using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>A line a planner lets the order go on without, by name and reason.</summary>
public sealed record LineRelease(string Part, string Reason);

/// <summary>The complete kit waits at a place. Every held part must be picked; a short line needs a planner's release, line by line.</summary>
public sealed class StageOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, string? place, IReadOnlyList<LineRelease>? release, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Storeroom | Roles.Planner, "stage-order", async work =>
        {
            if (place?.Length > 60)
                return Refusal.Field("place", "place-too-long", "A staging place has at most 60 characters.");
            // With the parts locked nothing is covered between the look at what is short and the decision to go without it.
            var found = await HeldParts.Lock(work, number);
            if (found.Refusal is { } refused)
                return refused;
            var (_, order) = found.Value;
            if (order.Stage(work.Now, string.IsNullOrWhiteSpace(place) ? null : place.Trim()) is { } wrongState)
                return wrongState;
            var lines = await (from line in work.Db.DemandLines.AsNoTracking()
                               join part in work.Db.Parts on line.PartId equals part.Id
                               where line.OrderId == order.Id && (line.Reserved > 0 || line.Short > 0)
                               orderby part.Number, line.Id
                               select new { Line = line, part.Number }).ToListAsync(ct);
            if (lines.Where(l => l.Line.Reserved > 0).Select(l => l.Number).Distinct().ToList() is { Count: > 0 } unpicked)
                return Refusal.Conflict("lines-not-picked", $"{unpicked.Count} parts of order {number} are still on the shelf: {string.Join(", ", unpicked.Take(8))}. Pick them first.");
            var unreleased = lines.Where(l => l.Line.Short > 0 && l.Line.ReleasedById is null).ToList();
            var reasons = (release ?? []).GroupBy(r => r.Part).ToDictionary(r => r.Key, r => r.First().Reason);
            if (reasons.Count > 0 && !work.Actor.Holds(Roles.Planner))
                return Refusal.NotAllowed("release-needs-planner", $"{work.Actor.Name} may not release short lines. A planner can, line by line with a reason.");
            if (reasons.Where(r => string.IsNullOrWhiteSpace(r.Value)).Select(r => r.Key).FirstOrDefault() is { } bare)
                return Refusal.Field("release", "reason-missing", $"Say why the order may go on without {bare}.");
            if (reasons.Keys.Except(unreleased.Select(l => l.Number)).FirstOrDefault() is { } notShort)
                return Refusal.Field("release", "line-not-short", $"Part {notShort} of order {number} is not short; there is nothing to release.");
            if (unreleased.Where(l => !reasons.ContainsKey(l.Number)).Select(l => $"{l.Line.Short:0.####} × {l.Number}").ToList() is { Count: > 0 } open)
                return Refusal.Conflict("lines-short", $"Order {number} is short of {string.Join(", ", open)}. Wait for the parts, or a planner releases each line with a reason.");
            foreach (var line in unreleased)
                await work.Db.DemandLines.Where(l => l.Id == line.Line.Id).ExecuteUpdateAsync(set => set
                    .SetProperty(l => l.ReleasedById, work.Actor.Person).SetProperty(l => l.ReleaseReason, reasons[line.Number].Trim()), ct);
            var without = unreleased.Count == 0 ? "" : $" Released without {string.Join(", ", unreleased.Select(l => $"{l.Number} ({reasons[l.Number].Trim()})"))}.";
            work.Audit($"order {number}", $"Staged{(order.StagedPlace is { } at ? $" at {at}" : "")}.{without}", order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}

/// <summary>Takes a staged kit back: the order is open again, what was picked stays picked.</summary>
public sealed class UnstageOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, string reason, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Storeroom | Roles.Planner, "unstage-order", async work =>
        {
            if (string.IsNullOrWhiteSpace(reason))
                return Refusal.Field("reason", "reason-missing", "Say why the kit is not staged any more.");
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            if (found.Value.Unstage() is { } refusal)
                return refusal;
            work.Audit($"order {number}", $"Unstaged: {reason.Trim()}", found.Value.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}
