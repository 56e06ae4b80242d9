using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>A kit and how many of it, by its number.</summary>
public sealed record KitAsk(string Kit, decimal Quantity);

/// <summary>What a new order is to be. <c>Kits</c>, when given, replaces the job's list.</summary>
/// <param name="Pump">Tag of the position.</param>
public sealed record NewOrder(string Pump, string Job, DateOnly NeededBy, int WorkClass)
{
    public DateOnly? PlannedFitOn { get; init; }

    public IReadOnlyList<KitAsk>? Kits { get; init; }

    /// <summary>A number of the plant's own; without it the next one is given.</summary>
    public string? Number { get; init; }

    public bool Breakdown { get; init; }

    /// <summary>The campaign that the order is made for.</summary>
    internal CampaignId? Campaign { get; init; }
}

/// <summary>Makes a draft: nothing is held yet. Dates in the past are taken as late.</summary>
public sealed class CreateOrder(Desk desk)
{
    public const decimal MostKits = 9_999;

    public Task<Outcome<string>> Run(Call call, NewOrder wanted, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "create-order", async work =>
        {
            if (Wrong(wanted) is { } refusal)
                return refusal;
            var position = await work.Db.Positions.AsNoTracking().SingleOrDefaultAsync(p => p.Tag == wanted.Pump, ct);
            var pump = position is null ? null : await PumpAt(work, position.Id) ?? await PumpAt(work, position.Id);
            if (position is null || pump is null)
                return Refusal.Field("pump", "pump-unknown", position is null
                    ? $"There is no position with the tag {wanted.Pump}. Import or correct it first."
                    : $"No pump stands at {wanted.Pump} now. Record which pump stands there first.");
            var job = await work.Db.Jobs.AsNoTracking().Include(j => j.Kits).SingleOrDefaultAsync(j => j.Code == wanted.Job, ct);
            if (job is null)
                return Refusal.Field("job", "job-unknown", $"There is no job {wanted.Job}. Choose one of the jobs under Kits, or import it first.");
            var kits = await KitsOf(work, wanted, job);
            if (kits.Refusal is { } noKits)
                return noKits;
            var number = wanted.Number ?? await NextNumber(work);
            if (await work.Db.WorkOrders.AnyAsync(o => o.Number == number, ct)
                || (number.StartsWith(Campaign.NumberBegins, StringComparison.OrdinalIgnoreCase) && await work.Db.Campaigns.AnyAsync(c => c.Number == number, ct)))
                return Refusal.Conflict("order-number-taken", $"Order {number} exists already. Leave the number out to get the next free one.");
            var order = new WorkOrder
            {
                Number = number,
                PumpId = pump.Id,
                PositionId = position.Id,
                JobId = job.Id,
                CampaignId = wanted.Campaign,
                NeededBy = wanted.NeededBy,
                PlannedFitOn = wanted.PlannedFitOn,
                WorkClass = wanted.WorkClass,
                Breakdown = wanted.Breakdown,
                MadeAt = work.Now,
                MadeById = work.Actor.Person,
                Kits = kits.Value,
            };
            work.Db.WorkOrders.Add(order);
            await work.Db.SaveChangesAsync(ct);
            work.Audit($"order {number}", $"Drafted {job.Code} for {wanted.Pump}, needed by {wanted.NeededBy:yyyy-MM-dd}.", order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);

    /// <summary>
    /// The pump that stands there, and stays there until the draft is written: a swap waits, and then finds the draft. Null also where a swap
    /// was waited for; the pump that came is there at the second look.
    /// </summary>
    static Task<Pump?> PumpAt(Work work, PositionId position) =>
        work.Db.Pumps.FromSql($"select * from pump where position_id = {position.Value} for share").AsNoTracking().SingleOrDefaultAsync(work.Ct);

    static Refusal? Wrong(NewOrder wanted)
    {
        var errors = new Dictionary<string, string[]>();
        if (string.IsNullOrWhiteSpace(wanted.Pump))
            errors["pump"] = ["Name the pump by its tag."];
        if (string.IsNullOrWhiteSpace(wanted.Job))
            errors["job"] = ["Name the job."];
        if (wanted.WorkClass is < Priority.Lowest or > Priority.Highest)
            errors["workClass"] = ["The work class is a whole number from 1 to 10, 10 the most pressing."];
        if (wanted.NeededBy.Year is < 2000 or > 2199)
            errors["neededBy"] = ["The needed-by date lies outside 2000 to 2199."];
        if (wanted.PlannedFitOn is { Year: < 2000 or > 2199 })
            errors["plannedFitOn"] = ["The planned fit date lies outside 2000 to 2199."];
        if (wanted.Number is { } number && (number.Length is 0 or > WorkOrder.NumberMaxLength || !number.All(IsNumberCharacter) || !number.Any(char.IsAsciiLetterOrDigit)))
            errors["number"] = [$"A number has 1 to {WorkOrder.NumberMaxLength} letters, digits, '-', '.' or '/', at least one of them a letter or digit."];
        foreach (var kit in wanted.Kits ?? [])
            if (kit.Quantity is < 1 or > MostKits || kit.Quantity != decimal.Truncate(kit.Quantity))
                errors["kits"] = [$"The quantity of kit {kit.Kit} must be a whole number from 1 to 9,999."];
        if (wanted.Kits is { } list && list.Select(k => k.Kit).Distinct().Count() != list.Count)
            errors["kits"] = ["Each kit may stand in the list once; add the quantities up."];
        return errors.Count == 0 ? null : Refusal.Invalid("order-values", string.Join(" ", errors.Values.SelectMany(e => e))) with { Errors = errors };
    }

    static bool IsNumberCharacter(char c) => char.IsAsciiLetterOrDigit(c) || c is '-' or '.' or '/';

    static async Task<Outcome<List<OrderKit>>> KitsOf(Work work, NewOrder wanted, Rules.Procedures.Job job)
    {
        if (wanted.Kits is not { } asked)
            return job.Kits.Select(k => new OrderKit { KitPartId = k.KitPartId, Quantity = k.Quantity }).ToList();
        var numbers = asked.Select(k => k.Kit).ToList();
        var current = await (from part in work.Db.Parts
                             join revision in work.Db.KitRevisions on part.Id equals revision.PartId
                             where numbers.Contains(part.Number) && revision.State == RevisionState.Released
                             select new { part.Number, part.Id }).ToDictionaryAsync(p => p.Number, p => p.Id, work.Ct);
        var unknown = numbers.Where(n => !current.ContainsKey(n)).ToList();
        return unknown.Count > 0
            ? Refusal.Field("kits", "kit-unknown", $"No current revision of kit {string.Join(", ", unknown)}. Release one, or choose another kit.")
            : asked.Select(k => new OrderKit { KitPartId = current[k.Kit], Quantity = k.Quantity }).ToList();
    }

    static async Task<string> NextNumber(Work work)
    {
        while (true)
        {
            var next = (await work.Db.Database.SqlQuery<long>($"select nextval('order_number') as \"Value\"").ToListAsync(work.Ct))[0]
                .ToString(System.Globalization.CultureInfo.InvariantCulture);
            if (!await work.Db.WorkOrders.AnyAsync(o => o.Number == next, work.Ct))
                return next;
        }
    }
}
