using KitOrders.Rules;
using KitOrders.Rules.People;

namespace KitOrders.Operations.Stock;

/// <summary>Puts a lot aside: nothing of it may be used. Orders that hold it go short and are served from other lots where they can.</summary>
public sealed class QuarantineLot(Desk desk)
{
    public Task<Outcome<LotAnswer>> Run(Call call, string part, string lot, string reason, CancellationToken ct) =>
        desk.Write<LotAnswer>(call, Roles.Storeroom | Roles.Planner, "quarantine-lot", async work =>
        {
            if (string.IsNullOrWhiteSpace(reason))
                return Refusal.Field("reason", "reason-missing", "Say why the lot may not be used.");
            var found = await LotLife.Locked(work, part, lot);
            if (found.Refusal is { } nowhere)
                return nowhere;
            var (item, batch) = found.Value;
            if (batch.Quarantine is { } already)
                return Refusal.Conflict("lot-quarantined", $"Lot {lot} is in quarantine already: {already}");
            batch.Quarantine = reason.Trim();
            work.Audit($"part {item.Number}, lot {batch.Number}", $"Quarantined: {reason.Trim()}");
            work.Changed($"part:{item.Number}");
            var lost = await LotLife.GiveUpHolds(work, item, batch, _ => true, $"the quarantine of lot {batch.Number}");
            return LotLife.Answer(item, batch, lost, await CoverShortages.Run(work, [item.Id], "another lot"));
        }, ct);
}
