using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Stock;

/// <summary>Lets a lot be used again. One that ages and has no cure date needs one first.</summary>
public sealed class ReleaseQuarantine(Desk desk)
{
    /// <param name="curedOn">The day or quarter, where none is on record yet.</param>
    public Task<Outcome<LotAnswer>> Run(Call call, string part, string lot, string reason, string? curedOn, CancellationToken ct) =>
        desk.Write<LotAnswer>(call, Roles.Storeroom | Roles.Planner, "release-quarantine", async work =>
        {
            if (string.IsNullOrWhiteSpace(reason))
                return Refusal.Field("reason", "reason-missing", "Say why the lot may be used again.");
            var read = ReceiveLot.CuredOn(curedOn, work.Today);
            if (read.Refusal is { } noDate)
                return noDate;
            var found = await LotLife.Locked(work, part, lot);
            if (found.Refusal is { } nowhere)
                return nowhere;
            var (item, batch) = found.Value;
            if (batch.Quarantine is null)
                return Refusal.Conflict("lot-not-quarantined", $"Lot {lot} of {part} is in no quarantine.");
            if (read.Value is { } cured && batch.CuredOn is { } known && cured != known)
                return Refusal.Conflict("lot-cure-date-differs", $"Lot {lot} is on record as cured on {known:yyyy-MM-dd}. Leave the cure date out, or receive under another lot number.");
            var elastomers = await LotLife.Elastomers(work, item.Id);
            if (ShelfLife.NeedsCureDate(elastomers) && batch.CuredOn is null)
            {
                if (read.Value is not { } day)
                    return Refusal.Field("curedOn", "cure-date-missing",
                        $"{string.Join(", ", elastomers.Where(e => e.Ages).Select(e => e.Code))} ages, and lot {lot} has no cure date. Find it on the label or ask the supplier; without it the lot stays aside.");
                batch.CuredOn = day;
                batch.ExpiresOn = ShelfLife.ExpiresOn(day, elastomers) ?? Lot.NoExpiry;
            }
            batch.Quarantine = null;
            work.Audit($"part {item.Number}, lot {batch.Number}", $"Released from quarantine: {reason.Trim()}");
            work.Changed($"part:{item.Number}");
            return LotLife.Answer(item, batch, [], await CoverShortages.Run(work, [item.Id], $"the release of lot {batch.Number}"));
        }, ct);
}
